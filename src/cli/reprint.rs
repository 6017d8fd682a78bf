//! `reprint`: another size of the stock, only the sheets that differ from the last print;
//! or all sizes at once, what they have in common once.

use super::onto::{Onto, OntoArgs};
use super::prepare::{Size, Source, serves, source};
use super::print::{self, Target};
use super::ready::{Ready, Spoken, Stop, onto, outcome, size_range, stock};
use super::{Failure, JobArgs, Outcome, files, measure, terminal};
use crate::diagnostic::{counted, numbered};
use crate::export::pdf::PrintMetadata;
use crate::layout::Layout;
use crate::paginate::{
    Heading, Paper, PrintSettings, PrintedSizes, Request, ReusedSheet, SheetDiff,
    SheetSet, SizeGroup, compare_sheets, group_sizes,
};
use crate::ticket::Ticket;
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
    onto: OntoArgs,
    /// Leave out the ticket, the page of words before the sheets
    #[arg(long)]
    no_ticket: bool,
    /// Replace files that exist
    #[arg(long)]
    force: bool,
}

pub(super) fn run(args: &Reprint) -> Result<Outcome, Failure> {
    let source = source(&args.job)?;
    let done = match (&args.job.size, args.all) {
        (_, true) => all(args, &source),
        (Some(size), false) => one(args, &source, size),
        (None, false) => return Err(Failure::Usage(
            "say which size to draw: --size SIZE, or --all for every size of the stock"
                .to_owned(),
        )),
    };
    outcome(done)
}

/// The print whose sheets lie on the bench.
struct Last {
    set: SheetSet,
    reused: Vec<ReusedSheet>,
    called: String,
}

fn one(args: &Reprint, source: &Source, size: &str) -> Result<(), Stop> {
    let mut onto = onto(&args.onto)?;
    let size = Some(Size::option(size));
    let ready = Ready::new(source, size, onto.wording, &mut Spoken::default())?;
    let last = match &args.against {
        Some(against) => drawn(source, against, &onto)?,
        None => read(args, source, &onto)?,
    };
    if args.onto.paper.is_none() {
        onto = onto.on(paper(&last.set.paper)?);
        onto.allows()?;
    }
    let label = ready.label().to_owned();
    let stem = format!("{}-{}", source.stem, in_a_name(&label));
    let target = Target::pdf(args.output.as_deref(), &stem, args.force)?;
    let request = ready.request(&ready.heading, &onto).reusing(&last.set);
    let whole = ready.sheets(&request)?;
    ready.warn(&whole);
    let diff = compare_sheets(&last.set, &whole);
    if diff.print.is_empty() && diff.remove.is_empty() {
        terminal::say(&format!(
            "size {label} is what {} shows already: nothing to print",
            last.called
        ));
        return Ok(());
    }
    let reused = diff.reused(&last.set, &last.reused);
    let heading = Heading { reused, ..ready.heading.clone() };
    let ticket = ticket(&ready, args);
    let whole = Request { heading: &heading, ticket: ticket.as_ref(), ..request };
    let mut set = ready.sheets(&whole)?;
    let sheets = set.sheets.len();
    set.leave_out_all_but(&diff.print);
    let (job, fit, layout) = &ready.laid;
    target.must_be_free(&set)?;
    let read_back = target.write(&set, layout, &[])?;
    for line in serves(job, fit.as_ref(), layout, onto.wording.units) {
        terminal::say(&line);
    }
    say_diff(&label, &last.called, &diff, &set, sheets);
    for line in measure::checks(&set, onto.measuring, onto.wording.units) {
        terminal::say(&line);
    }
    print::say(&set, &target, &read_back);
    Ok(())
}

/// The ticket of a size, if it is wanted.
fn ticket(ready: &Ready, args: &Reprint) -> Option<Ticket> {
    (!args.no_ticket).then(|| crate::ticket::ticket(&ready.input()))
}

fn say_diff(label: &str, last: &str, diff: &SheetDiff, set: &SheetSet, sheets: usize) {
    terminal::say(&format!("size {label} after {last}:"));
    if diff.keep.is_empty() {
        terminal::say("  keep      no sheet: all of them differ");
    }
    for reused in &set.reused {
        terminal::say(&format!(
            "  keep      sheet {} of print {}",
            reused.sheet, reused.print
        ));
    }
    let away = if diff.remove.is_empty() {
        String::new()
    } else {
        format!(", in place of {}", named(&diff.remove))
    };
    let new = named(&diff.print);
    terminal::say(&format!("  swap in   {new} of {sheets}{away}"));
}

/// The size that was said to be drawn last, as `draw` draws it.
fn drawn(source: &Source, size: &str, onto: &Onto) -> Result<Last, Stop> {
    let size = Some(Size { word: size, said: "--against" });
    let ready = Ready::new(source, size, onto.wording, &mut Spoken::quiet())?;
    let set = ready.sheets(&ready.request(&ready.heading, onto))?;
    let called = format!("size {}, print {}", ready.label(), set.fingerprint);
    Ok(Last { set, reused: Vec::new(), called })
}

/// The size that a file says it is, drawn again and held against what the file says.
fn read(args: &Reprint, source: &Source, onto: &Onto) -> Result<Last, Stop> {
    let own = PathBuf::from(format!("{}.pdf", source.stem));
    let path = args.after.as_ref().unwrap_or(&own);
    let shown = path.display();
    if args.after.is_none() && !path.exists() {
        return Err(Stop::Failed(Failure::Usage(format!(
            "there is no {shown} here to tell what was drawn last; say --after FILE for \
             the last print, --against SIZE for its size, or draw the whole size: \
             strapwright draw JOB --size SIZE"
        ))));
    }
    let (_, bytes) = files::bytes(path.as_os_str(), files::LARGEST_DRAWING)?;
    verify::opens(&bytes)
        .map_err(|why| Failure::Machine(format!("cannot read {shown}: {why}")))?;
    let metadata = PrintMetadata::read(&bytes)
        .map_err(|e| Failure::Machine(format!("{shown}: {e}")))?;
    let size = Some(metadata.size.as_str()).filter(|s| !s.is_empty());
    let said = format!("size of {shown}");
    let sized = size.map(|word| Size { word, said: &said });
    let ready = Ready::new(source, sized, onto.wording, &mut Spoken::quiet())?;
    let onto = onto.on(paper(&metadata.paper)?);
    let request = ready.request(&ready.heading, &onto);
    let set = ready.sheets(&request.reusing(&metadata.bare()))?;
    let of = size.map_or_else(String::new, |size| format!("size {size}, "));
    if set.fingerprint != metadata.print {
        return Err(Stop::Failed(Failure::Usage(format!(
            "{shown} is print {}, but {of}print {} is what would be drawn now, so its \
             sheets no longer serve:\n  {}\nOr draw the whole size again, strapwright draw \
             JOB --size SIZE; or say --against SIZE if you know better.",
            metadata.print,
            set.fingerprint,
            changed(&metadata.settings, &set.settings)
        ))));
    }
    let called = format!("{of}print {} ({shown})", metadata.print);
    Ok(Last { set, reused: metadata.reused, called })
}

/// What has changed since the last print, and what would undo that.
fn changed(then: &PrintSettings, now: &PrintSettings) -> String {
    let printer = |words: &str| {
        if words.is_empty() {
            "no printer file".to_owned()
        } else {
            format!("printer {words}")
        }
    };
    let mut all = Vec::new();
    if then.job != now.job {
        all.push(
            "the job or a --set has changed: give the job as it was, with each --set of then"
                .to_owned(),
        );
    }
    if then.printer != now.printer {
        let undo = if then.printer.is_none() {
            "leave --printer out"
        } else {
            "give --printer with the file as it was"
        };
        let (then, now) = (printer(&then.printer_words()), printer(&now.printer_words()));
        all.push(format!("it was drawn for {then}, and not for {now}: {undo}"));
    }
    for (then, now) in [
        (then.wording_words(), now.wording_words()),
        (then.ruler_words(), now.ruler_words()),
    ] {
        if then != now {
            all.push(format!("it was drawn with {then}, and not with {now}: give those"));
        }
    }
    if all.is_empty() {
        "the program or something in the job has changed since".to_owned()
    } else {
        all.join("\n  ")
    }
}

fn named(numbers: &[usize]) -> String {
    numbered("sheet", numbers.iter().copied())
}

fn paper(name: &str) -> Result<Paper, Failure> {
    Paper::parse(name).map_err(Failure::Usage)
}

/// A label as part of a file's name: `34 1/2 in` is `34-1-2-in`.
fn in_a_name(label: &str) -> String {
    let allowed = |c: char| if c.is_alphanumeric() || c == '.' { c } else { '-' };
    label.to_lowercase().chars().map(allowed).collect()
}

fn all(args: &Reprint, source: &Source) -> Result<(), Stop> {
    let onto = onto(&args.onto)?;
    let ready = stock(source, onto.wording)?;
    let requests: Vec<Request<'_>> =
        ready.iter().map(|r| r.request(&r.heading, &onto)).collect();
    let groups = group_sizes(&requests).map_err(|(i, e)| ready[i].refuse(&e))?;
    let folder = args
        .output
        .clone()
        .unwrap_or_else(|| PathBuf::from(format!("{}-sizes", source.stem)));
    let file = |part: &str| folder.join(format!("{}-{part}.pdf", source.stem));
    let mut prints: Vec<Print<'_>> = Vec::new();
    let mut said = Vec::new();
    let mut first = 0;
    for group in &groups {
        let own = &ready[first..first + group.sets.len()];
        first += own.len();
        let name = if groups.len() == 1 {
            "common".to_owned()
        } else {
            format!("common-{}", in_a_name(&size_range(own).replace('–', "to")))
        };
        let path = file(&name);
        prints.extend(of_group(args, own, group, &onto, path.clone(), &file)?);
        if !group.shared.is_empty() {
            let shared = named(&group.shared);
            let of = if groups.len() == 1 {
                "every size".to_owned()
            } else {
                format!("sizes {}", size_range(own))
            };
            said.push(format!("{shared} of {of}: {}", path.display()));
        }
    }
    write_all(&folder, &prints)?;
    for (target, set, _) in &prints {
        terminal::say(&target.line(set));
    }
    let printed: usize = groups.iter().map(SizeGroup::printed).sum();
    let apart: usize = groups.iter().flat_map(|g| &g.sets).map(|s| s.sheets.len()).sum();
    let sizes = ready.len();
    terminal::say(&format!(
        "{sizes} sizes on {}, drawn apart {apart}",
        counted(printed, "sheet")
    ));
    for line in &said {
        terminal::say(line);
    }
    for (_, set, _) in prints.iter().take(1) {
        print::caution(set.correction.as_ref());
    }
    Ok(())
}

/// The files of a group: the sheets that its sizes have in common, and each size's own.
fn of_group<'r>(
    args: &Reprint,
    ready: &'r [Ready],
    group: &SizeGroup,
    onto: &Onto,
    common: PathBuf,
    file: &dyn Fn(&str) -> PathBuf,
) -> Result<Vec<Print<'r>>, Stop> {
    let mut prints: Vec<Print<'r>> = Vec::new();
    let mut reused = Vec::new();
    if !group.shared.is_empty() {
        let sizes = PrintedSizes::Common(size_range(ready));
        let serves = String::new();
        let heading = Heading { serves, sizes, ..ready[0].heading.clone() };
        let request = ready[0].request(&heading, onto).reusing(&group.sets[0]);
        let mut set = ready[0].sheets(&request)?;
        set.leave_out_all_but(&group.shared);
        let print = &set.fingerprint;
        let numbers = group.shared.iter();
        reused =
            numbers.map(|&sheet| ReusedSheet { print: print.clone(), sheet }).collect();
        prints.push((Target::file(common, args.force)?, set, &ready[0].laid.2));
    }
    for (ready, whole) in ready.iter().zip(&group.sets) {
        let heading = Heading { reused: reused.clone(), ..ready.heading.clone() };
        let ticket = ticket(ready, args);
        let request = ready.request(&heading, onto).reusing(whole);
        let mut set = ready.sheets(&Request { ticket: ticket.as_ref(), ..request })?;
        ready.warn(whole);
        let numbers = set.sheets.iter().map(|s| s.number);
        let own: Vec<usize> = numbers.filter(|n| !group.shared.contains(n)).collect();
        set.leave_out_all_but(&own);
        let target = Target::file(file(&in_a_name(ready.label())), args.force)?;
        prints.push((target, set, &ready.laid.2));
    }
    Ok(prints)
}

/// A file to be written: where, its sheets, and what they show.
type Print<'a> = (Target, SheetSet, &'a Layout);

/// Writes all files, or none where one is there already.
fn write_all(folder: &Path, prints: &[Print<'_>]) -> Result<(), Failure> {
    for (target, set, _) in prints {
        target.must_be_free(set)?;
    }
    files::folder(folder)?;
    prints
        .iter()
        .try_for_each(|(target, set, layout)| target.write(set, layout, &[]).map(drop))
}
