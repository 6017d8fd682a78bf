//! `verify`: a PDF read back and held against its job.

use super::check::Format;
use super::loader::TemplateArgs;
use super::prepare::{Prepared, Size, source};
use super::ready::{Spoken, Stop, stock_saying};
use super::{Failure, JobArgs, Outcome, files, terminal};
use crate::diagnostic::{self, FindingRecord, Sources, Style, forbids_print};
use crate::layout::{Layout, nest};
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
    loader: TemplateArgs,
    /// The PDF was drawn with --nested: every stock size on one strap
    #[arg(long, requires = "job", conflicts_with = "size")]
    nested: bool,
    /// The sheets that the file should have, such as 2,5 [default: all of the print]
    #[arg(long, value_name = "NUMBERS", value_delimiter = ',', value_parser = sheet)]
    sheets: Vec<usize>,
    /// Text for people, or JSON for scripts
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

fn sheet(text: &str) -> Result<usize, String> {
    let number = text.trim().parse().ok().filter(|n| *n > 0);
    number.ok_or_else(|| {
        "give numbers of sheets, from 1, with commas between them, such as 2,5".to_owned()
    })
}

pub(super) fn run(args: &Verify) -> Result<Outcome, Failure> {
    if args.job.as_deref().is_some_and(|job| job == "-") && args.pdf == "-" {
        let both = "the PDF and the job cannot both come from standard input";
        return Err(Failure::Usage(both.to_owned()));
    }
    let (layout, sources) = match wanted(args) {
        Ok(wanted) => wanted,
        Err(Stop::Forbidden) => {
            terminal::say(
                "the job cannot be laid out, so the PDF cannot be compared with it",
            );
            return Ok(Outcome::Forbidden);
        }
        Err(Stop::Failed(failure)) => return Err(failure),
    };
    let (name, bytes) = files::bytes(&args.pdf, files::LARGEST_DRAWING)?;
    let against = Against { layout: layout.as_ref(), sheets: &args.sheets };
    let report = verify(&bytes, &against)
        .map_err(|why| Failure::Machine(format!("cannot read {name}: {why}")))?;
    let text = match args.format {
        Format::Json => json(&report, &sources),
        Format::Text => text(&report, &sources),
    };
    terminal::put(text.as_bytes())?;
    let forbidden = forbids_print(&report.findings);
    Ok(if forbidden { Outcome::Forbidden } else { Outcome::Done })
}

/// What the file is to show: nothing certain without a job.
fn wanted(args: &Verify) -> Result<(Option<Layout>, Sources), Stop> {
    let Some(job) = &args.job else { return Ok((None, Sources::default())) };
    let (job, sets, size) = (Some(job.clone()), args.sets.clone(), args.size.clone());
    let source = source(&JobArgs { job, sets, size, loader: args.loader.clone() })?;
    if args.nested {
        let mut sizes = stock_saying(&source, Wording::default(), Spoken::quiet())?;
        let layouts: Vec<(&str, &Layout)> =
            sizes.iter().map(|s| (s.label(), &s.laid.2)).collect();
        let nest = nest(&layouts).map_err(|findings| sizes[0].refuse_all(&findings))?;
        return Ok((Some(nest.layout), sizes.swap_remove(0).sources));
    }
    let size = args.size.as_deref().map(Size::option);
    let Prepared { sources, findings, laid, .. } = source.prepare(size);
    let Some((_, _, layout)) = laid else {
        terminal::show(&findings, &sources);
        return Err(Stop::Forbidden);
    };
    Ok((Some(layout), sources))
}

fn text(report: &Report, sources: &Sources) -> String {
    let style = match anstream::AutoStream::choice(&std::io::stdout()) {
        anstream::ColorChoice::Never => Style::Plain,
        _ => Style::Coloured,
    };
    let mut text = diagnostic::text(&report.findings, sources, style);
    if !report.marks.is_empty() {
        text += &table(&report.marks);
    }
    let print = if report.print.is_empty() { "no print" } else { report.print.as_str() };
    let _ = writeln!(text, "{print}: {}", report.summary());
    text + &diagnostic::summary(&report.findings) + "\n"
}

/// One row a mark; lengths in mm.
fn table(marks: &[FoundMark]) -> String {
    let is_held = marks.iter().any(|m| m.expected_mm.is_some());
    let mut rows: Vec<Vec<String>> = vec![if is_held {
        ["sheet", "mark", "size", "x", "y", "should be x", "y", "off"]
            .map(str::to_owned)
            .into()
    } else {
        ["sheet", "mark", "size", "x", "y"].map(str::to_owned).into()
    }];
    for mark in marks {
        let mut words =
            vec![mark.piece.as_str(), mark.feature.as_str(), mark.label.as_str()];
        if mark.label != mark.kind {
            words.push(mark.kind.as_str());
        }
        words.retain(|w| !w.is_empty());
        let [w, h] = mark.size_mm;
        let is_round = (w - h).abs() < 0.05;
        let size =
            if is_round { format!("Ø {w:.2}") } else { format!("{w:.2} × {h:.2}") };
        let mut row = vec![mark.sheet.to_string(), words.join(" "), size];
        row.extend(mark.found_mm.map(mm));
        row.extend(mark.expected_mm.into_iter().flatten().map(mm));
        row.extend(mark.error_mm.map(mm));
        rows.push(row);
    }
    let width = |column: usize| {
        rows.iter()
            .filter_map(|r| r.get(column))
            .map(|c| c.chars().count())
            .max()
            .unwrap_or(0)
    };
    let widths: Vec<usize> = (0..rows[0].len()).map(width).collect();
    let mut text = String::new();
    for row in &rows {
        let mut line = String::new();
        for (column, (cell, width)) in row.iter().zip(&widths).enumerate() {
            // Words to the left, numbers to the right.
            let _ = match column {
                1 | 2 => write!(line, "{cell:<width$}  "),
                _ => write!(line, "{cell:>width$}  "),
            };
        }
        let _ = writeln!(text, "{}", line.trim_end());
    }
    text + "\n"
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

fn json(report: &Report, sources: &Sources) -> String {
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
