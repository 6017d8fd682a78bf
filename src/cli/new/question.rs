//! What `new` asks: from the template alone, so that a template of the user's own is asked for
//! in the same way.

use super::dialogue::Answers;
use crate::check::limits::measured_girth;
use crate::geom::{Extent, Length};
use crate::input::{quoted, to_toml};
use crate::job::{Body, HardwareKind};
use crate::profile::Thing;
use crate::template::{About, Key};
use crate::words::{Units, Wording};

/// The key of the name on the sheets.
const WEARER: &str = "wearer";
/// The choice that is no thing of the workshop.
const OWN: &str = "own";

/// One step of the dialogue.
#[derive(Clone, Debug, Default)]
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
    /// The names that it takes, if only these, each with words.
    pub(super) choices: Vec<(String, String)>,
    /// The key of the thing that this is a measure of, and the names, in TOML, that answer it.
    pub(super) by_name: (String, Vec<String>),
}

impl Question {
    /// Whether it has its answer, or the name of a thing has answered it.
    pub(super) fn is_answered(&self, answers: &Answers) -> bool {
        let (name, known) = &self.by_name;
        answers
            .iter()
            .any(|(key, value)| *key == self.key || key == name && known.contains(value))
    }

    /// Whether it asks for a measure or a choice, which a job needs.
    pub(super) fn is_of_strap(&self) -> bool {
        self.choices.is_empty() && self.key != WEARER
    }

    /// An answer as TOML. What a template has without quotes is a number, or a truth.
    pub(super) fn to_toml(&self, answer: &str) -> String {
        let is_choice = !self.choices.is_empty();
        match answer {
            OWN if is_choice => quoted(""),
            _ if is_choice || self.is_length || self.default.is_some() => quoted(answer),
            _ => to_toml(answer),
        }
    }
}

/// The questions of a template, in its order, then for whom it is. Where the workshop has a
/// thing of that kind, its name is asked first.
pub(super) fn questions(about: &About, things: &[Thing], units: Units) -> Vec<Question> {
    let mut all: Vec<Question> = Vec::new();
    for name in &about.asked {
        let Some(key) = about.keys.iter().find(|key| key.name == *name) else { continue };
        let (table, measure) = object(about, name);
        let is_leather = measure == "thickness";
        let choice = if is_leather { "leather" } else { "hardware" };
        let by_name = format!("{table}.{choice}");
        let fit = fitting(about, table, is_leather, things);
        if !fit.is_empty() && all.iter().all(|question| question.key != by_name) {
            let kind = if is_leather { choice } else { table };
            let words = |thing: &&Thing| match thing.note.as_str() {
                "" => (thing.name.clone(), thing.measures()),
                note => (thing.name.clone(), format!("{}  ({note})", thing.measures())),
            };
            let own = (OWN.to_owned(), "measure it now".to_owned());
            all.push(Question {
                key: by_name.clone(),
                what: format!("Which {}?", kind.replace('-', " ")),
                how: "a name of your profile, by its number; or measure another now"
                    .to_owned(),
                choices: fit.iter().map(words).chain([own]).collect(),
                ..Question::default()
            });
        }
        let has_it =
            |thing: &&Thing| thing.measures.iter().any(|(key, _)| key == measure);
        let known =
            fit.into_iter().filter(has_it).map(|thing| quoted(&thing.name)).collect();
        let body = body(about).filter(|_| name == "measure.value");
        let own = question(key, body.map(measured_girth), units);
        all.push(Question { by_name: (by_name, known), ..own });
    }
    all.push(Question {
        key: WEARER.to_owned(),
        what: "For whom? A name for the sheets and the file".to_owned(),
        default: Some(String::new()),
        ..Question::default()
    });
    all
}

/// The body that the strap goes round.
fn body(about: &About) -> Option<Body> {
    let word = word(about, "measure.body")?;
    Body::WORDS.iter().find(|(name, _)| *name == word).map(|(_, body)| *body)
}

/// The question of a key, with its usual range if that is not its limits.
fn question(key: &Key, range: Option<Extent>, units: Units) -> Question {
    let value = key.default.as_deref().unwrap_or_default();
    let text = value.trim_matches(['"', '\'']);
    let is_quoted = value.starts_with(['"', '\'']);
    let starts_number = text.starts_with(|c: char| c.is_numeric());
    let is_length =
        is_quoted && (starts_number || text.contains('.')) || value.is_empty();
    let limits = key.limits.as_ref();
    let limits = limits.map(|l| [l.from.clone(), l.to.clone()]).unwrap_or_default();
    let ends = range.map(|range| [range.from, range.to].map(|end| Some(end.to_string())));
    let ends = ends.unwrap_or(limits);
    let [from, to] =
        [0, 1].map(|i| ends[i].as_ref().and_then(|end| Length::parse(end).ok()));
    Question {
        key: key.name.clone(),
        what: key.what.clone(),
        how: key.how.clone(),
        usual: usual(ends, units),
        range: from.zip(to).map(|(from, to)| Extent { from, to }),
        default: (is_quoted && !is_length).then(|| text.to_owned()),
        is_length,
        ..Question::default()
    }
}

/// `usual 12 mm to 80 mm`; inches first where they were chosen; empty where nothing is said.
fn usual(ends: [Option<String>; 2], units: Units) -> String {
    let shown = |end: String| match Length::parse(&end) {
        Ok(length) if units == Units::Inches => {
            Wording { units, ..Wording::default() }.both(length)
        }
        _ => end,
    };
    match ends.map(|end| end.map(shown)) {
        [Some(from), Some(to)] => format!("usual {from} to {to}"),
        [Some(from), None] => format!("usual {from} or more"),
        [None, Some(to)] => format!("usual {to} or less"),
        [None, None] => String::new(),
    }
}

/// The table of the thing that a key is a measure of, and the key in it. Where the thing's own
/// key only names this one, it is that. The leather of a piece is a thing too.
fn object<'a>(about: &'a About, name: &'a str) -> (&'a str, &'a str) {
    let own @ (table, key) = name.split_once('.').unwrap_or((name, ""));
    if key == "thickness" || kind(about, table).is_some() {
        return own;
    }
    let named = format!("\"{name}\"");
    let user = about.keys.iter().find(|other| other.default.as_deref() == Some(&named));
    let user = user.and_then(|other| other.name.split_once('.'));
    user.filter(|(table, _)| kind(about, table).is_some()).unwrap_or(own)
}

/// The kind of the hardware of a table.
fn kind<'a>(about: &'a About, table: &str) -> Option<&'a str> {
    let own = word(about, &format!("{table}.hardware"));
    own.or((table == "buckle").then_some("buckle"))
}

/// What the template says for a key, without its quotes.
fn word<'a>(about: &'a About, name: &str) -> Option<&'a str> {
    let key = about.keys.iter().find(|key| key.name == name)?;
    Some(key.default.as_deref()?.trim_matches('"'))
}

/// The things whose name may stand in a table in place of measures.
fn fitting<'t>(
    about: &About,
    table: &str,
    is_leather: bool,
    things: &'t [Thing],
) -> Vec<&'t Thing> {
    let held = kind(about, table).map(HardwareKind::family);
    let is_one = |thing: &&Thing| match thing.hardware.as_deref() {
        Some(kind) => !is_leather && Some(HardwareKind::family(kind)) == held,
        None => is_leather,
    };
    things.iter().filter(is_one).collect()
}
