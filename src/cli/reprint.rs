//! `reprint`: after a change of the job, or in another size of the stock, only the sheets that
//! differ from the last print; or all sizes at once, what they have in common once.

use super::complete::sizes;
use super::destination::{CROSS_OUT, Destination, Output, show_print_advice};
use super::job_source::{JobArgs, JobSource, Size};
use super::laid_out::{LaidOutJob, ShownFindings, StockSizes, served_lines, size_range};
use super::print_setup::{PrintSetupArgs, TicketArgs, check_printer};
use super::terminal::{message, show_findings};
use super::{Failure, Result, explain_forbidden, files};
use crate::diagnostic::{counted, numbered, shown_path};
use crate::export::{Format, PDF};
use crate::layout::Layout;
use crate::paginate::{
    Heading, PrintedSizes, Request, ReusedSheet, SheetDiff, SheetSet, SizeGroup,
    compare_sheets, group_sizes,
};
use crate::print::{self, PrintSetup};
use clap::Args;
use clap_complete::engine::ArgValueCandidates;
use std::path::{Path, PathBuf};

#[derive(Args, Debug)]
#[command(after_help = "\
Every PDF from draw or reprint says in its document information where its joins are and
what each sheet shows. reprint reads the last print from there. After a change of the job:
  strapwright draw belt.toml                    all sheets: belt.pdf
  strapwright reprint belt.toml                 those that changed: belt-changes.pdf
For a whole rack:
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
    #[arg(long, value_name = "SIZE", conflicts_with = "after", requires = "size")]
    #[arg(add = ArgValueCandidates::new(sizes))]
    against: Option<String>,
    /// The PDF that was drawn last [default: the job's name with .pdf, in this folder]
    #[arg(long, value_name = "FILE")]
    after: Option<PathBuf>,
    /// Where to write: a file, or with --all a folder [default: the job's name with -changes
    /// or the size and .pdf, or with -sizes, in this folder]
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
    let result = if args.all { draw_all(args, &source) } else { draw_one(args, &source) };
    explain_forbidden(result, "nothing was drawn")
}

/// The print whose sheets the user has, bare.
struct LastPrint {
    set: SheetSet,
    /// Its size, name and file, for messages.
    name: String,
}

fn draw_one(args: &Reprint, source: &JobSource) -> Result {
    let output = args.output.as_deref();
    if let Some(Ok(Some(other))) = output.map(Format::for_path)
        && other.name != PDF.name
    {
        return Err(Failure::Usage(format!(
            "reprint draws PDFs alone, for no other file says which print it is; end FILE in \
             .pdf, or draw all of it: strapwright draw JOB -o FILE.{}",
            other.extension
        )));
    }
    let mut setup = args.setup.read_and_show(&source.workshop)?;
    let mut shown = ShownFindings::default();
    let mut lay_out = |size| LaidOutJob::new(source, size, setup.wording, &mut shown);
    // What is wrong with a size that was given is said before the last print is looked for.
    let given = args.job.size().map(|size| lay_out(Some(size))).transpose()?;
    let last = match &args.against {
        Some(against) => draw_last(source, against, &setup)?,
        None => read_last(args, &source.stem)?,
    };
    let same = Some(last.set.size.as_str()).filter(|label| !label.is_empty());
    let same = same.map(|label| Size { label, origin: "size of the last print" });
    let is_same_size = given.is_none();
    let job = given.map_or_else(|| lay_out(same), Ok)?;
    if args.setup.paper.is_none() {
        setup = setup.on_paper(&last.set.paper);
        check_printer(&setup)?;
    }
    let part =
        if is_same_size { "changes".to_owned() } else { file_name_part(job.label()) };
    let stem = format!("{}-{part}", source.stem);
    let output = args.output(output);
    let destination = Destination::new(output, &source.stem, &stem)?;
    let request = setup.request(job.layout(), &job.heading).reusing(&last.set);
    let whole = job.paginate(&request)?;
    show_findings(&whole.findings, &job.sources);
    let diff = compare_sheets(&last.set, &whole);
    if diff.print.is_empty() {
        let or = match diff.remove.as_slice() {
            [] if whole.fingerprint == last.set.fingerprint => String::new(),
            [] => ", only the heads differ: correct them by hand".to_owned(),
            removed => format!(", and {} too many: put it away", sheet_list(removed)),
        };
        message(&format!(
            "{} has all sheets{or}. No sheet is to print; `strapwright ticket` shows the ticket \
             as it is now",
            last.name
        ));
        return Ok(());
    }
    let heading = Heading { reused: diff.reused(&last.set), ..job.heading.clone() };
    let ticket = args.ticket.is_wanted(&source.workshop.profile).then(|| job.ticket());
    let request = Request { heading: &heading, ticket: ticket.as_ref(), ..request };
    let mut set = job.paginate(&request)?;
    let sheets = set.sheets.len();
    set.leave_out_all_but(&diff.print);
    let mut lines = served_lines(&job.laid, setup.wording.units);
    let size = if job.label().is_empty() {
        String::new()
    } else {
        format!("size {} ", job.label())
    };
    lines.push(format!("{size}after {}:", last.name));
    lines.extend(changes(&last.set, &set));
    lines.extend(diff_lines(&diff, &set, sheets));
    let file = destination.first_file(&set);
    lines.extend(
        file.map(|file| format!("  next time, give --after {}", shown_path(&file))),
    );
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
    if !diff.keep.is_empty() {
        lines.push(CROSS_OUT.to_owned());
    }
    lines
}

/// The size of `--against`, as `draw` draws it.
fn draw_last(source: &JobSource, label: &str, setup: &PrintSetup) -> Result<LastPrint> {
    let size = Some(Size { label, origin: "--against" });
    let mut shown = ShownFindings::errors_only();
    let job = LaidOutJob::new(source, size, setup.wording, &mut shown)?;
    let set = job.paginate(&setup.request(job.layout(), &job.heading))?;
    let name = format!("size {}, print {}", job.label(), set.fingerprint);
    Ok(LastPrint { set, name })
}

/// The print in a file, as its document information says.
fn read_last(args: &Reprint, stem: &str) -> Result<LastPrint> {
    let default = PathBuf::from(format!("{stem}.pdf"));
    let path = args.after.as_ref().unwrap_or(&default);
    let shown = shown_path(path);
    if args.after.is_none() && !path.exists() {
        return Err(Failure::Usage(format!(
            "there is no {shown} here that says what was drawn last; give --after FILE for \
             the last print, --size SIZE and --against SIZE for two sizes of the stock, --all \
             for every size, or draw it whole: strapwright draw JOB"
        )));
    }
    let changes = PathBuf::from(format!("{stem}-changes.pdf"));
    if args.after.is_none() && args.job.size().is_none() && changes.exists() {
        let changes = shown_path(&changes);
        return Err(Failure::Usage(format!(
            "{shown} and {changes} are here; say which of them you printed last: --after {changes}, \
             or --after {shown}"
        )));
    }
    let (_, bytes) = files::read_bytes(path.as_os_str(), files::MAX_PDF)?;
    let set = print::read(&bytes).map_err(|why| {
        let way = "give the PDF that was drawn last: --after FILE";
        Failure::System(format!("cannot read {shown}: {why}; {way}"))
    })?;
    let size = match set.size.as_str() {
        "" => String::new(),
        size => format!("size {size}, "),
    };
    let name = format!("{size}print {} ({shown})", set.fingerprint);
    Ok(LastPrint { set, name })
}

/// What is other than in the last print on every sheet.
fn changes(then: &SheetSet, now: &SheetSet) -> Vec<String> {
    let printer = |set: &SheetSet| match set.settings.printer_words().as_str() {
        "" => "for no printer file".to_owned(),
        name => format!("for printer {name}"),
    };
    let paper = |set: &SheetSet| format!("on {}", set.paper);
    let wording = |set: &SheetSet| format!("with {}", set.settings.wording_words());
    let ruler = |set: &SheetSet| format!("with {}", set.settings.ruler_words());
    let kinds: [&dyn Fn(&SheetSet) -> String; 4] = [&paper, &printer, &wording, &ruler];
    let pairs = kinds.map(|kind| (kind(then), kind(now))).into_iter();
    pairs
        .filter(|(then, now)| then != now)
        .map(|(then, now)| format!("  changed   it was drawn {then}, and is now {now}"))
        .collect()
}

fn sheet_list(numbers: &[usize]) -> String {
    numbered("sheet", numbers.iter().copied())
}

/// A label as part of a file name: `34 1/2 in` becomes `34-1-2-in`.
fn file_name_part(label: &str) -> String {
    let allowed = |c: char| if c.is_alphanumeric() || c == '.' { c } else { '-' };
    label.to_lowercase().chars().map(allowed).collect()
}

fn draw_all(args: &Reprint, source: &JobSource) -> Result {
    let setup = args.setup.read_and_show(&source.workshop)?;
    let sizes = StockSizes::new(source, setup.wording, ShownFindings::default())?.0;
    let groups = groups(&sizes, &setup)?;
    let with_ticket = args.ticket.is_wanted(&source.workshop.profile);
    let default = || PathBuf::from(format!("{}-sizes", source.stem));
    let folder = args.output.clone().unwrap_or_else(default);
    let path = |part: &str| folder.join(format!("{}-{part}.pdf", source.stem));
    // Each group with its sizes, how messages call these, and what their common file is called.
    let mut rest = sizes.as_slice();
    let groups: Vec<(&SizeGroup, &[LaidOutJob], String, String)> = groups
        .iter()
        .map(|group| {
            let (own, others) = rest.split_at(group.sets.len());
            rest = others;
            if groups.len() == 1 {
                return (group, own, "every size".to_owned(), "common".to_owned());
            }
            let range = size_range(own);
            let part = file_name_part(&range.replace('–', "to"));
            (group, own, format!("sizes {range}"), format!("common-{part}"))
        })
        .collect();
    let parts = groups.iter().flat_map(|(group, sizes, _, common)| {
        let common = (!group.shared.is_empty()).then(|| common.clone());
        common.into_iter().chain(sizes.iter().map(|job| file_name_part(job.label())))
    });
    let files = parts.map(|part| {
        Destination::new(args.output(Some(&path(&part))), &source.stem, &source.stem)
    });
    let destinations: Vec<Destination> = files.collect::<Result<_>>()?;
    // None is written if one is there already.
    let title = &groups[0].0.sets[0];
    destinations.iter().try_for_each(|destination| destination.check_free(title))?;
    files::create_folder(&folder, "give -o FOLDER elsewhere")?;
    let mut destinations = destinations.iter();
    let mut write = |set: &SheetSet, layout: &Layout| -> Result {
        let Some(destination) = destinations.next() else { return Ok(()) };
        destination.write(set, layout, &[])?;
        message(&destination.summary(set));
        Ok(())
    };
    for (group, sizes, ..) in &groups {
        let mut reused = Vec::new();
        if !group.shared.is_empty() {
            let common = common_print(sizes, group, &setup)?;
            let print = &common.fingerprint;
            let sheet = |&sheet: &usize| ReusedSheet { print: print.clone(), sheet };
            reused = group.shared.iter().map(sheet).collect();
            write(&common, sizes[0].layout())?;
        }
        for (job, whole) in sizes.iter().zip(&group.sets) {
            let heading = Heading { reused: reused.clone(), ..job.heading.clone() };
            let ticket = with_ticket.then(|| job.ticket());
            let request = setup.request(job.layout(), &heading).reusing(whole);
            let mut set =
                job.paginate(&Request { ticket: ticket.as_ref(), ..request })?;
            show_findings(&set.findings, &job.sources);
            let numbers = set.sheets.iter().map(|s| s.number);
            let own: Vec<usize> = numbers.filter(|n| !group.shared.contains(n)).collect();
            set.leave_out_all_but(&own);
            write(&set, job.layout())?;
        }
    }
    let printed: usize = groups.iter().map(|(group, ..)| group.printed()).sum();
    let sets = groups.iter().flat_map(|(group, ..)| &group.sets);
    let apart: usize = sets.map(|set| set.sheets.len()).sum();
    let (count, printed) = (sizes.len(), counted(printed, "sheet"));
    message(&format!("{count} sizes on {printed}; {apart} if drawn one by one"));
    for (group, _, of, common) in &groups {
        if !group.shared.is_empty() {
            let (shared, path) = (sheet_list(&group.shared), path(common));
            message(&format!("{shared} of {of}: {}", shown_path(&path)));
        }
    }
    show_print_advice(setup.correction());
    Ok(())
}

/// The sizes that share sheets, group by group, in their order.
pub(super) fn groups(sizes: &[LaidOutJob], setup: &PrintSetup) -> Result<Vec<SizeGroup>> {
    let requests: Vec<Request<'_>> =
        sizes.iter().map(|job| setup.request(job.layout(), &job.heading)).collect();
    group_sizes(&requests).map_err(|(i, e)| sizes[i].show_paginate_error(&e))
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
