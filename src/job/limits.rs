//! The limits that a template sets for its own values, and the keys that it describes.

use super::resolve::SECTIONS;
use super::section::{Reader, Section};
use super::sum::is_key;
use crate::diagnostic::{Finding, Severity, Span};
use crate::geom::{Length, Ratio};
use crate::input::{Leaf, Value};
use crate::job::rule;

/// Checks every value that `about.limits` names against its limits.
pub(super) fn check(about: &Section<'_, '_>) {
    let Some(limits) = about.section("limits") else { return };
    for entry in &limits.table.entries {
        if let Some(one) = limits.section(&entry.key) {
            check_value(about, &limits, &one);
        }
    }
}

/// Checks the value whose dotted key the table `limits`, one of `all`, has as its name.
fn check_value(about: &Section<'_, '_>, all: &Section<'_, '_>, limits: &Section<'_, '_>) {
    let (reader, key) = (about.reader, limits.name);
    let source = limits.text("source").value;
    let weights = [("warning", Severity::Warning), ("error", Severity::Error)];
    let weight = limits.choice_or("weight", &weights, Severity::Warning);
    let [from, to] = ["from", "to"].map(|bound| Some((bound, limits.leaf(bound)?)));
    let Some(leaf) = reader.root.dotted_leaf(key) else {
        let is_described =
            about.table.table("keys").is_some_and(|k| k.get(key).is_some());
        if !is_described {
            reader.find(reader.unknown_key(key).at(limits.span.clone()));
        }
        return;
    };
    let has_finding = |f: &Finding| f.span.as_ref() == Some(&leaf.span);
    if reader.findings.borrow().iter().any(has_finding) {
        return;
    }
    let read = |bound: Option<(&str, &Leaf)>| {
        bound.map(|(name, bound)| read_bound(limits, name, bound, leaf)).transpose()
    };
    // A wrong value or bound is a finding already.
    let (Some(value), Ok(from), Ok(to)) =
        (read_value(reader, key, leaf), read(from), read(to))
    else {
        return;
    };
    // A bound that names a value is as wrong as that value, which has limits of its own.
    let names = |leaf: &Leaf| leaf.value.text().is_some_and(is_key);
    if let (Some(least), Some(most)) = (from, to)
        && least > most
        && ![limits.leaf("from"), limits.leaf("to")].into_iter().flatten().any(names)
    {
        let message = format!("the limits of `{key}` are the wrong way round");
        reader.find(
            Finding::warning(rule::BAD_VALUE, message)
                .at(limits.span.clone())
                .expected(
                    format!("from {} to {}", least.words(), most.words()),
                    "the smaller one first",
                )
                .remedy("swap the two, or the values that they name"),
        );
        return;
    }
    let is_below = from.is_some_and(|from| value < from);
    if !is_below && to.is_none_or(|to| value <= to) {
        return;
    }
    let range = match (from, to) {
        (Some(from), Some(to)) => format!("{} to {}", from.words(), to.words()),
        (Some(from), None) => format!("at least {}", from.words()),
        (None, Some(to)) => format!("at most {}", to.words()),
        (None, None) => "anything".to_owned(),
    };
    let source = if source.is_empty() { source } else { format!(" ({source})") };
    let bound = if is_below { "from" } else { "to" };
    let nearest = if is_below { from } else { to };
    let line = format!("\"{key}\".{bound} = {}", value.toml());
    // A dotted key belongs to the table above it, so it stands above the first one. A text
    // that has a table `about` cannot have dotted keys of `about` besides.
    let put = if is_headed(all, leaf.span.source) {
        format!("add to [about.limits] of this text: {line}")
    } else if is_headed(about, leaf.span.source) {
        format!("add to [about] of this text: limits.{line}")
    } else {
        format!("put above the first [table] of the job: about.limits.{line}")
    };
    let keys = about.table.table("keys");
    let meaning = keys.and_then(|keys| keys.leaf(key)).and_then(|k| k.value.text());
    let look = match value {
        Quantity::Length(_) => "measure again, and look at the number and its unit",
        Quantity::Number(_) => "look at the number",
    };
    let meaning = meaning.map_or_else(String::new, |meaning| {
        // What stands in brackets at its end is the source, which is shown already.
        let source = meaning.strip_suffix(')').and_then(|m| m.rsplit_once(" ("));
        format!(" ({key}: {})", source.map_or(meaning, |(meaning, _)| meaning))
    });
    let message = format!("`{key}` is outside the limits of its template");
    let finding = Finding::new(rule::OUT_OF_LIMITS, weight, message)
        .at(Some(reader.defining_leaf(leaf).span.clone()))
        .expected(value.words(), range + &source)
        .remedy(format!("{look}{meaning}; if it is meant, {put}"));
    reader.find(nearest.into_iter().fold(finding, |f, bound| f.change(bound.value())));
}

/// Whether a text has a table under a heading of its own, and not by dotted keys.
fn is_headed(table: &Section<'_, '_>, source: usize) -> bool {
    let Some(name) = table.span.as_ref().filter(|span| span.source == source) else {
        return false;
    };
    let is_dotted =
        |key: &Span| key.source == source && key.range.start == name.range.end + 1;
    !table.table.entries.iter().any(|entry| is_dotted(&entry.key_span))
}

/// Finds keys that `about.keys` describes and that the template does not have.
pub(super) fn check_described(about: &Section<'_, '_>) {
    let reader = about.reader;
    let Some(keys) = about.section("keys") else { return };
    keys.accept_all();
    for entry in &keys.table.entries {
        let key = entry.key.as_str();
        if reader.root.dotted_leaf(key).is_none() && !may_have(reader, key) {
            // As a key that nothing reads: the job may have made it idle.
            let unknown = Finding { rule: rule::UNKNOWN_KEY, ..reader.unknown_key(key) };
            reader.find(unknown.at(Some(entry.key_span.clone())));
        }
    }
}

/// Whether a template without a value of that key may have one: its tables read the key, or
/// it is of a table that every strap may have.
fn may_have(reader: &Reader<'_>, key: &str) -> bool {
    let Some((table, name)) = key.split_once('.') else { return false };
    if reader.root.get(table).is_none() {
        return SECTIONS.contains(&table);
    }
    reader.is_asked(table, name)
}

/// A value that has limits: a length or a number.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
enum Quantity {
    Length(Length),
    Number(Ratio),
}

impl Quantity {
    fn words(self) -> String {
        match self {
            Self::Length(length) => length.both(),
            Self::Number(number) => number.to_string(),
        }
    }

    /// As `--set` takes it.
    fn value(self) -> String {
        match self {
            Self::Length(length) => length.to_string(),
            Self::Number(number) => number.to_string(),
        }
    }

    /// As a job gives it.
    fn toml(self) -> String {
        let value = self.value();
        if matches!(self, Self::Length(_)) { format!("\"{value}\"") } else { value }
    }
}

/// A value; `None` for a wrong one, whose mistake is found where the job reads it.
fn read_value(reader: &Reader<'_>, key: &str, leaf: &Leaf) -> Option<Quantity> {
    match &leaf.value {
        Value::Text(text) => {
            let before = reader.findings.borrow().len();
            let length = reader.sum(text, &leaf.span, &mut vec![key.to_owned()]);
            reader.findings.borrow_mut().truncate(before);
            length.map(Quantity::Length)
        }
        Value::Number(digits) => Ratio::parse(digits).map(Quantity::Number),
        _ => None,
    }
}

/// A wrong bound, which is a finding.
struct Invalid;

/// A bound, which is of the same kind as the value.
fn read_bound(
    limits: &Section<'_, '_>,
    name: &str,
    bound: &Leaf,
    value: &Leaf,
) -> Result<Quantity, Invalid> {
    let reader = limits.reader;
    let full = limits.full_name(name);
    let wrong = match (&bound.value, &value.value) {
        (Value::Text(text), Value::Text(_)) => {
            let path = &mut vec![limits.name.to_owned()];
            let length = reader.sum(text, &bound.span, path);
            return length.map(Quantity::Length).ok_or(Invalid);
        }
        (_, Value::Text(_)) => {
            reader.wrong_length(&full, bound, "a length with its unit")
        }
        _ => match bound.value.digits().and_then(Ratio::parse) {
            Some(number) => return Ok(Quantity::Number(number)),
            None => reader.wrong(&full, bound, "a number"),
        },
    };
    reader.find(wrong);
    Err(Invalid)
}
