//! The bench page: the whole job in a browser, by the same engine as the command line. What it
//! shows and what is printed come from one layout and one set of sheets.
//!
//! `answer` is the page: a request in, an answer out, nothing kept between two. [`router`]
//! puts the guards and the limits round it.

mod address;
mod assets;
mod base;
mod check;
mod door;
mod drawer;
mod fields;
mod finding_words;
mod flat;
mod frame;
mod keep;
mod look;
mod made_up;
mod measure;
mod orders;
mod own_profile;
mod picture;
mod print;
mod say;
mod server;
mod shelf;
mod sizes;
mod sketch;
mod strap;
mod svg;
mod toml_text;
mod turns;
mod workshop;

pub use door::Door;
pub use server::{router, serve};
pub use workshop::Workshop;

use crate::words::Language;
use address::Address;
use base::Base;
use maud::Markup;
use say::say;
use strap::Strap;

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
    /// The view from which another language was chosen, in that.
    Speak(Language, String),
    /// A file: its name where it is to be saved, its media type, its bytes.
    File(Option<String>, &'static str, Vec<u8>),
    /// What a browser may keep for good.
    Asset(&'static str, &'static str),
}

/// A form that was posted.
pub(crate) enum Sent {
    /// Its fields, as in an address.
    Fields(String),
    /// Its parts: texts and files.
    Parts(Vec<orders::Part>),
}

impl Sent {
    fn fields(&self) -> Option<&str> {
        if let Self::Fields(fields) = self { Some(fields) } else { None }
    }

    fn parts(&self) -> Option<&[orders::Part]> {
        if let Self::Parts(parts) = self { Some(parts) } else { None }
    }
}

/// Answers a request for `path` with its query in a language; `sent` is the form that was posted,
/// if one was.
pub(crate) fn answer(
    workshop: &Workshop,
    language: Language,
    (path, query): (&str, &str),
    sent: Option<&Sent>,
) -> Answer {
    let here = [path, query].join(if query.is_empty() { "" } else { "?" });
    say::speak(language, if sent.is_none() { here } else { String::new() });
    let parts: Vec<&str> = path.trim_start_matches('/').split('/').collect();
    let fields = sent.and_then(Sent::fields);
    match parts.as_slice() {
        [""] => Answer::Page(shelf::view(workshop)),
        ["orders"] => orders::answer(workshop, sent.and_then(Sent::parts)),
        ["drawer"] => Answer::Page(drawer::view(workshop)),
        ["drawer", name] => {
            drawer::file(workshop, &decoded(name)).unwrap_or_else(missing)
        }
        ["help"] => Answer::Page(shelf::help()),
        ["language"] => fields.and_then(chosen_language).unwrap_or_else(missing),
        ["strap" | "job", _] => of_strap(workshop, path, "", query, fields),
        ["strap" | "job", _, view] => {
            let path = path.strip_suffix(&format!("/{view}")).unwrap_or(path);
            of_strap(workshop, path, view, query, fields)
        }
        _ if path == assets::ICON_PATH => Answer::Asset("image/svg+xml", assets::ICON),
        _ if path == assets::script_path() => {
            Answer::Asset("text/javascript", assets::SCRIPT)
        }
        _ => missing(),
    }
}

/// The language that a form at the foot of a view chooses, and the address of that view.
fn chosen_language(fields: &str) -> Option<Answer> {
    let find = |key: &str| {
        let mut pairs = form_urlencoded::parse(fields.as_bytes());
        pairs.find(|(name, _)| name == key).map(|(_, value)| value.into_owned())
    };
    let language = Language::from_code(&find("language")?)?;
    // With two slashes it would lead to another machine.
    let from = find("from").unwrap_or_default();
    let from = format!("/{}", from.trim_start_matches(['/', '\\']));
    Some(Answer::Speak(language, from))
}

fn missing() -> Answer {
    let why = say("Nothing is at this address. A strap may have been renamed.");
    Answer::Missing(frame::nothing(&say("There is no such page"), &why))
}

/// The name of a job in an address.
fn decoded(name: &str) -> String {
    let pair = format!("n={name}");
    let mut pairs = form_urlencoded::parse(pair.as_bytes());
    pairs.next().map(|(_, name)| name.into_owned()).unwrap_or_default()
}

/// The address of a job.
fn job_path(name: &str) -> String {
    format!("/job/{}", encoded(name))
}

/// A name as it stands in an address.
fn encoded(name: &str) -> String {
    form_urlencoded::byte_serialize(name.as_bytes()).collect()
}

fn of_strap(
    workshop: &Workshop,
    path: &str,
    view: &str,
    query: &str,
    sent: Option<&str>,
) -> Answer {
    let base = if let Some(name) = path.strip_prefix("/job/") {
        Base::of_job(&decoded(name), workshop)
    } else {
        let name = path.strip_prefix("/strap/").unwrap_or_default();
        Base::template(&decoded(name), workshop)
    };
    let Some(base) = base else { return missing() };
    let Some(address) = Address::read(path, query) else {
        let why =
            say("The address is too long to be a strap. Begin again from the shelf.");
        return Answer::Refused(frame::nothing(&say("This is too much"), &why));
    };
    if let Some(clean) = address.cleaned(|key| base.shown_default(&address, key)) {
        return Answer::See(clean.link(view));
    }
    // The sheets are in the language of the page, and stay so when that is changed.
    let of_sheets = workshop.profile.wording().language;
    let is_print = view == "print" && sent.is_none() && address.get("language").is_none();
    if is_print && say::language() != of_sheets {
        return Answer::See(address.with("language", say::language().code()).link(view));
    }
    let units = print::units(workshop, address.get("units").unwrap_or_default());
    let strap = Strap::new(base, address, units);
    match (view, sent) {
        ("", Some(sent)) => keep::keep(workshop, &strap, sent),
        ("", None) => Answer::Page(measure::view(&strap, None)),
        ("print", _) => {
            let told = sent.map(|_| print::keep(workshop, &strap));
            Answer::Page(print::view(workshop, &strap, told.as_deref()))
        }
        ("check", _) => {
            let told = sent.map(|sent| check::keep(workshop, &strap, sent));
            Answer::Page(check::view(workshop, &strap, told.as_deref()))
        }
        ("sizes", _) => Answer::Page(sizes::view(workshop, &strap)),
        ("job.toml", _) => {
            let name = Some(format!("{}.toml", strap.stem()));
            match strap.job_file() {
                Ok(text) => Answer::File(name, "application/toml", text.into_bytes()),
                Err(why) => Answer::Refused(frame::nothing(&say("No job file"), &why)),
            }
        }
        (file, _) => {
            let size = || sizes::file(workshop, &strap, file);
            print::file(workshop, &strap, file).or_else(size).unwrap_or_else(missing)
        }
    }
}
