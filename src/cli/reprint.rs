//! `reprint`: another size of the stock, only the sheets that differ from the last print;
//! or all sizes at once, what they have in common once.

use super::destination::{Destination, Output, show_print_advice};
use super::job_source::{JobArgs, JobSource, Size};
use super::laid_out::{LaidOutJob, ShownFindings, StockSizes, served_lines, size_range};
use super::print_setup::{PrintSetupArgs, TicketArgs, check_printer};
use super::terminal::{message, show_findings};
use super::{Failure, Result, explain_forbidden, files};
use crate::diagnostic::{counted, numbered, shown_path};
use crate::export::PDF;
use crate::export::pdf::PrintMetadata;
use crate::layout::Layout;
use crate::paginate::{
    Heading, PrintSettings, PrintedSizes, Request, ReusedSheet, SheetDiff, SheetSet,
    SizeGroup, compare_sheets, group_sizes,
};
use crate::print::PrintSetup;
use crate::verify;
use clap::Args;
use std::path::{Path, PathBuf};

#[derive(Args, Debug)]
#[command(after_help = "\
Every PDF from draw or reprint says in its document information which size it is and
where its joins are. reprint reads the last print from there. For a whole rack:
  strapwright draw rack.toml --size \"34 in\"     all sheets: rack.pdf
  strapwright reprint rack.toml --size \"36 in\"  the sheets to swap: rack-36-in.pdf
  strapwright reprint rack.toml --all           a folder: rack-sizes, with one file for
                                                each size and one for the sheets that
                                                several sizes share")]
pub(super) struct Reprint {
    #[command(flatten)]
    job: JobArgs,
    /// Draw every stock size, into a folder
    #[arg(long, conflicts_with_all = ["size", "against", "after"])]
    all: bool,
    /// The size that was drawn last, if you do not have its PDF
    #[arg(long, value_name = "SIZE", conflicts_with = "after")]
    against: Option<String>,
    /// The PDF that was drawn last [default: the job's name with .pdf, in this folder]
    #[arg(long, value_name = "FILE")]
    after: Option<PathBuf>,
    /// Where to write: a file, or with --all a folder [default: the job's name with the
    /// size and .pdf, or with -sizes, in this folder]
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
    #[command(flatten)]
    setup: PrintSetupArgs,
    #[command(flatten)]
    ticket: TicketArgs,
    /// Replace any files; without it, only earlier prints of this job that nobody changed
    #[arg(long)]
    force: bool,
}

impl Reprint {
    /// A PDF at `path`: no other format says which print it is.
    fn output<'a>(&self, path: Option<&'a Path>) -> Output<'a> {
        Output { path, format: Some(PDF), force: self.force }
    }
}

pub(super) fn run(args: &Reprint) -> Result {
    let source = args.job.read()?;
    let result = match args.job.size() {
        _ if args.all => draw_all(args, &source),
        Some(size) => draw_one(args, &source, size),
        None => Err(Failure::Usage(
            "say which size to draw: --size SIZE, or --all for every size of the stock"
                .to_owned(),
        )),
    };
    explain_forbidden(result, "nothing was drawn")
}

/// The print whose sheets the user has.
struct LastPrint {
    set: SheetSet,
    reused: Vec<ReusedSheet>,
    /// Its size, name and file, for messages.
    name: String,
}

fn draw_one(args: &Reprint, source: &JobSource, size: Size<'_>) -> Result {
    let mut setup = args.setup.read_and_show(&source.workshop)?;
    let mut shown = ShownFindings::default();
    let job = LaidOutJob::new(source, Some(size), setup.wording, &mut shown)?;
    let last = match &args.against {
        Some(against) => draw_last(source, against, &setup)?,
        None => read_last(args, source, &setup)?,
    };
    if args.setup.paper.is_none() {
        setup = setup.on_paper(&last.set.paper).map_err(Failure::Usage)?;
        check_printer(&setup)?;
    }
    let label = job.label();
    let stem = format!("{}-{}", source.stem, file_name_part(label));
    let output = args.output(args.output.as_deref());
    let destination = Destination::new(output, &source.stem, &stem)?;
    let request = setup.request(job.layout(), &job.heading).reusing(&last.set);
    let whole = job.paginate(&request)?;
    show_findings(&whole.findings, &job.sources);
    let diff = compare_sheets(&last.set, &whole);
    if diff.print.is_empty() && diff.remove.is_empty() {
        message(&format!(
            "{} shows size {label} already: there is nothing to print",
            last.name
        ));
        return Ok(());
    }
    let reused = diff.reused(&last.set, &last.reused);
    let heading = Heading { reused, ..job.heading.clone() };
    let ticket = args.ticket.is_wanted(&source.workshop.profile).then(|| job.ticket());
    let request = Request { heading: &heading, ticket: ticket.as_ref(), ..request };
    let mut set = job.paginate(&request)?;
    let sheets = set.sheets.len();
    set.leave_out_all_but(&diff.print);
    let mut lines = served_lines(&job.laid, setup.wording.units);
    lines.push(format!("size {label} after {}:", last.name));
    lines.extend(diff_lines(&diff, &set, sheets));
    destination.write_and_report(&set, job.layout(), &[], &setup, lines)
}

/// Which sheets of the last print to keep, and which to replace.
fn diff_lines(diff: &SheetDiff, set: &SheetSet, sheets: usize) -> Vec<String> {
    let mut lines = Vec::new();
    if diff.keep.is_empty() {
        lines.push("  keep      no sheet: all of them differ".to_owned());
    }
    lines.extend(set.reused.iter().map(|reused| {
        format!("  keep      sheet {} of print {}", reused.sheet, reused.print)
    }));
    let removed = match diff.remove.as_slice() {
        [] => String::new(),
        removed => format!(", in place of {}", sheet_list(removed)),
    };
    lines.push(format!("  swap in   {} of {sheets}{removed}", sheet_list(&diff.print)));
    lines
}

/// The size of `--against`, as `draw` draws it.
fn draw_last(source: &JobSource, label: &str, setup: &PrintSetup) -> Result<LastPrint> {
    let size = Some(Size { label, origin: "--against" });
    let mut shown = ShownFindings::errors_only();
    let job = LaidOutJob::new(source, size, setup.wording, &mut shown)?;
    let set = job.paginate(&setup.request(job.layout(), &job.heading))?;
    let name = format!("size {}, print {}", job.label(), set.fingerprint);
    Ok(LastPrint { set, reused: Vec::new(), name })
}

/// The print in a file. It is drawn again and must get the same name.
fn read_last(
    args: &Reprint,
    source: &JobSource,
    setup: &PrintSetup,
) -> Result<LastPrint> {
    let default = PathBuf::from(format!("{}.pdf", source.stem));
    let path = args.after.as_ref().unwrap_or(&default);
    let shown = shown_path(path);
    if args.after.is_none() && !path.exists() {
        return Err(Failure::Usage(format!(
            "there is no {shown} here that says what was drawn last; give --after FILE for \
             the last print, --against SIZE for its size, or draw the whole size: \
             strapwright draw JOB --size SIZE"
        )));
    }
    let (_, bytes) = files::read_bytes(path.as_os_str(), files::MAX_PDF)?;
    verify::opens(&bytes)
        .map_err(|why| Failure::System(format!("cannot read {shown}: {why}")))?;
    let metadata = PrintMetadata::read(&bytes)
        .map_err(|e| Failure::System(format!("{shown}: {e}")))?;
    let origin = format!("size of {shown}");
    let label = Some(metadata.size.as_str()).filter(|label| !label.is_empty());
    let size = label.map(|label| Size { label, origin: &origin });
    let mut messages = ShownFindings::errors_only();
    let job = LaidOutJob::new(source, size, setup.wording, &mut messages)?;
    let setup = setup.on_paper(&metadata.paper).map_err(Failure::Usage)?;
    let request = setup.request(job.layout(), &job.heading);
    let set = job.paginate(&request.reusing(&metadata.bare()))?;
    let size = label.map_or_else(String::new, |label| format!("size {label}, "));
    let (print, now) = (&metadata.print, &set.fingerprint);
    if now != print {
        let changes = describe_changes(&metadata.settings, &set.settings);
        return Err(Failure::Usage(format!(
            "{shown} is print {print}, but {size}print {now} would be drawn now, so its \
             sheets are of no use:\n  {changes}\nOr draw the whole size again, strapwright \
             draw JOB --size SIZE; or give --against SIZE if you are sure of the size."
        )));
    }
    let name = format!("{size}print {print} ({shown})");
    Ok(LastPrint { set, reused: metadata.reused, name })
}

/// What has changed since the last print, and how to undo that.
fn describe_changes(then: &PrintSettings, now: &PrintSettings) -> String {
    let mut changes = Vec::new();
    if then.job != now.job {
        changes.push(
            "the job or a --set has changed: give the job as it was, and each --set again"
                .to_owned(),
        );
    }
    if then.printer != now.printer {
        let undo = if then.printer.is_none() {
            "leave --printer out"
        } else {
            "give --printer with the file as it was"
        };
        let [then, now] = [then, now].map(|s| match s.printer_words().as_str() {
            "" => "no printer file".to_owned(),
            name => format!("printer {name}"),
        });
        changes.push(format!("it was drawn for {then}, and not for {now}: {undo}"));
    }
    for (then, now) in [
        (then.wording_words(), now.wording_words()),
        (then.ruler_words(), now.ruler_words()),
    ] {
        if then != now {
            changes.push(format!(
                "it was drawn with {then}, and not with {now}: give those"
            ));
        }
    }
    if changes.is_empty() {
        changes.push("the program or something in the job has changed since".to_owned());
    }
    changes.join("\n  ")
}

fn sheet_list(numbers: &[usize]) -> String {
    numbered("sheet", numbers.iter().copied())
}

/// A label as part of a file name: `34 1/2 in` becomes `34-1-2-in`.
fn file_name_part(label: &str) -> String {
    let allowed = |c: char| if c.is_alphanumeric() || c == '.' { c } else { '-' };
    label.to_lowercase().chars().map(allowed).collect()
}

/// A file to write: where, its sheets, and the layout that they show.
type Print<'a> = (Destination, SheetSet, &'a Layout);

fn draw_all(args: &Reprint, source: &JobSource) -> Result {
    let setup = args.setup.read_and_show(&source.workshop)?;
    let sizes = StockSizes::new(source, setup.wording, ShownFindings::default())?.0;
    let groups = groups(&sizes, &setup)?;
    let with_ticket = args.ticket.is_wanted(&source.workshop.profile);
    let default = || PathBuf::from(format!("{}-sizes", source.stem));
    let folder = args.output.clone().unwrap_or_else(default);
    let path = |part: &str| folder.join(format!("{}-{part}.pdf", source.stem));
    let file = |part: &str| {
        Destination::new(args.output(Some(&path(part))), &source.stem, &source.stem)
    };
    let mut prints: Vec<Print<'_>> = Vec::new();
    let mut shared_lines = Vec::new();
    let mut rest = sizes.as_slice();
    for group in &groups {
        let (sizes, others) = rest.split_at(group.sets.len());
        rest = others;
        let (part, of) = if groups.len() == 1 {
            ("common".to_owned(), "every size".to_owned())
        } else {
            let range = size_range(sizes);
            let part = file_name_part(&range.replace('–', "to"));
            (format!("common-{part}"), format!("sizes {range}"))
        };
        if !group.shared.is_empty() {
            let shared = sheet_list(&group.shared);
            shared_lines.push(format!("{shared} of {of}: {}", shown_path(&path(&part))));
        }
        prints.extend(draw_group(with_ticket, sizes, group, &setup, &part, &file)?);
    }
    write_all(&folder, &prints)?;
    for (destination, set, _) in &prints {
        message(&destination.summary(set));
    }
    let printed: usize = groups.iter().map(SizeGroup::printed).sum();
    let apart: usize = groups.iter().flat_map(|g| &g.sets).map(|s| s.sheets.len()).sum();
    let (sizes, printed) = (sizes.len(), counted(printed, "sheet"));
    message(&format!("{sizes} sizes on {printed}; {apart} if drawn one by one"));
    for line in &shared_lines {
        message(line);
    }
    if let Some((_, set, _)) = prints.first() {
        show_print_advice(set.settings.printer.as_ref());
    }
    Ok(())
}

/// The sizes that share sheets, group by group, in their order.
pub(super) fn groups(sizes: &[LaidOutJob], setup: &PrintSetup) -> Result<Vec<SizeGroup>> {
    let requests: Vec<Request<'_>> =
        sizes.iter().map(|job| setup.request(job.layout(), &job.heading)).collect();
    group_sizes(&requests).map_err(|(i, e)| sizes[i].show_paginate_error(&e))
}

/// The prints of a group: one of the sheets that its sizes share, and one for each size.
fn draw_group<'s>(
    with_ticket: bool,
    sizes: &'s [LaidOutJob],
    group: &SizeGroup,
    setup: &PrintSetup,
    common: &str,
    file: &dyn Fn(&str) -> Result<Destination>,
) -> Result<Vec<Print<'s>>> {
    let mut prints: Vec<Print<'s>> = Vec::new();
    let mut reused = Vec::new();
    if !group.shared.is_empty() {
        let (first, set) = (&sizes[0], common_print(sizes, group, setup)?);
        let print = &set.fingerprint;
        let sheet = |&sheet: &usize| ReusedSheet { print: print.clone(), sheet };
        reused = group.shared.iter().map(sheet).collect();
        prints.push((file(common)?, set, first.layout()));
    }
    for (job, whole) in sizes.iter().zip(&group.sets) {
        let heading = Heading { reused: reused.clone(), ..job.heading.clone() };
        let ticket = with_ticket.then(|| job.ticket());
        let request = setup.request(job.layout(), &heading).reusing(whole);
        let mut set = job.paginate(&Request { ticket: ticket.as_ref(), ..request })?;
        show_findings(&whole.findings, &job.sources);
        let numbers = set.sheets.iter().map(|s| s.number);
        let own: Vec<usize> = numbers.filter(|n| !group.shared.contains(n)).collect();
        set.leave_out_all_but(&own);
        prints.push((file(&file_name_part(job.label()))?, set, job.layout()));
    }
    Ok(prints)
}

/// The print of the sheets that the sizes of a group share.
pub(super) fn common_print(
    sizes: &[LaidOutJob],
    group: &SizeGroup,
    setup: &PrintSetup,
) -> Result<SheetSet> {
    let printed = PrintedSizes::Common(size_range(sizes));
    let (serves, first) = (String::new(), &sizes[0]);
    let heading = Heading { serves, sizes: printed, ..first.heading.clone() };
    let request = setup.request(first.layout(), &heading).reusing(&group.sets[0]);
    let mut set = first.paginate(&request)?;
    set.leave_out_all_but(&group.shared);
    Ok(set)
}

/// Writes all files, or none if one exists already.
fn write_all(folder: &Path, prints: &[Print<'_>]) -> Result {
    prints.iter().try_for_each(|(destination, set, _)| destination.check_free(set))?;
    files::create_folder(folder, "give -o FOLDER elsewhere")?;
    prints.iter().try_for_each(|(destination, set, layout)| {
        destination.write(set, layout, &[]).map(drop)
    })
}
