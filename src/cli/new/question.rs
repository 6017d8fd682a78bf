//! What `new` asks: from the template alone, so that a template of the user's own is asked for
//! in the same way.

use crate::check::limits::measured_girth;
use crate::geom::{Extent, Length};
use crate::job::{Body, HardwareKind};
use crate::profile::Thing;
use crate::template::{About, Key, Limits};

/// One step of the dialogue.
#[derive(Clone, Debug)]
pub(super) struct Question {
    /// The dotted key that it answers.
    pub(super) key: String,
    /// What it is, and how and where it is measured; may be empty.
    pub(super) what: String,
    pub(super) how: String,
    /// The usual range in words; may be empty.
    pub(super) usual: String,
    pub(super) range: Option<Extent>,
    /// What Enter takes: a word that the template has. A measure of a template is another's.
    pub(super) default: Option<String>,
    pub(super) is_length: bool,
    /// Things of the workshop that may be named instead; the last choice is to measure one.
    pub(super) things: Vec<Thing>,
    /// The table of the thing whose name answers this question too.
    pub(super) object: String,
}

/// The questions of a template, in its order. Where the workshop has a thing of that kind, its
/// name is asked first.
pub(super) fn questions(about: &About, things: &[Thing]) -> Vec<Question> {
    let mut all: Vec<Question> = Vec::new();
    for name in &about.asked {
        let Some(key) = about.keys.iter().find(|key| key.name == *name) else { continue };
        let object = object(about, name);
        let (choice, fit) = fitting(about, &object, name, things);
        let is_first = !all.iter().any(|q| !q.things.is_empty() && q.object == object);
        if !fit.is_empty() && is_first {
            let (table, _) = object.split_once('.').unwrap_or((object.as_str(), ""));
            let kind = if choice == "leather" { choice } else { table };
            all.push(Question {
                key: format!("{table}.{choice}"),
                what: format!("Which {}?", kind.replace('-', " ")),
                how: "a name of your profile, by its number; or measure another now"
                    .to_owned(),
                usual: String::new(),
                range: None,
                default: None,
                is_length: false,
                things: fit,
                object: object.clone(),
            });
        }
        let mut own = question(key, object);
        if let (true, Some(body)) = (name == "measure.value", body(about)) {
            let girth = measured_girth(body);
            own.usual = format!("usual {} to {}", girth.from, girth.to);
            own.range = Some(girth);
        }
        all.push(own);
    }
    all
}

/// The body that the strap goes round.
fn body(about: &About) -> Option<Body> {
    let key = about.keys.iter().find(|key| key.name == "measure.body")?;
    let word = key.default.as_deref()?.trim_matches('"');
    Body::WORDS.iter().find(|(name, _)| *name == word).map(|(_, body)| *body)
}

fn question(key: &Key, object: String) -> Question {
    let value = key.default.as_deref().unwrap_or_default();
    let text = value.trim_matches(['"', '\'']);
    let is_quoted = value.starts_with(['"', '\'']);
    let starts_number = text.starts_with(|c: char| c.is_numeric());
    let is_length =
        is_quoted && (starts_number || text.contains('.')) || value.is_empty();
    let default = Some(text.to_owned()).filter(|_| is_quoted && !is_length);
    let limits = key.limits.clone().unwrap_or_default();
    let bound = |bound: &Option<String>| Length::parse(bound.as_deref()?).ok();
    let range = bound(&limits.from).zip(bound(&limits.to));
    Question {
        key: key.name.clone(),
        what: key.what.clone(),
        how: key.how.clone(),
        usual: usual(&limits),
        range: range.map(|(from, to)| Extent { from, to }),
        default,
        is_length,
        things: Vec::new(),
        object,
    }
}

/// `12 mm to 80 mm`; empty where nothing is said.
fn usual(limits: &Limits) -> String {
    match (&limits.from, &limits.to) {
        (Some(from), Some(to)) => format!("usual {from} to {to}"),
        (Some(from), None) => format!("usual {from} or more"),
        (None, Some(to)) => format!("usual {to} or less"),
        (None, None) => String::new(),
    }
}

/// The table of the thing that a key is a measure of, also where the thing's own key only names
/// this one. The leather of a piece is a thing too: `strap.leather`.
fn object(about: &About, name: &str) -> String {
    let (table, key) = name.split_once('.').unwrap_or((name, ""));
    if key == "thickness" {
        return format!("{table}.leather");
    }
    let is_own = table == "buckle" || kind(about, table).is_some();
    let named = format!("\"{name}\"");
    let user = about.keys.iter().find(|other| other.default.as_deref() == Some(&named));
    let user = user.and_then(|other| other.name.split_once('.')).map(|(table, _)| table);
    user.filter(|table| !is_own && kind(about, table).is_some())
        .unwrap_or(table)
        .to_owned()
}

/// The kind of the hardware of a table.
fn kind<'a>(about: &'a About, table: &'a str) -> Option<&'a str> {
    let key = format!("{table}.hardware");
    let said = about.keys.iter().find(|other| other.name == key)?.default.as_deref()?;
    Some(said.trim_matches('"'))
}

/// The key that names a thing in place of a measure, and the things that may stand there.
fn fitting(
    about: &About,
    object: &str,
    name: &str,
    things: &[Thing],
) -> (&'static str, Vec<Thing>) {
    let own =
        |is: &dyn Fn(&Thing) -> bool| things.iter().filter(|t| is(t)).cloned().collect();
    if name.ends_with(".thickness") {
        return ("leather", own(&|thing| thing.hardware.is_none()));
    }
    let held = kind(about, object).or((object == "buckle").then_some("buckle"));
    let Some(held) = held.map(HardwareKind::family) else {
        return ("hardware", Vec::new());
    };
    let is_one = |thing: &Thing| {
        thing.hardware.as_deref().is_some_and(|kind| HardwareKind::family(kind) == held)
    };
    ("hardware", own(&is_one))
}
