//! What a template says of its own values: the least and the most that they may be before
//! a word is said.

use super::reader::{Reader, nearest};
use super::resolve::SECTIONS;
use super::section::Section;
use super::tree::{Leaf, Node, Value};
use crate::diagnostic::{Finding, Severity};
use crate::geom::{Length, Ratio};

/// Holds every value that `about.limits` names against its limits there.
pub(super) fn check(about: &Section<'_, '_>) {
    let reader = about.reader;
    reader.ask("about", "limits");
    let Some(limits) = about.table.table("limits") else { return };
    for entry in &limits.entries {
        let key = entry.key.as_str();
        let Some(table) = limits.table(key) else {
            entry.used.set(true);
            reader.find(
                Finding::new(
                    "bad-value",
                    Severity::Error,
                    format!("the limits of `{key}` are no table"),
                )
                .at(Some(entry.key_span.clone()))
                .expected("a single value", "a table with from, to and source")
                .remedy(format!(
                    "write \"{key}\" = {{ from = \"20 mm\", to = \"60 mm\", source = \"...\" }}"
                )),
            );
            continue;
        };
        let span = Some(entry.key_span.clone());
        let limits = Section { reader, name: key, table, span };
        let source = limits.text("source").value;
        let weights = [("warning", Severity::Warning), ("error", Severity::Error)];
        let weight = limits.choice_or("weight", &weights, Severity::Warning);
        let [from, to] = ["from", "to"].map(|bound| limits.leaf(bound));
        let Some(value) = leaf(reader, key) else {
            if !is_described(about, key) {
                reader.find(unknown(reader, key).at(limits.span.clone()));
            }
            continue;
        };
        let has_finding = |f: &Finding| f.span.as_ref() == Some(&value.span);
        if reader.findings.borrow().iter().any(has_finding) {
            // A wrong value is no measure of its limits.
            continue;
        }
        let read =
            |leaf: Option<&Leaf>| leaf.map(|l| bound(reader, l, value)).transpose();
        // A wrong bound has its finding already.
        let (Some(found), Ok(from), Ok(to)) =
            (amount(reader, value), read(from), read(to))
        else {
            continue;
        };
        let bounds = (from, to);
        let below = bounds.0.as_ref().is_some_and(|from| found < *from);
        let above = bounds.1.as_ref().is_some_and(|to| found > *to);
        if below || above {
            let whence =
                if source.is_empty() { String::new() } else { format!(" ({source})") };
            let bound = if below { "from" } else { "to" };
            let meant = found.toml();
            reader.find(
                Finding::new(
                    "out-of-limits",
                    weight,
                    format!("`{key}` is beyond the limits of its template"),
                )
                .at(Some(reader.giver(value).span.clone()))
                .expected(found.words(), range_words(&bounds) + &whence)
                .remedy(format!(
                    "look at the number and its unit; if it is meant, add to the job: \
                     about.limits.\"{key}\".{bound} = {meant}"
                )),
            );
        }
    }
}

/// Finds what `about.keys` describes and nothing of the template is called.
pub(super) fn check_described(about: &Section<'_, '_>) {
    let reader = about.reader;
    reader.ask("about", "keys");
    let Some(keys) = about.table.table("keys") else { return };
    for entry in &keys.entries {
        entry.used.set(true);
        let key = entry.key.as_str();
        if leaf(reader, key).is_none() && !may_have(reader, key) {
            let span = Some(entry.key_span.clone());
            // As a key that nothing reads: of a template that something else lies over, it
            // may have come to be idle.
            reader.find(Finding { rule: "unknown-key", ..unknown(reader, key) }.at(span));
        }
    }
}

/// Whether a template that has no value of that key may have one: what its tables can be
/// told, and any key of a table that every strap may have.
fn may_have(reader: &Reader<'_>, key: &str) -> bool {
    let Some((table, name)) = key.split_once('.') else { return false };
    if reader.root.get(table).is_none() {
        return SECTIONS.contains(&table);
    }
    reader.is_asked(table, name)
}

/// A length or a number.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
enum Amount {
    Length(Length),
    Number(Ratio),
}

impl Amount {
    fn words(self) -> String {
        match self {
            Self::Length(length) => length.both(),
            Self::Number(number) => number.to_string(),
        }
    }

    /// As it is written in a job.
    fn toml(self) -> String {
        match self {
            Self::Length(length) => format!("\"{} mm\"", length.plain_mm()),
            Self::Number(number) => number.to_string(),
        }
    }
}

type Bounds = (Option<Amount>, Option<Amount>);

fn range_words((from, to): &Bounds) -> String {
    match (from, to) {
        (Some(from), Some(to)) => format!("{} to {}", from.words(), to.words()),
        (Some(from), None) => format!("at least {}", from.words()),
        (None, Some(to)) => format!("at most {}", to.words()),
        (None, None) => "anything".to_owned(),
    }
}

fn leaf<'t>(reader: &Reader<'t>, key: &str) -> Option<&'t Leaf> {
    let (table, name) = key.split_once('.')?;
    match &reader.root.get(table)?.node {
        Node::Table(table) => match &table.get(name)?.node {
            Node::Leaf(leaf) => Some(leaf),
            Node::Table(_) => None,
        },
        Node::Leaf(_) => None,
    }
}

fn is_described(about: &Section<'_, '_>, key: &str) -> bool {
    let keys = about.table.get("keys").map(|e| &e.node);
    matches!(keys, Some(Node::Table(keys)) if keys.get(key).is_some())
}

/// What a value amounts to; a wrong one has its finding where it is read.
fn amount(reader: &Reader<'_>, leaf: &Leaf) -> Option<Amount> {
    match &leaf.value {
        Value::Text(text) => {
            // Only once: what reads the value itself finds its mistakes.
            let before = reader.findings.borrow().len();
            let length = reader.sum(text, &leaf.span, &mut Vec::new());
            reader.findings.borrow_mut().truncate(before);
            length.map(Amount::Length)
        }
        Value::Number(digits) => Ratio::parse(digits).map(Amount::Number),
        _ => None,
    }
}

/// A wrong bound, which is a finding.
struct Flawed;

/// A bound, which is of the kind of its value.
fn bound(reader: &Reader<'_>, leaf: &Leaf, value: &Leaf) -> Result<Amount, Flawed> {
    let wanted = match (&leaf.value, &value.value) {
        (Value::Text(text), Value::Text(_)) => {
            let length = reader.sum(text, &leaf.span, &mut Vec::new());
            return length.map(Amount::Length).ok_or(Flawed);
        }
        (Value::Number(digits), Value::Number(_)) => {
            if let Some(number) = Ratio::parse(digits) {
                return Ok(Amount::Number(number));
            }
            "a number"
        }
        (_, Value::Text(_)) => "a length with its unit",
        _ => "a number",
    };
    reader.wrong(leaf, &leaf.value, wanted);
    Err(Flawed)
}

fn unknown(reader: &Reader<'_>, key: &str) -> Finding {
    let all = reader.all_keys();
    Finding::new(
        "unknown-reference",
        Severity::Error,
        format!("no key is called `{key}`"),
    )
    .expected(format!("`{key}`"), "a dotted key of the template")
    .remedy(nearest(key, all.iter().map(String::as_str)))
}
