//! What is said while a batch runs: a bar on a terminal, lines elsewhere, one JSON object a
//! line for scripts.

use super::super::{Failure, print, terminal};
use super::done::Done;
use crate::batch::{Status, Summary, Table, Tally, said};
use crate::diagnostic::{
    self, Finding, FindingRecord, RuleId, Severity, Sources, Style, counted,
};
use crate::paginate::Scaling;
use crate::words::Wording;
use clap::ValueEnum;
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};
use std::io::{IsTerminal, Write};
use std::path::Path;

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Format {
    Text,
    Json,
}

/// Findings that are remembered as shown.
const REMEMBERED: usize = 1_000;
/// How often findings of a rule at a column are shown over their rows, notes and others: the
/// same slip in every row is told in a line each after that.
const NOTES_IN_FULL: usize = 1;
const IN_FULL: usize = 3;

pub(super) struct Teller {
    format: Format,
    quiet: bool,
    /// Hidden where it is of no use.
    pub(super) bar: ProgressBar,
    shown: BTreeSet<(RuleId, String, usize, [String; 2])>,
    /// How often findings of a rule at a column were shown over their rows.
    in_full: BTreeMap<(RuleId, String), usize>,
}

/// One line for scripts.
#[derive(Serialize)]
#[serde(tag = "event", rename_all = "kebab-case")]
pub(super) enum Event<'a> {
    /// Nothing is drawn, because of these.
    Refused { findings: Vec<FindingRecord<'a>> },
    /// The first line.
    Start { orders: usize, folder: String },
    /// What became of an order.
    Order {
        row: usize,
        line: usize,
        order: &'a str,
        status: Status,
        /// Whether the drawing was there already.
        kept: bool,
        file: &'a str,
        #[serde(skip_serializing_if = "Option::is_none")]
        page: Option<usize>,
        #[serde(skip_serializing_if = "Option::is_none")]
        sheets: Option<usize>,
        print: &'a str,
        title: &'a str,
        wearer: &'a str,
        findings: Vec<Keyed<'a>>,
    },
    /// The cutting plan.
    Plan {
        pieces: usize,
        strips: usize,
        lacking: usize,
        findings: Vec<FindingRecord<'a>>,
    },
    /// The last line.
    End {
        #[serde(flatten)]
        counts: &'a Counts,
        hardware: Vec<Sort>,
        files: Vec<String>,
    },
}

/// A finding with the column that it is about.
#[derive(Serialize)]
pub(super) struct Keyed<'a> {
    #[serde(skip_serializing_if = "Option::is_none")]
    key: Option<&'a str>,
    #[serde(flatten)]
    row: FindingRecord<'a>,
}

/// A sort of hardware.
#[derive(Serialize)]
pub(super) struct Sort {
    kind: &'static str,
    count: usize,
    words: String,
}

/// How many orders ended how.
#[derive(Clone, Debug, Default, Serialize)]
pub(super) struct Counts {
    pub(super) orders: usize,
    pub(super) drawn: usize,
    /// Of those that are drawn, the ones that were there already.
    pub(super) kept: usize,
    pub(super) refused: usize,
    pub(super) in_the_way: usize,
    pub(super) failed: usize,
    pub(super) sheets: usize,
}

impl Counts {
    pub(super) fn add(&mut self, summary: &Summary, kept: bool) {
        self.orders += 1;
        match summary.status {
            Status::Drawn => {
                self.drawn += 1;
                self.kept += usize::from(kept);
                self.sheets += summary.sheets.unwrap_or(0);
            }
            Status::Refused => self.refused += 1,
            Status::InTheWay => self.in_the_way += 1,
            Status::Failed => self.failed += 1,
        }
    }
}

impl Teller {
    pub(super) fn new(format: Format, quiet: bool) -> Self {
        let bar = ProgressBar::with_draw_target(None, ProgressDrawTarget::hidden());
        let (shown, in_full) = Default::default();
        Self { format, quiet, bar, shown, in_full }
    }

    /// Says what keeps the whole day from being drawn.
    pub(super) fn refuse(
        &self,
        findings: &[Finding],
        sources: &Sources,
    ) -> Result<(), Failure> {
        match self.format {
            Format::Text => terminal::show(findings, sources),
            Format::Json => {
                event(&Event::Refused {
                    findings: diagnostic::records(findings, sources),
                })?;
            }
        }
        Ok(())
    }

    /// Begins a day of so many orders.
    pub(super) fn start(&mut self, orders: usize, folder: &Path) -> Result<(), Failure> {
        if self.format == Format::Json {
            return event(&Event::Start { orders, folder: folder.display().to_string() });
        }
        if !self.quiet && std::io::stderr().is_terminal() {
            self.bar.set_length(orders as u64);
            let style = ProgressStyle::with_template("[{bar:40}] {pos} of {len} orders");
            self.bar.set_style(
                style
                    .unwrap_or_else(|_| ProgressStyle::default_bar())
                    .progress_chars("=> "),
            );
            self.bar.set_draw_target(ProgressDrawTarget::stderr());
        }
        Ok(())
    }

    /// Says what became of an order, what all orders share once.
    pub(super) fn order(&mut self, done: &Done, table: &Table) -> Result<(), Failure> {
        let Done { order, summary, findings, kept, .. } = done;
        if self.format == Format::Json {
            let rows = diagnostic::records(findings, &order.sources).into_iter();
            let keys = findings.iter().map(|f| order.key_of(f, table));
            return event(&Event::Order {
                row: summary.row,
                line: summary.line,
                order: &summary.order,
                status: summary.status,
                kept: *kept,
                file: &summary.file,
                page: summary.page,
                sheets: summary.sheets,
                print: &summary.print,
                title: &summary.title,
                wearer: &summary.wearer,
                findings: rows.zip(keys).map(|(row, key)| Keyed { key, row }).collect(),
            });
        }
        let (mut new, mut brief) = (Vec::new(), Vec::new());
        for finding in findings {
            if self.quiet && finding.severity != Severity::Error {
                continue;
            }
            let key = order.key_of(finding, table);
            let whole = if order.is_own(finding) {
                self.is_rare(finding, key)
            } else {
                self.is_new(finding, &order.sources)
            };
            if whole {
                new.push(finding.clone());
            } else if order.is_own(finding) {
                brief.push(said(finding, key));
            } else if finding.severity == Severity::Error {
                let key = key.map_or_else(String::new, |key| format!(" ({key})"));
                brief.push(format!("error {}{key}, as above", finding.rule));
            }
        }
        let is_bad = summary.status != Status::Drawn;
        let is_hidden = self.bar.is_hidden();
        let is_silent = new.is_empty() && brief.is_empty();
        if is_silent && !is_bad && (self.quiet || !is_hidden) {
            return Ok(());
        }
        self.bar.suspend(|| {
            let text = diagnostic::text(&new, &order.sources, Style::Coloured);
            let _ = write!(anstream::stderr(), "{text}");
            terminal::say(&line(summary, *kept));
            for finding in brief {
                terminal::say(&format!("  line {}: {finding}", summary.line));
            }
        });
        Ok(())
    }

    /// Whether findings like this one, about the same column, were seldom shown yet.
    fn is_rare(&mut self, finding: &Finding, key: Option<&str>) -> bool {
        let most =
            if finding.severity == Severity::Note { NOTES_IN_FULL } else { IN_FULL };
        let key = (finding.rule, key.unwrap_or(&finding.message).to_owned());
        if self.in_full.len() >= REMEMBERED && !self.in_full.contains_key(&key) {
            return false;
        }
        let shown = self.in_full.entry(key).or_default();
        *shown += 1;
        *shown <= most
    }

    fn is_new(&mut self, finding: &Finding, sources: &Sources) -> bool {
        let span = finding.span.as_ref();
        let source = span.and_then(|p| sources.get(p.source));
        let called = source.map(diagnostic::Source::called).unwrap_or_default();
        let at = span.map_or(0, |p| p.range.start);
        let key = (
            finding.rule,
            called,
            at,
            [&finding.message, &finding.found].map(Clone::clone),
        );
        if self.shown.len() >= REMEMBERED {
            return !self.shown.contains(&key);
        }
        self.shown.insert(key)
    }

    /// Says something about the whole day; nothing when it is to be quiet.
    pub(super) fn say(&self, text: &str) {
        if self.format == Format::Text && !self.quiet {
            self.bar.suspend(|| terminal::say(text));
        }
    }

    /// How to print, and the usual cautions.
    pub(super) fn caution(&self, scaling: Option<&Scaling>) {
        if self.format == Format::Text && !self.quiet {
            self.bar.suspend(|| print::caution(scaling));
        }
    }

    /// Says what the cutting plan comes to.
    pub(super) fn plan(
        &self,
        [pieces, strips, lacking]: [usize; 3],
        findings: &[Finding],
        sources: &Sources,
    ) -> Result<(), Failure> {
        match self.format {
            Format::Json => {
                let findings = diagnostic::records(findings, sources);
                event(&Event::Plan { pieces, strips, lacking, findings })
            }
            Format::Text => {
                self.bar.suspend(|| terminal::show(findings, sources));
                Ok(())
            }
        }
    }

    /// The last line for scripts.
    pub(super) fn end(
        &self,
        counts: &Counts,
        tally: &Tally,
        wording: Wording,
        files: Vec<String>,
    ) -> Result<(), Failure> {
        if self.format == Format::Text {
            return Ok(());
        }
        let sort = |(sort, count): (crate::ticket::Hardware, usize)| Sort {
            kind: sort.kind(),
            count,
            words: sort.words(count, wording),
        };
        event(&Event::End { counts, hardware: tally.counts().map(sort).collect(), files })
    }
}

fn event(event: &Event<'_>) -> Result<(), Failure> {
    let line = serde_json::to_string(event)
        .map_err(|e| Failure::Machine(format!("no JSON: {e}")))?;
    terminal::put((line + "\n").as_bytes())
}

/// What became of an order, in a line.
fn line(summary: &Summary, kept: bool) -> String {
    let [errors, warnings, notes] = summary.counts;
    let found = [(errors, "error"), (warnings, "warning"), (notes, "note")];
    let found =
        found.into_iter().filter(|(n, _)| *n > 0).map(|(n, what)| counted(n, what));
    let mut parts = vec![match summary.status {
        Status::Drawn => {
            let sheets = counted(summary.sheets.unwrap_or(0), "sheet");
            let there = if kept { ", there already" } else { "" };
            format!("{sheets}, print {}{there}", summary.print)
        }
        Status::Refused => "not drawn".to_owned(),
        Status::InTheWay => "not written: another file is in its place".to_owned(),
        Status::Failed => "not drawn: a mistake of the program".to_owned(),
    }];
    parts.extend(found);
    let called = if summary.status == Status::Drawn && summary.page.is_none() {
        summary.file.clone()
    } else if summary.order.is_empty() {
        format!("row {}", summary.row)
    } else {
        // On one line, however it is written.
        let shown = summary.order.chars().take(60);
        shown.map(|c| if c.is_control() { ' ' } else { c }).collect()
    };
    format!("{called}: {}", parts.join(", "))
}
