//! `verify`: a PDF read back and held against its job.

use super::check::Format;
use super::loader::TemplateArgs;
use super::onto::Onto;
use super::prepare::{Size, Source, source};
use super::ready::{Ready, Spoken, Stop, stock_saying};
use super::{Failure, JobArgs, Outcome, files, nested, terminal};
use crate::diagnostic::{self, Finding, FindingRecord, Sources, Style, forbids_print};
use crate::export::pdf::PrintMetadata;
use crate::fit::MeasurementUncertainty;
use crate::layout::{Layout, NestedSize};
use crate::paginate::{Paper, PrintSettings, SheetSet};
use crate::printer::Printer;
use crate::verify::{
    FoundMark, PagesSay, Print, Report, pages_say, rule, verify_alone, verify_print,
};
use crate::words::{Language, Units, Wording};
use clap::Args;
use serde::Serialize;
use std::ffi::OsString;
use std::fmt::Write as _;

#[derive(Args, Debug)]
#[command(override_usage = "strapwright verify [OPTIONS] <PDF>... [JOB]")]
#[command(after_help = "\
verify draws the print again that the files say they are, and looks at each page as a
printer would draw it: every line must have ink at its place, and there must be no other
ink. Several PDFs are one set: sheets that were kept and sheets that were printed anew.
Places are in mm on the flat strap: x from the middle of the bend toward the tip, y from
the centre line. Without a JOB it only holds the sheets against themselves.")]
pub(super) struct Verify {
    /// The PDFs, then the job that they were drawn from (TOML); `-` reads a PDF from standard
    /// input
    #[arg(value_name = "PDF", required = true)]
    files: Vec<OsString>,
    /// Change one value of the job, as when it was drawn; can be given again
    #[arg(long = "set", value_name = "KEY=VALUE")]
    sets: Vec<String>,
    /// The stock size that was drawn [default: what the PDF says]
    #[arg(long, value_name = "SIZE")]
    size: Option<String>,
    #[command(flatten)]
    loader: TemplateArgs,
    /// The PDF was drawn with --nested: every stock size on one strap
    #[arg(long, conflicts_with = "size")]
    nested: bool,
    /// The sheets that should be there, such as 2,5 [default: all of the print]
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

impl Verify {
    /// The PDFs and the job. All but the first are PDFs if their names say so; one other is
    /// the job.
    fn split(&self) -> Result<(Vec<&OsString>, Option<&OsString>), Failure> {
        let (first, rest) =
            self.files.split_first().map_or((None, &[][..]), |(f, r)| (Some(f), r));
        let is_pdf =
            |name: &&OsString| name.to_string_lossy().to_lowercase().ends_with(".pdf");
        let (more, jobs): (Vec<&OsString>, Vec<&OsString>) =
            rest.iter().partition(is_pdf);
        let pdfs: Vec<&OsString> = first.into_iter().chain(more).collect();
        let job = match jobs.as_slice() {
            [] => None,
            [job] => Some(*job),
            [_, other, ..] => {
                return Err(Failure::Usage(format!(
                    "give one JOB; `{}` is another, and no name of a PDF",
                    other.to_string_lossy()
                )));
            }
        };
        let standard = pdfs.iter().copied().chain(job).filter(|name| *name == "-");
        if standard.count() > 1 {
            let both = "only one of the files can come from standard input";
            return Err(Failure::Usage(both.to_owned()));
        }
        let needs_job = !self.sets.is_empty() || self.size.is_some() || self.nested;
        if job.is_none() && needs_job {
            let why = "--set, --size and --nested are about a JOB: give it after the PDF";
            return Err(Failure::Usage(why.to_owned()));
        }
        Ok((pdfs, job))
    }
}

pub(super) fn run(args: &Verify) -> Result<Outcome, Failure> {
    let (pdfs, job) = args.split()?;
    let read: Vec<(String, Vec<u8>)> = pdfs
        .into_iter()
        .map(|name| files::bytes(name, files::LARGEST_DRAWING))
        .collect::<Result<_, _>>()?;
    let named: Vec<(&str, &[u8])> =
        read.iter().map(|(name, bytes)| (name.as_str(), bytes.as_slice())).collect();
    let unread = |why| Failure::Machine(format!("cannot read {why}"));
    let (report, sources) = match job {
        None => (verify_alone(&named).map_err(unread)?, Sources::default()),
        Some(job) => match against_job(args, job, &named) {
            Ok(held) => held,
            Err(Stop::Forbidden) => {
                terminal::say(
                    "the job cannot be laid out, so the PDF cannot be compared with it",
                );
                return Ok(Outcome::Forbidden);
            }
            Err(Stop::Failed(failure)) => return Err(failure),
        },
    };
    let text = match args.format {
        Format::Json => json(&report, &sources),
        Format::Text => text(&report, &sources),
    };
    terminal::put(text.as_bytes())?;
    let forbidden = forbids_print(&report.findings);
    Ok(if forbidden { Outcome::Forbidden } else { Outcome::Done })
}

/// Draws the print again that the files say they are, and holds them against it.
fn against_job(
    args: &Verify,
    job: &OsString,
    named: &[(&str, &[u8])],
) -> Result<(Report, Sources), Stop> {
    for (name, bytes) in named {
        crate::verify::opens(bytes)
            .map_err(|why| Failure::Machine(format!("cannot read {name}: {why}")))?;
    }
    // A reprint knows the sheets that were kept, and not the other way.
    let known: Vec<PrintMetadata> =
        named.iter().filter_map(|(_, bytes)| PrintMetadata::read(bytes).ok()).collect();
    let reprint = known.iter().find(|m| !m.reused.is_empty());
    let known = reprint.or(known.first()).cloned();
    let size = args.size.clone().or_else(|| {
        let size = known.as_ref().map(|m| m.size.clone()).unwrap_or_default();
        Some(size).filter(|size| !size.is_empty() && !args.nested)
    });
    let (job, sets) = (Some(job.clone()), args.sets.clone());
    let source = source(&JobArgs { job, sets, size: None, loader: args.loader.clone() })?;
    let drawn = match &known {
        Some(metadata) => {
            let onto = settings(&metadata.settings, &metadata.paper)?;
            let bare = metadata.bare();
            draw(&source, size.as_deref(), args.nested, &onto, Some(&bare))?
        }
        None => guess(args, &source, size.as_deref(), named)?,
    };
    let print = Print { set: &drawn.set, layout: &drawn.layout, rows: &drawn.rows };
    let mut report = verify_print(named, &print, &args.sheets)
        .map_err(|why| Failure::Machine(format!("cannot read {why}")))?;
    if known.is_none() {
        report.findings.push(lost());
    }
    Ok((report, drawn.sources))
}

/// The print that files without metadata show: by the size of their pages and the name of
/// the print, in any language and unit.
fn guess(
    args: &Verify,
    source: &Source,
    size: Option<&str>,
    named: &[(&str, &[u8])],
) -> Result<Drawn, Stop> {
    let PagesSay { prints, size: [width, height] } = pages_say(named);
    let Some(paper) = Paper::of_size(width, height) else {
        let size = format!("no paper is {width:.1} × {height:.1} mm");
        return Err(Stop::Failed(Failure::Machine(size)));
    };
    let mut first = None;
    for language in Language::ALL {
        for (_, units) in Units::NAMES {
            let (printer, measuring) = (None, MeasurementUncertainty::default());
            let wording = Wording { language, units };
            let onto = Onto { paper: paper.clone(), printer, measuring, wording };
            let drawn = draw(source, size, args.nested, &onto, None)?;
            if prints.contains(&drawn.set.fingerprint) {
                return Ok(drawn);
            }
            first.get_or_insert(drawn);
        }
    }
    // Any of them shows the same lines.
    first.ok_or(Stop::Forbidden)
}

/// What is said of files that lost what they say of themselves.
fn lost() -> Finding {
    Finding::warning(
        rule::METADATA_LOST,
        "the file does not say how it was drawn",
    )
    .expected("no document information of `strapwright draw`", "it")
    .remedy("another program saved it anew; print the file that draw wrote if you have it")
}

/// A print that was drawn again.
struct Drawn {
    set: SheetSet,
    layout: Layout,
    rows: Vec<NestedSize>,
    sources: Sources,
}

fn draw(
    source: &Source,
    size: Option<&str>,
    nested: bool,
    onto: &Onto,
    bare: Option<&SheetSet>,
) -> Result<Drawn, Stop> {
    if nested {
        let sizes = stock_saying(source, onto.wording, Spoken::quiet())?;
        let (set, nest) = nested::sheets(&sizes, onto, true, false)?;
        let sources = sizes.into_iter().next().map(|s| s.sources).unwrap_or_default();
        return Ok(Drawn { set, layout: nest.layout, rows: nest.rows, sources });
    }
    let size = size.map(|word| Size { word, said: "--size" });
    let ready = Ready::new(source, size, onto.wording, &mut Spoken::quiet())?;
    let ticket = crate::ticket::ticket(&ready.input());
    let request = ready.request(&ready.heading, onto);
    let request = crate::paginate::Request { ticket: Some(&ticket), ..request };
    let set = match bare {
        // Joins lie where the file has them.
        Some(bare) => ready.sheets(&request.reusing(bare))?,
        None => ready.sheets(&request)?,
    };
    let Ready { laid: (_, _, layout), sources, .. } = ready;
    Ok(Drawn { set, layout, rows: Vec::new(), sources })
}

/// What a print of these settings goes onto.
fn settings(settings: &PrintSettings, paper: &str) -> Result<Onto, Stop> {
    let paper = Paper::parse(paper).map_err(Failure::Usage)?;
    let printer = settings.printer.clone().map(|correction| Printer {
        paper: paper.name().to_owned(),
        correction,
        skew: None,
    });
    let (measuring, wording) = (settings.measuring, settings.wording);
    Ok(Onto { paper, printer, measuring, wording })
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
