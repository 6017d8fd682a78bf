//! What is kept of a strap by a name: its job, and the hardware and leather that it has.

use super::fields::{self, Field};
use super::measure;
use super::say::{say, say_with};
use super::strap::Strap;
use super::{Answer, Workshop};
use maud::{Markup, html};

/// Keeps the job, or the hardware or leather of one of its tables, by the name that a form gives.
pub(super) fn keep(workshop: &Workshop, strap: &Strap<'_>, sent: &str) -> Answer {
    let pairs: Vec<_> = form_urlencoded::parse(sent.as_bytes()).collect();
    let find =
        |key: &str| pairs.iter().find(|(k, _)| k == key).map_or("", |(_, v)| v.trim());
    let name = find("name");
    let table = find("table");
    if !table.is_empty() {
        return match keep_thing(workshop, strap, [table, name]) {
            Ok(key) => Answer::See(strap.with_thing(&key, name).link("")),
            Err(why) => {
                Answer::Page(measure::view(strap, Some(&NotKept { table, name, why })))
            }
        };
    }
    let text = strap.job_file();
    match text.and_then(|text| workshop.keep_job(name, find("seen"), &text)) {
        Ok(()) => Answer::See(super::job_path(name)),
        Err(why) => {
            Answer::Page(measure::view(strap, Some(&NotKept { table, name, why })))
        }
    }
}

/// What was to be kept by a name, and why it was not: hardware or leather of a table, or the job.
pub(super) struct NotKept<'a> {
    table: &'a str,
    name: &'a str,
    why: String,
}

/// Keeps the hardware or the leather of a table. Returns the key that names it.
fn keep_thing(
    workshop: &Workshop,
    strap: &Strap<'_>,
    [table, name]: [&str; 2],
) -> Result<String, String> {
    if strap.printable().is_none() {
        return Err(say("Mend first what stops it."));
    }
    let thing = strap.thing(table).ok_or_else(|| say("This strap has no such part."))?;
    let (key, measures) = thing;
    let sort = key.rsplit('.').next().unwrap_or_default();
    // What was typed and is not kept would be lost.
    let is_kept = |key: &str| measures.iter().any(|(kept, _)| kept == key);
    let own = strap.address.said.iter().filter_map(|(key, _)| {
        let name = key.strip_prefix(table)?.strip_prefix('.')?;
        (sort == "hardware" && name != sort && !is_kept(name)).then_some(key)
    });
    if let Some(lost) = own.into_iter().next() {
        return Err(say_with(
            "“{ $field }” is no plain length. Type it as one; then keep these measures.",
            &[("field", &fields::called(lost))],
        ));
    }
    workshop.keep_thing([sort, name], &measures).map(|()| key)
}

/// The forms by which they are kept; `told` is what was not kept.
pub(super) fn forms(
    strap: &Strap<'_>,
    first: &[Field],
    told: Option<&NotKept<'_>>,
) -> Markup {
    let link = |view: &str| strap.address.link(view);
    let can_print = strap.printable().is_some();
    let stem = strap.stem();
    let (name, seen) = strap.seen().unwrap_or((&stem, String::new()));
    let of = |table: &str| told.filter(|told| told.table == table);
    let has_form = |table| {
        can_print && tables(first).contains(&table) && strap.thing(table).is_some()
    };
    let of_job = told.filter(|told| !has_form(told.table));
    html! {
        form method="post" action=(link("")) {
            input type="hidden" name="seen" value=(seen);
            div .field {
                div {
                    label for="keep" { (say("Keep this job as"))
                        span .how {
                            (say("A file of the workshop’s folder, for the command line too."))
                        } }
                    input type="text" id="keep" name="name" value=(name)
                        autocomplete="off";
                }
            }
            @if let Some(told) = of_job { (not_kept(&told.why)) }
            p .row {
                button type="submit" { (say("Keep this job")) }
                a .button href=(link("job.toml")) { (say("Save it elsewhere")) }
            }
        }
        @if can_print {
            details .fold #things open[told.is_some() && of_job.is_none()] {
                summary { strong { (say("Hardware and leather by name")) } }
                p .how { (say("Measured once, they can be chosen for every strap. They stand \
                    in strapwright.toml.")) }
                @for table in tables(first) { (thing_form(strap, table, of(table))) }
            }
        }
    }
}

/// The tables that the first fields are of.
fn tables(first: &[Field]) -> Vec<&str> {
    let mut tables: Vec<&str> = Vec::new();
    for table in first.iter().map(Field::table) {
        if !tables.contains(&table) {
            tables.push(table);
        }
    }
    tables
}

/// How the hardware or the leather of a table is kept by a name.
fn thing_form(strap: &Strap<'_>, table: &str, told: Option<&NotKept<'_>>) -> Markup {
    let Some((key, measures)) = strap.thing(table) else { return html! {} };
    let sort = if key.ends_with(".leather") { "leather" } else { table };
    let id = format!("thing-{table}");
    html! {
        form method="post" action=(strap.address.link("")) {
            input type="hidden" name="table" value=(table);
            div .field {
                div {
                    label for=(id) {
                        (say_with("{ $thing }: keep as", &[("thing", &say(&fields::words(sort)))]))
                        span .how { (fields::measures(Some(table), &measures)) }
                    }
                    input type="text" id=(id) name="name" autocomplete="off"
                        value=[told.map(|told| told.name)];
                }
            }
            @if let Some(told) = told { (not_kept(&told.why)) }
            p .row { button type="submit" { (say("Keep these measures")) } }
        }
    }
}

fn not_kept(why: &str) -> Markup {
    html! { p role="alert" { strong { (say("Not kept.")) } " " (why) } }
}
