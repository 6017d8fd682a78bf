//! Which fields a strap has: the few that must be measured, and the folds of all others.
//! Nothing here is about one template, so one's own gets its form too.

use super::say::{english, say, say_with};
use super::strap::Strap;
use crate::geom::Length;
use crate::job::{Body, plain_tables};
use crate::template::Key;

/// Most fields to the first drawing.
pub(super) const FIRST: usize = 6;
/// Of the lengths that a template asks for in its own tables, so many come before its
/// hardware.
const OWN_FIRST: usize = 2;

/// Keys that place a feature: who changes them writes a template.
const PLACES: [&str; 8] =
    ["on", "at", "from", "by", "to", "to-by", "and", "mirror-about"];

/// How a value is given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// As text: a length, a number, a sum or words.
    Text,
    /// One of these words.
    Choice(Vec<String>),
    /// True or false.
    Tick,
}

/// One field.
#[derive(Clone, Debug)]
pub(super) struct Field {
    pub(super) key: String,
    pub(super) label: String,
    /// How to measure it, in a line; may be empty.
    pub(super) line: String,
    pub(super) kind: Kind,
    /// What stands in it.
    pub(super) value: String,
    /// Whether a person gave the value, and not the template.
    pub(super) is_said: bool,
}

impl Field {
    /// The table of its key.
    pub(super) fn table(&self) -> &str {
        self.key.split('.').next().unwrap_or_default()
    }
}

/// The fields of one table that are seldom changed.
#[derive(Clone, Debug)]
pub(super) struct Fold {
    pub(super) heading: String,
    pub(super) fields: Vec<Field>,
}

/// The fields that come first, and the folds of the others.
pub(super) fn fields(strap: &Strap<'_>) -> (Vec<Field>, Vec<Fold>) {
    let first = first_keys(strap);
    let field = |key: &&str| field(strap, strap.key(key)?);
    let fields: Vec<Field> = first.iter().filter_map(field).collect();
    let mut folds: Vec<Fold> = vec![Fold {
        heading: say("Name"),
        fields: vec![
            text_field(strap, "title", say("Title")),
            text_field(strap, "wearer", say("For whom")),
        ],
    }];
    let rest = strap.keys().iter().filter(|key| !first.contains(&key.name.as_str()));
    let is_placed = |key: &&Key| {
        let name = key.name.rsplit('.').next().unwrap_or_default();
        key.of_feature && PLACES.contains(&name)
    };
    for key in rest.filter(|key| !key.what.is_empty() && !is_placed(key)) {
        let Some((table, name)) = key.name.split_once('.') else { continue };
        let heading = say(&words(table));
        // The heading names the table.
        let own = field(&key.name.as_str())
            .map(|own| Field { label: of_table(table, name), ..own });
        match folds.iter_mut().find(|fold| fold.heading == heading) {
            Some(fold) => fold.fields.extend(own),
            None => folds.push(Fold { heading, fields: own.into_iter().collect() }),
        }
    }
    (fields, folds)
}

/// The keys of the first fields: the measure and the leather, what the template asks for
/// itself, and the hardware that moves marks.
fn first_keys<'s>(strap: &'s Strap<'_>) -> Vec<&'s str> {
    let keys = || strap.keys().iter();
    let table = |key: &Key| key.name.split_once('.').map(|(t, _)| t.to_owned());
    let is_hardware = |table: &str| keys().any(|k| k.name == format!("{table}.hardware"));
    let is_length =
        |name: &str| strap.default(name).is_some_and(|v| Length::parse(&v).is_ok());
    let is_own = |key: &&Key| {
        let own = |t: &String| !plain_tables().any(|p| p == t) && !is_hardware(t);
        let is_asked = !key.of_feature && !key.what.is_empty() && is_length(&key.name);
        is_asked && table(key).is_some_and(|t| own(&t))
    };
    let measured = strap.job().map(|job| job.measured.as_slice()).unwrap_or_default();
    let own = keys().filter(is_own).map(|k| k.name.as_str());
    let own = || own.clone().filter(|k| !measured.iter().any(|m| m == k));
    let fixed = ["measure.taken", "measure.value", "strap.width", "strap.thickness"];
    let buckle = ["buckle.reach", "buckle.bar"];
    let hardware = measured.iter().map(String::as_str).chain(buckle);
    // A width that follows from another key is not asked for.
    let fixed = fixed.into_iter().filter(|key| *key == "measure.taken" || is_length(key));
    let wanted = fixed.chain(own().take(OWN_FIRST)).chain(hardware);
    let mut first: Vec<&str> = Vec::new();
    for name in wanted.chain(own()) {
        let Some(key) = strap.key(name) else { continue };
        if first.len() < FIRST && !first.contains(&key.name.as_str()) {
            first.push(key.name.as_str());
        }
    }
    first
}

fn text_field(strap: &Strap<'_>, key: &str, label: String) -> Field {
    let (title, wearer) = strap.title();
    Field {
        key: key.to_owned(),
        label,
        line: String::new(),
        kind: Kind::Text,
        value: if key == "title" { title } else { wearer },
        is_said: strap.is_said(key),
    }
}

pub(super) fn field(strap: &Strap<'_>, key: &Key) -> Option<Field> {
    let default = strap.default(&key.name).unwrap_or_default();
    if default.starts_with('{') {
        return None;
    }
    let said = strap.address.get(&key.name);
    let kind = match default.as_str() {
        "true" | "false" => Kind::Tick,
        value => choices(&key.what, value).map_or(Kind::Text, Kind::Choice),
    };
    let parts = told(key, matches!(kind, Kind::Choice(_)));
    let mut parts: Vec<String> = parts.into_iter().map(say).collect();
    let taken = strap.value("measure.taken").filter(|_| key.name == "measure.value");
    if let Some(taken) = taken.filter(|taken| !taken.starts_with("tape")) {
        // The template tells of the tape.
        let is_of_strap = taken.ends_with("-to-hole");
        let how = || say("On an old strap that fits, laid flat, to the hole used most.");
        parts = is_of_strap.then(how).into_iter().collect();
    }
    Some(Field {
        key: key.name.clone(),
        label: label(strap, &key.name),
        line: capital(&match parts.as_slice() {
            [what, how] => {
                say_with("{ $what }: { $how }", &[("what", what), ("how", how)])
            }
            parts => parts.concat(),
        }),
        kind,
        value: said.unwrap_or(&default).to_owned(),
        is_said: strap.is_said(&key.name),
    })
}

/// What a line says of a key, in English: what it is, and how it is measured.
pub(super) fn told(key: &Key, is_choice: bool) -> Vec<&str> {
    // What stands in brackets at the end is the source of the default.
    let what = key.what.rsplit_once(" (").filter(|_| key.what.ends_with(')'));
    let what = what.map_or(key.what.as_str(), |(what, _)| what);
    let short = what.split(": ").next().unwrap_or_default();
    // Of how to measure it, the first sentence.
    match key.how.split(". ").next() {
        _ if key.name == "measure.taken" => vec!["A strap that fits is the surest."],
        Some(how) if !how.is_empty() => vec![short, how],
        _ => vec![if is_choice { short } else { what }],
    }
}

/// The words that a key takes, where the line about it lists its default among others.
fn choices(what: &str, default: &str) -> Option<Vec<String>> {
    let list = what.split(['(', ';']).next()?;
    let list = list.rsplit_once(": ").map_or(list, |(_, list)| list);
    let list = list.replace(" or ", ", ");
    let is_word = |w: &&str| w.chars().all(|c| c.is_ascii_lowercase() || c == '-');
    let words: Vec<&str> = list.split(", ").map(str::trim).collect();
    let is_list =
        words.len() > 1 && words.iter().all(is_word) && words.contains(&default);
    is_list.then(|| words.into_iter().map(ToOwned::to_owned).collect())
}

/// What a field is called: `Waist, by the tape`.
fn label(strap: &Strap<'_>, key: &str) -> String {
    let worn = strap.job().and_then(|job| job.worn.as_ref());
    match (key, worn) {
        ("measure.taken", _) => say("How do you measure?"),
        ("measure.value", Some(worn)) => {
            let taken = strap.value("measure.taken").unwrap_or_default();
            let how = match taken.as_str() {
                "tape" => say("by the tape"),
                "tape-with-fingers" => say("fingers under the tape"),
                "trousers" => say("size of the trousers"),
                "bend-to-hole" => say("from the bend to the hole"),
                "bar-to-hole" => say("from the bar to the hole"),
                "frame-to-hole" => say("from the frame to the hole"),
                "bar-to-tip" => say("from the bar to the tip"),
                "sizing-strap" => say("hole of the sizing strap"),
                taken => taken.replace('-', " "),
            };
            format!("{}, {how}", body(worn.measure.body))
        }
        _ => called(key),
    }
}

/// A key as words: `Buckle bar`, or `Schnalle: Steg` where the whole has no words of its own.
pub(super) fn called(key: &str) -> String {
    let (table, name) = key.split_once('.').unwrap_or(("", key));
    let whole = words(&key.replace('.', " "));
    let said = say(&whole);
    if said != whole || english().is_none() || table.is_empty() {
        return said;
    }
    format!("{}: {}", say(&words(table)), say(&words(name)))
}

/// Measures of hardware of a kind, or of leather: `Bar 4.5 mm, Reach 29.5 mm`.
pub(super) fn measures(kind: Option<&str>, measures: &[(String, String)]) -> String {
    let kind = kind.unwrap_or("leather");
    let words = measures.iter().filter(|(key, _)| key != "hardware");
    let words = words.map(|(key, value)| format!("{} {value}", of_table(kind, key)));
    words.collect::<Vec<_>>().join(", ")
}

/// What a key of a table is called where the table is named above it.
fn of_table(table: &str, name: &str) -> String {
    let whole = words(&format!("{table} {name}"));
    // In other languages what is inside of a buckle is not what is inside of the size hole.
    let own = Some(say(&whole)).filter(|said| *said != whole);
    own.unwrap_or_else(|| say(&words(name)))
}

/// Whether a word is a key of a job, and not the name of a file.
pub(super) fn is_key(word: &str) -> bool {
    let is_plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
    let is_name = |part: &str| {
        part.starts_with(|c: char| c.is_ascii_lowercase()) && part.chars().all(is_plain)
    };
    word.split_once('.').is_some_and(|(table, name)| {
        is_name(table) && is_name(name) && !["toml", "csv", "pdf"].contains(&name)
    })
}

/// The part of the body that a strap closes round.
fn body(body: Body) -> String {
    match body {
        Body::Waist => say("Waist"),
        Body::Neck | Body::DogNeck => say("Neck"),
        Body::Wrist => say("Wrist"),
        Body::Forearm => say("Forearm"),
        Body::Head => say("Head"),
        Body::Thigh => say("Thigh"),
    }
}

/// A key as words: `first-fastener` is `First fastener`.
pub(super) fn words(key: &str) -> String {
    capital(&key.replace('-', " "))
}

pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|c| c.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_that_a_line_lists_are_a_choice() {
        let tip = "english-point, round, spear or bridle-point";
        assert_eq!(choices(tip, "round").unwrap().len(), 4);
        let what = "what holds a fold: rivet or screw-post";
        assert_eq!(choices(what, "rivet").unwrap(), ["rivet", "screw-post"]);
        assert_eq!(
            choices("width of the strap (1 1/2 in: common practice)", "1 1/2 in"),
            None
        );
    }
}
