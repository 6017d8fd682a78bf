//! `profile`: what is in force, and which flag or line of a profile says so.

use super::job_source::JobArgs;
use super::print_setup::{PrintSetupArgs, TicketArgs};
use super::terminal;
use super::workshop::Workshop;
use super::{Result, check_allowed};
use crate::diagnostic::{Span, Spanned, shown_path};
use crate::job::WORKSHOP_KEYS;
use crate::profile::{Profile, Thing};
use crate::ticket::{Table, write_table};
use crate::words::Units;
use clap::Args;

#[derive(Args, Debug)]
#[command(after_help = "\
A profile is a file strapwright.toml: in the folder of the job or above it, and another in
your folder for configurations. Every flag wins over it. The topic `profile` of the guide
says what it may have.")]
pub(super) struct Show {
    #[command(flatten)]
    job: JobArgs,
    #[command(flatten)]
    setup: PrintSetupArgs,
    #[command(flatten)]
    ticket: TicketArgs,
}

pub(super) fn run(args: &Show) -> Result {
    let workshop = args.job.read_workshop()?;
    let names: Vec<&str> =
        workshop.profile.sources.iter().map(|s| s.name.as_str()).collect();
    let mut text = match names.as_slice() {
        [] => "No strapwright.toml was read.\n".to_owned(),
        names => format!("Read: {}\n", names.join(", then ")),
    };
    let Profile { findings, flaws, sources, .. } = &workshop.profile;
    let findings = [findings.as_slice(), flaws].concat();
    terminal::show_findings(&findings, sources);
    let rows = settings(args, &workshop);
    write_table(
        &Table {
            head: ["setting", "value", "from"].map(ToOwned::to_owned).to_vec(),
            rows,
        },
        &mut text,
    );
    let things = workshop.profile.things.iter().map(|thing| thing_row(&workshop, thing));
    let things: Vec<Vec<String>> = things.collect();
    if !things.is_empty() {
        let head = ["name", "what", "measures", "note", "from"];
        text.push('\n');
        write_table(
            &Table { head: head.map(ToOwned::to_owned).to_vec(), rows: things },
            &mut text,
        );
    }
    terminal::write_text(text)?;
    check_allowed(&findings)
}

/// Hardware or leather of the workshop.
fn thing_row(workshop: &Workshop, thing: &Thing) -> Vec<String> {
    let what = thing.hardware.as_deref().unwrap_or("leather");
    let from = line(workshop, &thing.span).unwrap_or_default();
    vec![thing.name.clone(), what.to_owned(), thing.measures(), thing.note.clone(), from]
}

/// Each setting with its value, and where it comes from.
fn settings(args: &Show, workshop: &Workshop) -> Vec<Vec<String>> {
    let profile = &workshop.profile;
    let setup = &args.setup;
    let paper = setup.paper.as_ref();
    let wording = setup.wording.wording(profile);
    let units = Units::NAMES.iter().find(|(_, u)| *u == wording.units);
    let ticket = args.ticket.is_wanted(profile);
    let shown = |path: &std::ffi::OsStr| shown_path(path.as_ref());
    let given = |path: &Spanned<String>| path.value.clone();
    let values = [
        paper.or(profile.paper.as_ref().map(|p| &p.value)).map(|p| p.name().to_owned()),
        units.map(|(name, _)| (*name).to_owned()),
        Some(wording.language.code().to_owned()),
        setup.printer.as_deref().map(shown).or(profile.printer.as_ref().map(given)),
        Some(if ticket { "printed" } else { "left out" }.to_owned()),
        workshop.loader.folder().map(|path| shown(path.as_os_str())),
    ];
    let of = |is_given: bool, flag: &'static str| is_given.then_some(flag);
    let flags = [
        of(paper.is_some(), "--paper"),
        of(setup.wording.units.given.is_some(), "--units"),
        of(setup.wording.language.is_some(), "--language"),
        of(setup.printer.is_some(), "--printer"),
        args.ticket.flag(),
        of(workshop.templates_flag, "--templates"),
    ];
    let row = |(i, value): (usize, Option<String>)| {
        let key = WORKSHOP_KEYS[i];
        let line = profile.setting(key).and_then(|span| line(workshop, span));
        let whence = match (flags[i], line) {
            (Some(flag), None) => flag.to_owned(),
            (Some(flag), Some(line)) => format!("{flag} (not {line})"),
            (None, Some(line)) => line,
            (None, None) => "default".to_owned(),
        };
        let unset = if key == "paper" { "of the printer, else a4" } else { "none" };
        vec![key.to_owned(), value.unwrap_or_else(|| unset.to_owned()), whence]
    };
    values.into_iter().enumerate().map(row).collect()
}

/// The file and the line of a span.
fn line(workshop: &Workshop, span: &Span) -> Option<String> {
    let (name, line) = workshop.profile.place(span)?;
    Some(format!("{name}:{line}"))
}
