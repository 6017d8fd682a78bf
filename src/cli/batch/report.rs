//! The reports of a running batch: a progress bar on a terminal, lines elsewhere, one JSON
//! object a line for scripts.

use super::super::Result;
use super::super::destination::show_print_advice;
use super::super::terminal::{
    OutputFormat, message, show_coloured, show_findings, write_json,
};
use super::order::OrderResult;
use crate::batch::{HardwareTotals, Order, Status, Summary, Table, finding_line};
use crate::diagnostic::{
    self, Finding, RuleId, Severity, Sources, counted, shown_path, without_nulls,
};
use crate::paginate::Correction;
use crate::words::Wording;
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::io::IsTerminal;
use std::path::Path;

/// The number of findings that are remembered as shown.
const MAX_REMEMBERED: usize = 1_000;
/// How often a rule is shown in full for one column: notes, and other findings. After that,
/// each finding is one line.
const NOTES_IN_FULL: usize = 1;
const OTHERS_IN_FULL: usize = 3;

pub(super) struct Reporter {
    format: OutputFormat,
    quiet: bool,
    /// Hidden unless standard error is a terminal.
    pub(super) bar: ProgressBar,
    /// How often findings of a rule were shown in full: for a column of the table, or at a
    /// place that all orders share.
    shown: BTreeMap<(RuleId, String), usize>,
}

/// How many orders ended in which way.
#[derive(Clone, Debug, Default)]
pub(super) struct Counts {
    pub(super) orders: usize,
    pub(super) drawn: usize,
    /// Those of the drawn ones that existed already.
    pub(super) kept: usize,
    pub(super) refused: usize,
    pub(super) in_the_way: usize,
    pub(super) failed: usize,
    pub(super) sheets: usize,
    /// Those of the drawn ones that leave measures of hardware to their template.
    pub(super) assumed: usize,
}

impl Counts {
    pub(super) fn add(&mut self, summary: &Summary, kept: bool) {
        self.orders += 1;
        match summary.status {
            Status::Drawn => {
                self.drawn += 1;
                self.kept += usize::from(kept);
                self.sheets += summary.sheets.unwrap_or(0);
                self.assumed += usize::from(!summary.assumed.is_empty());
            }
            Status::Refused => self.refused += 1,
            Status::InTheWay => self.in_the_way += 1,
            Status::Failed => self.failed += 1,
        }
    }
}

impl Reporter {
    pub(super) fn new(format: OutputFormat, quiet: bool) -> Self {
        let bar = ProgressBar::with_draw_target(None, ProgressDrawTarget::hidden());
        Self { format, quiet, bar, shown: BTreeMap::new() }
    }

    /// Reports findings that may forbid the whole batch.
    pub(super) fn refuse(&self, findings: &[Finding], sources: &Sources) -> Result {
        match self.format {
            _ if findings.is_empty() => {}
            OutputFormat::Text => show_findings(findings, sources),
            OutputFormat::Json => {
                let findings = diagnostic::records(findings, sources);
                write_event(&json!({ "event": "refused", "findings": findings }))?;
            }
        }
        Ok(())
    }

    /// Reports the start, and shows the progress bar.
    pub(super) fn start(&mut self, orders: usize, folder: &Path) -> Result {
        if self.format == OutputFormat::Json {
            let folder = shown_path(folder);
            let start = json!({ "event": "start", "orders": orders, "folder": folder });
            return write_event(&start);
        }
        if !self.quiet && std::io::stderr().is_terminal() {
            self.bar.set_length(orders as u64);
            let style = ProgressStyle::with_template("[{bar:40}] {pos} of {len} orders")
                .unwrap_or_else(|_| ProgressStyle::default_bar());
            self.bar.set_style(style.progress_chars("=> "));
            self.bar.set_draw_target(ProgressDrawTarget::stderr());
        }
        Ok(())
    }

    /// Reports an order. Findings that all orders share are shown once.
    pub(super) fn order(&mut self, result: &OrderResult, table: &Table) -> Result {
        let OrderResult { order, summary, findings, kept, .. } = result;
        if self.format == OutputFormat::Json {
            return write_event(&order_event(result, table));
        }
        let (mut in_full, mut lines) = (Vec::new(), Vec::new());
        for finding in findings {
            let is_error = finding.severity == Severity::Error;
            if self.quiet && !is_error {
                continue;
            }
            let key = order.column_key(finding, table);
            if self.is_shown_in_full(finding, key, order) {
                in_full.push(finding.clone());
            } else if order.is_about_row(finding) {
                lines.push(finding_line(finding, key));
            } else if is_error {
                let key = key.map_or_else(String::new, |key| format!(" ({key})"));
                lines.push(format!("error {}{key}, as above", finding.rule));
            }
        }
        let has_nothing_to_say =
            in_full.is_empty() && lines.is_empty() && summary.status == Status::Drawn;
        if has_nothing_to_say && (self.quiet || !self.bar.is_hidden()) {
            return Ok(());
        }
        self.bar.suspend(|| {
            show_coloured(&in_full, &order.sources);
            message(&order_line(summary, *kept));
            for line in lines {
                message(&format!("  line {}: {line}", summary.line));
            }
        });
        Ok(())
    }

    /// Counts a finding, and returns whether it is to be shown in full. Of a rule and a column
    /// the first few are; a finding that all orders share is shown once.
    fn is_shown_in_full(
        &mut self,
        finding: &Finding,
        key: Option<&str>,
        order: &Order,
    ) -> bool {
        let Finding { rule, severity, message, found, span, .. } = finding;
        let is_about_row = order.is_about_row(finding);
        let (subject, max) = if is_about_row {
            let is_note = *severity == Severity::Note;
            let max = if is_note { NOTES_IN_FULL } else { OTHERS_IN_FULL };
            (key.unwrap_or(message).to_owned(), max)
        } else {
            let source = span.as_ref().and_then(|span| order.sources.get(span.source));
            let name = source.map(diagnostic::Source::display_name);
            let start = span.as_ref().map(|span| span.range.start);
            (format!("{:?}", (name, start, message, found)), 1)
        };
        let is_full = self.shown.len() >= MAX_REMEMBERED;
        let key = (*rule, subject);
        if is_full && !self.shown.contains_key(&key) {
            return !is_about_row;
        }
        let count = self.shown.entry(key).or_default();
        *count += 1;
        *count <= max
    }

    /// Writes a line about the whole batch, unless the output is JSON or quiet.
    pub(super) fn message(&self, text: &str) {
        self.show(|| message(text));
    }

    /// Says how to print, and how to work safely.
    pub(super) fn print_advice(&self, correction: Option<&Correction>) {
        self.show(|| show_print_advice(correction));
    }

    fn show(&self, show: impl FnOnce()) {
        if self.format == OutputFormat::Text && !self.quiet {
            self.bar.suspend(show);
        }
    }

    /// Reports the cutting plan, with the numbers of its pieces, strips and pieces without a
    /// strip.
    pub(super) fn plan(
        &self,
        [pieces, strips, lacking]: [usize; 3],
        findings: &[Finding],
        sources: &Sources,
    ) -> Result {
        if self.format == OutputFormat::Json {
            let findings = diagnostic::records(findings, sources);
            return write_event(&json!({
                "event": "plan",
                "pieces": pieces,
                "strips": strips,
                "lacking": lacking,
                "findings": findings,
            }));
        }
        self.bar.suspend(|| show_findings(findings, sources));
        Ok(())
    }

    /// Reports the end, for scripts only.
    pub(super) fn end(
        &self,
        counts: &Counts,
        hardware: &HardwareTotals,
        wording: Wording,
        files: &[String],
    ) -> Result {
        if self.format == OutputFormat::Text {
            return Ok(());
        }
        let counted = hardware.iter().map(|(hardware, count)| {
            let words = hardware.words(count, wording);
            json!({ "kind": hardware.kind(), "count": count, "words": words })
        });
        write_event(&json!({
            "event": "end",
            "orders": counts.orders,
            "drawn": counts.drawn,
            "kept": counts.kept,
            "refused": counts.refused,
            "in_the_way": counts.in_the_way,
            "failed": counts.failed,
            "sheets": counts.sheets,
            "assumed": counts.assumed,
            "hardware": counted.collect::<Vec<Value>>(),
            "files": files,
        }))
    }
}

fn write_event(event: &Value) -> Result {
    write_json(&format!("{event}\n"))
}

/// An order for scripts. Each finding has the key of the column that it points at.
fn order_event(result: &OrderResult, table: &Table) -> Value {
    let OrderResult { order, summary, findings, kept, .. } = result;
    let mut records = diagnostic::records(findings, &order.sources);
    for (record, finding) in records.iter_mut().zip(findings) {
        if let Some(key) = order.column_key(finding, table) {
            record["key"] = key.into();
        }
    }
    without_nulls(json!({
        "event": "order",
        "row": summary.row,
        "line": summary.line,
        "order": summary.order,
        "status": summary.status,
        "kept": kept, // the drawing existed already
        "file": summary.file,
        "page": summary.page,
        "sheets": summary.sheets,
        "print": summary.print,
        "title": summary.title,
        "wearer": summary.wearer,
        "findings": records,
    }))
}

/// What became of an order, in one line.
fn order_line(summary: &Summary, kept: bool) -> String {
    let &Summary { errors, warnings, notes, .. } = summary;
    let mut parts = vec![match summary.status {
        Status::Drawn => {
            let sheets = counted(summary.sheets.unwrap_or(0), "sheet");
            let existed = if kept { ", existed already" } else { "" };
            format!("{sheets}, print {}{existed}", summary.print)
        }
        Status::Refused => "not drawn".to_owned(),
        Status::InTheWay => "not written: another file has its name".to_owned(),
        Status::Failed => "not drawn: a mistake of the program".to_owned(),
    }];
    let counts = [(errors, "error"), (warnings, "warning"), (notes, "note")];
    let counts = counts.into_iter().filter(|(n, _)| *n > 0);
    parts.extend(counts.map(|(n, what)| counted(n, what)));
    let name = if summary.status == Status::Drawn && summary.page.is_none() {
        summary.file.clone()
    } else if summary.order.is_empty() {
        format!("row {}", summary.row)
    } else {
        // On one line, whatever characters are in it.
        let start = summary.order.chars().take(60);
        start.map(|c| if c.is_control() { ' ' } else { c }).collect()
    };
    format!("{name}: {}", parts.join(", "))
}
