//! The bench page: the whole job in a browser, by the same engine as the command line. What it
//! shows and what is printed come from one layout and one set of sheets.
//!
//! [`answer`] is the page: a request in, an answer out, nothing kept between two. [`router`]
//! puts the guards and the limits round it.

mod address;
mod assets;
mod check;
mod door;
mod fields;
mod flat;
mod frame;
mod look;
mod made_up;
mod measure;
mod print;
mod server;
mod shelf;
mod sizes;
mod sketch;
mod strap;
mod svg;
mod workshop;

pub use door::Door;
pub use server::{router, serve};
pub use workshop::Workshop;

use address::Address;
use maud::Markup;
use strap::{Base, Strap};

/// What the page answers.
pub(crate) enum Answer {
    /// A page.
    Page(Markup),
    /// There is no such page.
    Missing(Markup),
    /// A page that says why something cannot be done.
    Refused(Markup),
    /// Another address of the same.
    See(String),
    /// A file: its name where it is to be saved, its media type, its bytes.
    File(Option<String>, &'static str, Vec<u8>),
    /// What a browser may keep for good.
    Asset(&'static str, &'static str),
}

/// Answers a request for `path` with its query; `sent` is the form that was posted, if one was.
pub(crate) fn answer(
    workshop: &Workshop,
    path: &str,
    query: &str,
    sent: Option<&str>,
) -> Answer {
    let parts: Vec<&str> = path.trim_start_matches('/').split('/').collect();
    match parts.as_slice() {
        [""] => Answer::Page(shelf::view(workshop)),
        ["help"] => Answer::Page(shelf::help()),
        ["strap", template] => of_strap(workshop, template, "", query, sent),
        ["strap", template, view] => of_strap(workshop, template, view, query, sent),
        _ if path == assets::ICON_PATH => Answer::Asset("image/svg+xml", assets::ICON),
        _ if path == assets::style_path() => Answer::Asset("text/css", assets::STYLE),
        _ if path == assets::script_path() => {
            Answer::Asset("text/javascript", assets::SCRIPT)
        }
        _ => missing(),
    }
}

fn missing() -> Answer {
    let why = "Nothing is at this address. A strap may have been renamed.";
    Answer::Missing(frame::nothing("There is no such page", why))
}

fn of_strap(
    workshop: &Workshop,
    template: &str,
    view: &str,
    query: &str,
    sent: Option<&str>,
) -> Answer {
    let Some(base) = Base::read(template, &workshop.loader) else { return missing() };
    let Some(address) = Address::read(&format!("/strap/{template}"), query) else {
        let why = "The address is too long to be a strap. Begin again from the shelf.";
        return Answer::Refused(frame::nothing("This is too much", why));
    };
    if let Some(clean) = address.cleaned(|key| base.default(key)) {
        return Answer::See(clean.link(view));
    }
    let strap = Strap::new(base, address);
    match view {
        "" => Answer::Page(measure::view(&strap)),
        "print" => Answer::Page(print::view(workshop, &strap)),
        "check" => {
            let told = sent.map(|sent| check::keep(workshop, &strap, sent));
            Answer::Page(check::view(workshop, &strap, told.as_deref()))
        }
        "sizes" => Answer::Page(sizes::view(workshop, &strap)),
        "job.toml" => {
            let name = format!("{}.toml", strap.stem());
            Answer::File(Some(name), "application/toml", strap.job_file().into_bytes())
        }
        file => {
            let size = || sizes::file(workshop, &strap, file);
            print::file(workshop, &strap, file).or_else(size).unwrap_or_else(missing)
        }
    }
}
