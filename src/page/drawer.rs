//! The drawer: what lies in the workshop's folder, as the files that the command line uses too.

use super::say::{count, english, say, say_with};
use super::{Answer, Workshop, fields, frame, job_path};
use crate::diagnostic::Severity;
use maud::{Markup, html};

pub(super) fn view(workshop: &Workshop) -> Markup {
    let link = |path: String, name: &str, more: String| html! { a href=(path) { (name) } span .how { (more) } };
    let jobs = workshop.jobs().into_iter();
    let jobs = jobs.map(|name| link(job_path(&name), &name, format!("{name}.toml")));
    let printers = workshop.printers().into_iter().map(|name| {
        let file = job_path(&name).replacen("/job/", "/drawer/", 1);
        link(file, &name, format!("printers/{name}.toml. {}", state(workshop, &name)))
    });
    let things = |is_hardware| {
        let all = workshop.profile.things.iter();
        let own = all.filter(move |thing| thing.hardware.is_some() == is_hardware);
        own.map(|thing| {
            html! {
                strong { (fields::words(&thing.name)) } ": " (fields::measures(thing.hardware.as_deref(), &thing.measures))
                span .how { (thing.note) }
            }
        })
    };
    let in_profile =
        say("“Keep these measures”, below a strap, puts them into strapwright.toml.");
    let lists: [(_, _, Vec<Markup>); 4] = [
        (say("Jobs"), say("“Keep this job” puts one here."), jobs.collect()),
        (say("Hardware"), in_profile.clone(), things(true).collect()),
        (say("Leather"), in_profile, things(false).collect()),
        (
            say("Printers"),
            say("“Keep this printer” puts one here, once a print is checked."),
            printers.collect(),
        ),
    ];
    frame::page(
        &say("Drawer"),
        "/drawer",
        &html! {
            h1 { (say("What is in the drawer")) }
            p { (say("The files of the workshop’s folder. The command line uses the same.")) }
            @if let Some(Err(why)) = workshop.changed() {
                p role="alert" lang=[english()] {
                    (frame::sign(Some(Severity::Error), 22)) " " (why)
                }
            }
            (frame::findings(&workshop.profile.flaws))
            div .drawer {
                @for (heading, way, list) in &lists {
                    section .panel {
                        h2 { (heading) }
                        @if list.is_empty() { p { (say("None yet.")) } }
                        ul { @for one in list { li { (one) } } }
                        p .how { (way) }
                    }
                }
            }
        },
    )
}

/// What a printer was measured to be, or why it cannot be used.
fn state(workshop: &Workshop, name: &str) -> String {
    let parsed = workshop.printer(name);
    let Some(printer) = parsed.printer else {
        return parsed.findings.iter().map(|f| frame::sentence(&f.message)).collect();
    };
    let last = printer.readings.last().map(|one| one.date.as_str()).unwrap_or_default();
    let readings =
        count(printer.readings.len(), "{ $count } reading", "{ $count } readings");
    let last = say_with("the last of { $date }", &[("date", &last)]);
    format!("{}, {readings}, {last}.", printer.paper.name().to_uppercase())
}

/// A printer file, as it lies in the folder.
pub(super) fn file(workshop: &Workshop, name: &str) -> Option<Answer> {
    let text = workshop.printer_text(name)?;
    Some(Answer::File(
        Some(format!("{name}.toml")),
        "application/toml",
        text.into_bytes(),
    ))
}
