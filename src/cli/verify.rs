//! `verify`: looks at PDFs as a printer would draw them, and compares them with their job.

use super::complete::sizes;
use super::job_source::{JobSource, Size};
use super::laid_out::{LaidOutJob, ShownFindings, StockSizes};
use super::terminal::{self, OutputFormat};
use super::workshop::WorkshopArgs;
use super::{Failure, Result, check_allowed, explain_forbidden, files, reprint};
use crate::diagnostic::{self, Finding, Sources, shown_path};
use crate::fit::MeasurementUncertainty;
use crate::layout::Layout;
use crate::paginate::{Heading, Paper, PrintSettings, Request, SheetSet};
use crate::print::{self, PrintSetup};
use crate::printer::Printer;
use crate::ticket::{Table, write_table};
use crate::verify::{
    FoundMark, PagesSay, Print, Report, Unreadable, pages_say, rule, verify_alone,
    verify_print,
};
use crate::words::{Language, Units, Wording};
use clap::{Args, ValueHint};
use clap_complete::engine::ArgValueCandidates;
use serde_json::json;
use std::ffi::OsString;
use std::fmt::Write as _;
use std::path::Path;

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
    #[arg(value_name = "PDF", required = true, value_hint = ValueHint::FilePath)]
    files: Vec<OsString>,
    /// Change one value of the job, as when it was drawn; can be given again
    #[arg(long = "set", value_name = "KEY=VALUE")]
    sets: Vec<String>,
    /// The stock size that was drawn [default: what the PDF says]
    #[arg(long, value_name = "SIZE", add = ArgValueCandidates::new(sizes))]
    size: Option<String>,
    #[command(flatten)]
    workshop: WorkshopArgs,
    /// The PDF was drawn with --nested: every stock size on one strap
    #[arg(long, conflicts_with = "size")]
    nested: bool,
    /// The sheets that should be there, such as 2,5 [default: all of the print]
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

impl Verify {
    /// The PDFs and the job. All but the first are PDFs if their names say so; one other is
    /// the job.
    ///
    /// # Errors
    /// When more than one is neither, or standard input is named twice.
    fn split(&self) -> Result<(Vec<&OsString>, Option<&OsString>)> {
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
                    shown_path(Path::new(other))
                )));
            }
        };
        files::check_one_stdin(pdfs.iter().copied().chain(job))?;
        let needs_job = !self.sets.is_empty() || self.size.is_some() || self.nested;
        if job.is_none() && needs_job {
            let why = "--set, --size and --nested are about a JOB: give it after the PDF";
            return Err(Failure::Usage(why.to_owned()));
        }
        Ok((pdfs, job))
    }
}

pub(super) fn run(args: &Verify) -> Result {
    let (pdfs, job) = args.split()?;
    let read = |name: &OsString| files::read_bytes(name, files::MAX_PDF);
    let read: Vec<(String, Vec<u8>)> =
        pdfs.into_iter().map(read).collect::<Result<_>>()?;
    let named: Vec<(&str, &[u8])> =
        read.iter().map(|(name, bytes)| (name.as_str(), bytes.as_slice())).collect();
    let (report, sources) = match job {
        None => {
            (verify_alone(&named).map_err(|why| unreadable(&why))?, Sources::default())
        }
        Some(job) => compare(args, job, &named)?,
    };
    match args.format {
        OutputFormat::Json => terminal::write_json(&to_json(&report, &sources))?,
        OutputFormat::Text => {
            terminal::write_findings(&report.findings, &sources)?;
            terminal::write_text(to_text(&report, job.is_none()))?;
        }
    }
    check_allowed(&report.findings)
}

fn unreadable(why: &Unreadable) -> Failure {
    Failure::System(format!("cannot read {why}"))
}

/// Draws the print again that the files say they are, and compares them with it.
fn compare(
    args: &Verify,
    job: &OsString,
    named: &[(&str, &[u8])],
) -> Result<(Report, Sources)> {
    let source = JobSource::read(Some(job), &args.sets, &args.workshop)?;
    let consequence = "the job cannot be laid out, so the PDF cannot be compared with it";
    explain_forbidden(check_job(args, &source), consequence)?;
    // A reprint knows the sheets that were kept, and not the other way.
    let known: Vec<SheetSet> =
        named.iter().filter_map(|(_, bytes)| print::read(bytes).ok()).collect();
    let reprint = known.iter().find(|set| !set.reused.is_empty());
    let known = reprint.or(known.first());
    let drawn = match known {
        Some(known) => draw_known(args, &source, known),
        None => guess(args, &source, named),
    };
    let drawn = explain_forbidden(drawn, consequence)?;
    let print = Print { set: &drawn.set, layout: &drawn.layout };
    let mut asked = args.sheets.clone();
    if let (Some(known), true) = (known, asked.is_empty()) {
        // The sheets that a reprint goes with may be in an earlier file, or only on the bench.
        let kept = |number: &usize| known.reused.iter().any(|r| r.sheet == *number);
        let numbers = drawn.set.sheets.iter().map(|s| s.number);
        asked = numbers.filter(|number| !kept(number)).collect();
    }
    let mut report =
        verify_print(named, &print, &asked).map_err(|why| unreadable(&why))?;
    // What explains the other findings comes before them.
    match known {
        None => report.findings.insert(0, metadata_lost()),
        Some(known) if known.fingerprint != drawn.set.fingerprint => {
            report.findings.insert(0, other_print(known, &drawn.set));
        }
        Some(_) => {}
    }
    Ok((report, drawn.sources))
}

/// Shows what forbids to lay out the job, before any PDF is looked at.
fn check_job(args: &Verify, source: &JobSource) -> Result {
    let mut shown = ShownFindings::errors_only();
    if args.nested {
        return StockSizes::new(source, Wording::default(), shown).map(drop);
    }
    let size = args.size.as_deref().map(Size::from_option);
    LaidOutJob::new(source, size, Wording::default(), &mut shown).map(drop)
}

/// The print that files without metadata show: by the size of their pages and the name of
/// the print, in any language and unit.
fn guess(args: &Verify, source: &JobSource, named: &[(&str, &[u8])]) -> Result<Drawn> {
    let pages = pages_say(named).map_err(|why| unreadable(&why))?;
    let PagesSay { prints, size: [width, height] } = pages;
    let Some(paper) = Paper::of_size(width, height) else {
        return Err(Failure::System(format!(
            "the files do not say how they were drawn, and no paper has the size of their              pages, {width:.1} × {height:.1} mm: give the file that draw wrote"
        )));
    };
    let mut first = None;
    for language in Language::ALL {
        for (_, units) in Units::NAMES {
            let (printer, measuring) = (None, MeasurementUncertainty::default());
            let wording = Wording { language, units };
            let setup = PrintSetup { paper: paper.clone(), printer, measuring, wording };
            let drawn = draw(args, source, args.size.as_deref(), &setup, None)?;
            if prints.contains(&drawn.set.fingerprint) {
                return Ok(drawn);
            }
            first.get_or_insert(drawn);
        }
    }
    // Any of them shows the same lines.
    first.ok_or(Failure::Forbidden)
}

/// What is said of a file whose name of the print is another than that of the job.
fn other_print(file: &SheetSet, job: &SheetSet) -> Finding {
    let printer = |settings: &PrintSettings| match settings.printer_words() {
        words if words.is_empty() => String::new(),
        words => format!(", for printer {words}"),
    };
    Finding::warning(rule::OTHER_JOB, "the job gives another print than this file is of")
        .expected(
            format!("print {}{}", file.fingerprint, printer(&file.settings)),
            format!("print {}{}", job.fingerprint, printer(&job.settings)),
        )
        .remedy("give the job, --size or --nested, and each --set as when it was drawn")
}

/// What is said of files that lost what they say of themselves.
fn metadata_lost() -> Finding {
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
    sources: Sources,
    /// Whether its job has stock sizes.
    has_sizes: bool,
}

/// Draws the print again that a file says it is.
fn draw_known(args: &Verify, source: &JobSource, known: &SheetSet) -> Result<Drawn> {
    let setup = setup_of(&known.settings, &known.paper);
    let own = Some(known.size.as_str()).filter(|size| !size.is_empty());
    let size = args.size.as_deref().or(own);
    let drawn = draw(args, source, size, &setup, Some(known))?;
    let is_one_size = drawn.set.fingerprint == known.fingerprint || size.is_some();
    if is_one_size || args.nested || !drawn.has_sizes {
        return Ok(drawn);
    }
    Ok(draw_common(source, &setup, known)?.unwrap_or(drawn))
}

/// Draws the sheets again that several stock sizes share, if that is what a file says it is.
fn draw_common(
    source: &JobSource,
    setup: &PrintSetup,
    known: &SheetSet,
) -> Result<Option<Drawn>> {
    let shown = ShownFindings::errors_only();
    let StockSizes(mut sizes) = StockSizes::new(source, setup.wording, shown)?;
    for group in reprint::groups(&sizes, setup)? {
        let others = sizes.split_off(group.sets.len());
        let set = reprint::common_print(&sizes, &group, setup)?;
        if set.fingerprint == known.fingerprint {
            let LaidOutJob { laid: (_, _, layout), sources, .. } = sizes.swap_remove(0);
            return Ok(Some(Drawn { set, layout, sources, has_sizes: true }));
        }
        sizes = others;
    }
    Ok(None)
}

/// Draws the print of a job again; its joins lie where its file has them.
fn draw(
    args: &Verify,
    source: &JobSource,
    size: Option<&str>,
    setup: &PrintSetup,
    known: Option<&SheetSet>,
) -> Result<Drawn> {
    let shown = ShownFindings::errors_only();
    if args.nested {
        let mut sizes = StockSizes::new(source, setup.wording, shown)?;
        let nest = sizes.nest()?;
        let set = sizes.paginate_nested(&nest, setup, true)?;
        let sources = sizes.0.swap_remove(0).sources;
        return Ok(Drawn { set, layout: nest.layout, sources, has_sizes: true });
    }
    let size = size.map(Size::from_option);
    let job = LaidOutJob::new(source, size, setup.wording, &mut { shown })?;
    let ticket = job.ticket();
    let reused = known.map(|set| set.reused.clone()).unwrap_or_default();
    let heading = Heading { reused, ..job.heading.clone() };
    let request = setup.request(job.layout(), &heading);
    let request = Request { ticket: Some(&ticket), ..request };
    let set = match known {
        Some(known) => job.paginate(&request.reusing(known))?,
        None => job.paginate(&request)?,
    };
    let LaidOutJob { laid: (job, _, layout), sources, .. } = job;
    Ok(Drawn { set, layout, sources, has_sizes: job.stock.is_some() })
}

/// How a print of these settings is set up.
fn setup_of(settings: &PrintSettings, paper: &Paper) -> PrintSetup {
    let printer = settings.printer.clone().map(|correction| Printer {
        paper: paper.clone(),
        correction,
        readings: Vec::new(),
    });
    let (measuring, wording) = (settings.measuring, settings.wording);
    PrintSetup { paper: paper.clone(), printer, measuring, wording }
}

fn to_text(report: &Report, is_alone: bool) -> String {
    let mut text = String::new();
    if !report.marks.is_empty() {
        write_table(&marks_table(&report.marks), &mut text);
        text.push('\n');
    }
    let print = if report.print.is_empty() { "no print" } else { report.print.as_str() };
    let printer = match report.printer.as_str() {
        "" => String::new(),
        name => format!(" for printer {name}"),
    };
    let _ = writeln!(text, "{print}{printer}: {}", report.summary());
    if is_alone {
        text.push_str(
            "only scale bars and joins were compared; give the job to measure every mark\n",
        );
    }
    text + &diagnostic::summary(&report.findings) + "\n"
}

/// One row for each mark; lengths in mm.
fn marks_table(marks: &[FoundMark]) -> Table {
    let row = |mark: &FoundMark| {
        let FoundMark { piece, feature, label, kind, .. } = mark;
        let kind = if label == kind { "" } else { kind.as_str() };
        let mut name = vec![piece.as_str(), feature.as_str(), label.as_str(), kind];
        name.retain(|word| !word.is_empty());
        let [w, h] = mark.size_mm;
        let is_round = (w - h).abs() < 0.05;
        let size =
            if is_round { format!("Ø {w:.2}") } else { format!("{w:.2} × {h:.2}") };
        let places = mark.found_mm.into_iter().chain(mark.expected_mm);
        [mark.sheet.to_string(), name.join(" "), size]
            .into_iter()
            .chain(places.chain([mark.error_mm]).map(mm))
            .collect()
    };
    let head = ["sheet", "mark", "size", "x", "y", "should be x", "y", "off"];
    Table::new(head, marks.iter().map(row).collect())
}

/// Millimetres to the micrometre, without a `-0.000`.
fn mm(mm: f64) -> String {
    let text = format!("{mm:.3}");
    if text == "-0.000" { "0.000".to_owned() } else { text }
}

/// The report for scripts.
fn to_json(report: &Report, sources: &Sources) -> String {
    let json = json!({
        "print": report.print,
        "printer": report.printer,
        "sheets": report.sheets,
        "ticket_pages": report.ticket_pages,
        "other_pages": report.other_pages,
        "worst_mm": report.worst_mm(),
        "findings": diagnostic::records(&report.findings, sources),
        "marks": report.marks,
    });
    format!("{json:#}\n")
}
