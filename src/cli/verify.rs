//! `verify`: reads a PDF back and compares it with its job.

use super::job_source::{JobSource, Size};
use super::laid_out::{ShownFindings, StockSizes};
use super::template_loader::TemplateArgs;
use super::terminal::{self, OutputFormat};
use super::{Failure, Result, check_allowed, explain_forbidden, files};
use crate::Prepared;
use crate::diagnostic::{self, FindingRecord, Sources};
use crate::layout::Layout;
use crate::ticket::{Table, write_table};
use crate::verify::{Against, FoundMark, Report, verify};
use crate::words::Wording;
use clap::Args;
use serde::Serialize;
use std::ffi::OsString;
use std::fmt::Write as _;

#[derive(Args, Debug)]
#[command(after_help = "\
verify uses only what is drawn in the file. It joins the sheets by their crosses and
measures marks, outlines, rulers and the readings beside marks. Places are in mm on the
flat strap: x from the middle of the bend toward the tip, y from the centre line.
Without a JOB it compares the sheets with each other only, and x counts from the left
end.")]
pub(super) struct Verify {
    /// The PDF; `-` reads it from standard input
    pdf: OsString,
    /// The job that it was drawn from (TOML) [default: none]
    job: Option<OsString>,
    /// Change one value of the job, as when it was drawn; can be given again
    #[arg(long = "set", value_name = "KEY=VALUE", requires = "job")]
    sets: Vec<String>,
    /// The stock size that was drawn
    #[arg(long, value_name = "SIZE", requires = "job")]
    size: Option<String>,
    #[command(flatten)]
    templates: TemplateArgs,
    /// The PDF was drawn with --nested: every stock size on one strap
    #[arg(long, requires = "job", conflicts_with = "size")]
    nested: bool,
    /// The sheets that the file should have, such as 2,5 [default: all of the print]
    #[arg(long, value_name = "NUMBERS", value_delimiter = ',', value_parser = sheet_number)]
    sheets: Vec<usize>,
    /// Text for people, or JSON for scripts
    #[arg(long, value_enum, default_value_t = OutputFormat::Text)]
    format: OutputFormat,
}

fn sheet_number(text: &str) -> std::result::Result<usize, String> {
    let number = text.trim().parse().ok().filter(|n| *n > 0);
    number.ok_or_else(|| {
        "give numbers of sheets, from 1, with commas between them, such as 2,5".to_owned()
    })
}

pub(super) fn run(args: &Verify) -> Result {
    files::check_one_stdin(args.job.iter().chain([&args.pdf]))?;
    let mut sources = Sources::default();
    let mut layout = None;
    if let Some(job) = &args.job {
        let source = JobSource::read(Some(job), &args.sets, &args.templates)?;
        let consequence =
            "the job cannot be laid out, so the PDF cannot be compared with it";
        let (expected, texts) =
            explain_forbidden(expected_layout(args, &source), consequence)?;
        (layout, sources) = (Some(expected), texts);
    }
    let (name, bytes) = files::read_bytes(&args.pdf, files::MAX_PDF)?;
    let against = Against { layout: layout.as_ref(), sheets: &args.sheets };
    let report = verify(&bytes, &against)
        .map_err(|why| Failure::System(format!("cannot read {name}: {why}")))?;
    terminal::write_result(match args.format {
        OutputFormat::Json => to_json(&report, &sources),
        OutputFormat::Text => to_text(&report, &sources),
    })?;
    check_allowed(&report.findings)
}

/// The layout that the PDF should show, and the texts of its job. Findings are shown only
/// where it cannot be laid out.
fn expected_layout(args: &Verify, source: &JobSource) -> Result<(Layout, Sources)> {
    if args.nested {
        let shown = ShownFindings::errors_only();
        let mut sizes = StockSizes::new(source, Wording::default(), shown)?;
        return Ok((sizes.nest()?.layout, sizes.0.swap_remove(0).sources));
    }
    let Prepared { sources, findings, laid } =
        source.prepare(args.size.as_deref().map(Size::from_option));
    let Some((_, _, layout)) = laid else {
        terminal::show_findings(&findings, &sources);
        return Err(Failure::Forbidden);
    };
    Ok((layout, sources))
}

fn to_text(report: &Report, sources: &Sources) -> String {
    let style = terminal::stdout_style();
    let mut text = diagnostic::text(&report.findings, sources, style);
    if !report.marks.is_empty() {
        write_table(&marks_table(&report.marks), &mut text);
        text.push('\n');
    }
    let print = if report.print.is_empty() { "no print" } else { report.print.as_str() };
    let _ = writeln!(text, "{print}: {}", report.summary());
    text + &diagnostic::summary(&report.findings) + "\n"
}

/// One row for each mark; lengths in mm. The last columns compare a mark with the job.
fn marks_table(marks: &[FoundMark]) -> Table {
    let is_compared = marks.iter().any(|m| m.expected_mm.is_some());
    let head = ["sheet", "mark", "size", "x", "y", "should be x", "y", "off"];
    let columns = if is_compared { head.len() } else { 5 };
    let row = |mark: &FoundMark| {
        let FoundMark { piece, feature, label, kind, .. } = mark;
        let kind = if label == kind { "" } else { kind.as_str() };
        let mut name = vec![piece.as_str(), feature.as_str(), label.as_str(), kind];
        name.retain(|word| !word.is_empty());
        let [w, h] = mark.size_mm;
        let is_round = (w - h).abs() < 0.05;
        let size =
            if is_round { format!("Ø {w:.2}") } else { format!("{w:.2} × {h:.2}") };
        let expected = mark.expected_mm.into_iter().flatten().chain(mark.error_mm);
        let lengths = mark.found_mm.into_iter().chain(expected).map(mm);
        [mark.sheet.to_string(), name.join(" "), size]
            .into_iter()
            .chain(lengths)
            .collect()
    };
    Table {
        head: head[..columns].iter().map(ToString::to_string).collect(),
        rows: marks.iter().map(row).collect(),
    }
}

/// Millimetres to the micrometre, without a `-0.000`.
fn mm(mm: f64) -> String {
    let text = format!("{mm:.3}");
    if text == "-0.000" { "0.000".to_owned() } else { text }
}

/// The report for scripts.
#[derive(Serialize)]
struct Json<'a> {
    print: &'a str,
    sheets: usize,
    other_pages: usize,
    worst_mm: f64,
    findings: Vec<FindingRecord<'a>>,
    marks: &'a [FoundMark],
}

fn to_json(report: &Report, sources: &Sources) -> String {
    let json = Json {
        print: &report.print,
        sheets: report.sheets,
        other_pages: report.other_pages,
        worst_mm: report.worst_mm(),
        findings: diagnostic::records(&report.findings, sources),
        marks: &report.marks,
    };
    let text = serde_json::to_string_pretty(&json).unwrap_or_else(|e| format!("\"{e}\""));
    text + "\n"
}
