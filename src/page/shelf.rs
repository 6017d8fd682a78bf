//! The shelf: the workshop's jobs, then every strap as a picture.

use super::address::Address;
use super::base::{Base, PAGE};
use super::say::{count, english, say, say_markup, say_with};
use super::{Workshop, encoded, fields, frame, job_path, picture};
use crate::diagnostic::{Finding, Severity};
use crate::prepare_from;
use crate::template::TemplateLoader;
use maud::{Markup, html};

/// Most jobs on the shelf.
const MOST_JOBS: usize = 12;

/// A strap on the shelf.
fn card(workshop: &Workshop, path: &str, name: &str, base: &Base<'_>) -> Markup {
    let prepared = prepare_from(PAGE, &base.text, &[], &workshop.loader);
    let is_error = |f: &&Finding| f.severity == Severity::Error;
    let errors = prepared.findings.iter().filter(is_error).count();
    let value = |key: &str| base.default(&Address::default(), key);
    let wearer = value("wearer").filter(|wearer| !wearer.is_empty());
    let id = path.replace(['/', '+', '%'], "-");
    html! {
        li {
            a href=(path) {
                @match &prepared.laid {
                    Some((.., layout)) => (picture::picture(layout, &id)),
                    None => span .quiet { (say("Not to be drawn yet.")) },
                }
                strong { (name) }
            }
            p {
                @if base.name.is_none() { (say(&base.about.summary)) }
                @else if let Some(wearer) = wearer {
                    (say_with("for { $wearer }", &[("wearer", &wearer)]))
                }
                @if errors > 0 { " " (count(errors, "{ $count } to mend", "{ $count } to mend")) }
            }
        }
    }
}

/// What a template is called on the shelf: two straps may have one title.
pub(super) fn title(name: &str, base: &Base<'_>) -> String {
    let words = fields::words(name);
    let title = base.default(&Address::default(), "title");
    title.filter(|title| title.replace('-', " ") == words).unwrap_or(words)
}

pub(super) fn view(workshop: &Workshop) -> Markup {
    let own: Vec<&str> = workshop.loader.own_names().collect();
    let names = workshop.loader.names();
    let (own, carried): (Vec<&String>, Vec<&String>) =
        names.iter().partition(|name| own.contains(&name.as_str()));
    let of_templates = |names: &[&String]| -> Vec<Markup> {
        let base =
            |name: &&String| Some(((*name).clone(), Base::template(name, workshop)?));
        let shown = |(name, base): (String, Base<'_>)| {
            card(
                workshop,
                &format!("/strap/{}", encoded(&name)),
                &say(&title(&name, &base)),
                &base,
            )
        };
        names.iter().filter_map(base).map(shown).collect()
    };
    let jobs = workshop.jobs().into_iter().take(MOST_JOBS);
    let jobs = jobs.filter_map(|name| {
        let base = Base::of_job(&name, workshop)?;
        let title =
            base.default(&Address::default(), "title").unwrap_or_else(|| name.clone());
        Some(card(workshop, &job_path(&name), &title, &base))
    });
    let shelves: [(String, Vec<Markup>); 3] = [
        (say("Your jobs"), jobs.collect()),
        (say("Straps of your own"), of_templates(&own)),
        (say("Straps"), of_templates(&carried)),
    ];
    frame::page(
        &say("Straps"),
        "/",
        &html! {
            h1 { (say("What are you making?")) }
            @for (heading, cards) in shelves.iter().filter(|(_, cards)| !cards.is_empty()) {
                h2 { (heading) }
                ul .shelf { @for card in cards { (card) } }
            }
        },
    )
}

/// How to get on, in a page.
pub(super) fn help() -> Markup {
    let code = |words: &str| html! { code lang=[english()] { (words) } };
    frame::page(
        &say("Help"),
        "/help",
        &html! {
            h1 { (say("Help")) }
            ol .steps-list {
                li { (say_markup("Choose a strap on the shelf. Type what you measured: { $inches }, \
                    { $centimetres } or a bare number. The page says how it was read.",
                    &[("inches", code("34 1/2 in")), ("centimetres", code("86,5 cm"))])) }
                li { (say("Mend what stops the print. A button sets the value that would do.")) }
                li { (say("Save the PDF and print it at 100 %, never fitted to the page.")) }
                li { (say("Check the print with a steel ruler before you punch.")) }
                li { (say("For the orders of a day, give their table on the page “Orders”.")) }
            }
            p { (say("The address of a strap holds all that you typed, so a bookmark brings it back. \
                “Keep this job” writes a job file into the folder of the workshop.")) }
            p { (say("The page asks nothing of the internet and sends nothing there. By default only \
                this machine can open it.")) }
            p { (say_markup("The command line draws the same sheets from a job file: { $command }.",
                &[("command", code("strapwright draw belt.toml"))])) }
            p { (say_markup("You can write straps of your own, one TOML file for each. Put them into \
                the folder { $folder } of the workshop. They then come \
                first on the shelf.", &[("folder", code("templates"))])) }
            @if english().is_some() {
                p { (say("Mistakes in tables and files, and some rare ones, are said in English.")) }
            }
        },
    )
}
