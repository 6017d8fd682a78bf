//! `profile`: what is in force, and which flag or line of a profile says so.

use super::job_source::JobArgs;
use super::print_setup::{PrintSetupArgs, TicketArgs};
use super::terminal;
use super::wording_args::UnitsArg;
use super::workshop::Workshop;
use super::{Result, check_allowed};
use crate::diagnostic::{Span, Spanned, shown_path};
use crate::profile::{Profile, Thing};
use crate::ticket::{Table, write_table};
use crate::words::Units;
use clap::Args;
use std::path::Path;

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
    let head = ["setting", "value", "from"];
    write_table(&Table::new(head, settings(args, &workshop)), &mut text);
    let things = workshop.profile.things.iter().map(|thing| thing_row(&workshop, thing));
    let things: Vec<Vec<String>> = things.collect();
    if !things.is_empty() {
        text.push('\n');
        let head = ["name", "what", "measures", "note", "from"];
        write_table(&Table::new(head, things), &mut text);
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
    let (profile, setup) = (&workshop.profile, &args.setup);
    let wording = setup.wording.wording(profile);
    let units = Units::NAMES.iter().find(|(_, u)| *u == wording.units);
    let paper = setup.paper.as_ref().or(profile.paper.as_ref().map(|own| &own.value));
    let paper = paper.map_or("of the printer, else a4", |paper| paper.name());
    let units = units.map_or("", |(name, _)| name);
    let language = wording.language.code();
    let printer = setup.printer.as_deref().map(Path::new).map(shown_path);
    let printer = printer.or(profile.printer.as_ref().map(|own| own.value.clone()));
    let printer = printer.as_deref().unwrap_or("none");
    let ticket = if args.ticket.is_wanted(profile) { "printed" } else { "left out" };
    let templates = &workshop.loader.folder().map_or("none".to_owned(), shown_path);
    let row = |key: &str, value: &str, is_given: bool, span: Option<&Span>| {
        let of_ticket = args.ticket.flag().filter(|_| key == "ticket");
        let flag = of_ticket.map_or(format!("--{key}"), ToOwned::to_owned);
        let whence = match (is_given, span.and_then(|span| line(workshop, span))) {
            (true, None) => flag,
            (true, Some(line)) => format!("{flag} (not {line})"),
            (false, Some(line)) => line,
            (false, None) => "default".to_owned(),
        };
        vec![key.to_owned(), value.to_owned(), whence]
    };
    let UnitsArg { given } = setup.wording.units;
    let has_language = setup.wording.language.is_some();
    let has_ticket = args.ticket.flag().is_some();
    vec![
        row("paper", paper, setup.paper.is_some(), span(profile.paper.as_ref())),
        row("units", units, given.is_some(), span(profile.units.as_ref())),
        row("language", language, has_language, span(profile.language.as_ref())),
        row("printer", printer, setup.printer.is_some(), span(profile.printer.as_ref())),
        row("ticket", ticket, has_ticket, span(profile.ticket.as_ref())),
        row(
            "templates",
            templates,
            workshop.templates_flag,
            span(profile.templates.as_ref()),
        ),
    ]
}

fn span<T>(given: Option<&Spanned<T>>) -> Option<&Span> {
    given?.span.as_ref()
}

/// The file and the line of a span.
fn line(workshop: &Workshop, span: &Span) -> Option<String> {
    let (name, line) = workshop.profile.place(span)?;
    Some(format!("{name}:{line}"))
}
