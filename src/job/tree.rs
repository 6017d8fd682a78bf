//! A TOML text as a tree in which every key and value knows its place, and the laying of
//! one tree over another.

use crate::diagnostic::{Finding, Severity, Sources, Span, too_large};
use std::cell::Cell;
use toml::de::{DeTable, DeValue};

/// Most keys of one text, and parts of its lists: the largest template has some 150.
const MOST_ENTRIES: usize = 10_000;
/// Mistakes of TOML after which the rest would only follow from them.
const MOST_ERRORS: usize = 20;

/// A table: its entries in the order of the text.
#[derive(Clone, Debug, Default)]
pub(super) struct Table {
    pub(super) entries: Vec<Entry>,
}

/// One key with what it holds.
#[derive(Clone, Debug)]
pub(super) struct Entry {
    pub(super) key: String,
    pub(super) key_span: Span,
    pub(super) node: Node,
    /// Whether anything asked for it; what nobody asked for is a key nobody knows.
    pub(super) used: Cell<bool>,
}

/// What a key holds.
#[derive(Clone, Debug)]
pub(super) enum Node {
    Table(Table),
    Leaf(Leaf),
}

/// A value and its place.
#[derive(Clone, Debug)]
pub(super) struct Leaf {
    pub(super) value: Value,
    pub(super) span: Span,
}

/// A value as it stands in the text.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Value {
    Text(String),
    /// The digits as they were written: nothing is lost through a float.
    Number(String),
    Bool(bool),
    List(Vec<(String, Span)>),
    /// Something that no key of the language takes, by its TOML name.
    Other(&'static str),
}

impl Table {
    pub(super) fn get(&self, key: &str) -> Option<&Entry> {
        self.entries.iter().find(|e| e.key == key)
    }

    /// The sub-table of that key, marked as asked for.
    pub(super) fn table(&self, key: &str) -> Option<&Self> {
        let entry = self.get(key)?;
        match &entry.node {
            Node::Table(table) => {
                entry.used.set(true);
                Some(table)
            }
            Node::Leaf(_) => None,
        }
    }

    /// Where its values stand, those of its tables too.
    pub(super) fn places(&self) -> Vec<Span> {
        let own = |entry: &Entry| match &entry.node {
            Node::Leaf(leaf) => vec![leaf.span.clone()],
            Node::Table(table) => table.places(),
        };
        self.entries.iter().flat_map(own).collect()
    }

    /// Takes the value that stands there out, and tables that are empty then.
    pub(super) fn drop_at(&mut self, span: &Span) {
        self.entries.retain_mut(|entry| match &mut entry.node {
            Node::Leaf(leaf) => leaf.span != *span,
            Node::Table(table) => {
                table.drop_at(span);
                !table.entries.is_empty()
            }
        });
    }

    /// Lays `over` over this table, key by key; new keys come last.
    pub(super) fn lay(&mut self, over: Self) {
        for entry in over.entries {
            match self.entries.iter_mut().find(|e| e.key == entry.key) {
                Some(mine) => match (&mut mine.node, entry.node) {
                    (Node::Table(below), Node::Table(above)) => {
                        below.lay(above);
                        mine.key_span = entry.key_span;
                    }
                    (below, above) => {
                        *below = above;
                        mine.key_span = entry.key_span;
                    }
                },
                None => self.entries.push(entry),
            }
        }
    }
}

/// Reads the text of a source. Mistakes of TOML itself are findings, and what could be
/// read is read.
pub(super) fn parse(
    sources: &Sources,
    source: usize,
    findings: &mut Vec<Finding>,
) -> Table {
    let Some(text) = sources.get(source).map(|s| s.text.as_str()) else {
        return Table::default();
    };
    if let Some(found) = too_large(text) {
        findings.push(
            Finding::new("job-limit", Severity::Error, "this is larger than any job")
                .at(Some(Span { source, range: 0..0 }))
                .expected(found, "lines of at most 4 KiB, in at most 1 MiB")
                .remedy("give the text of a job: short lines of keys and values"),
        );
        return Table::default();
    }
    let (root, errors) = DeTable::parse_recoverable(text);
    for error in errors.into_iter().take(MOST_ERRORS) {
        let range = error.span().unwrap_or(0..0);
        findings.push(
            Finding::new("job-syntax", Severity::Error, "this is not TOML")
                .at(Some(Span { source, range }))
                .expected(
                    error.message().replace('\n', ", "),
                    "key = \"value\", one a line",
                )
                .remedy("texts and lengths stand in double quotes: width = \"38 mm\""),
        );
    }
    let count = entries(root.get_ref());
    if count > MOST_ENTRIES {
        findings.push(
            Finding::new("job-limit", Severity::Error, "no job has so many keys")
                .at(Some(Span { source, range: 0..0 }))
                .expected(
                    format!("{count} keys and parts of lists"),
                    format!("at most {MOST_ENTRIES}"),
                )
                .remedy("give the text of a job"),
        );
        return Table::default();
    }
    table(root.get_ref(), source)
}

/// How many keys there are, tables within tables too, and parts of lists.
fn entries(table: &DeTable<'_>) -> usize {
    let within = |value: &DeValue<'_>| match value {
        DeValue::Table(inner) => entries(inner),
        DeValue::Array(items) => items.len(),
        _ => 0,
    };
    table.iter().map(|(_, value)| 1 + within(value.get_ref())).sum()
}

fn table(from: &DeTable<'_>, source: usize) -> Table {
    let entries = from
        .iter()
        .map(|(key, value)| {
            let span = Span { source, range: value.span() };
            Entry {
                key: key.get_ref().to_string(),
                key_span: Span { source, range: key.span() },
                node: node(value.get_ref(), span, source),
                used: Cell::new(false),
            }
        })
        .collect();
    Table { entries }
}

fn node(value: &DeValue<'_>, span: Span, source: usize) -> Node {
    let value = match value {
        DeValue::Table(inner) => return Node::Table(table(inner, source)),
        DeValue::String(text) => Value::Text(text.to_string()),
        DeValue::Integer(n) if n.radix() == 10 => Value::Number(n.as_str().to_owned()),
        DeValue::Float(n) => Value::Number(n.as_str().to_owned()),
        DeValue::Boolean(b) => Value::Bool(*b),
        DeValue::Array(items) => {
            let texts = items.iter().map(|item| {
                let text = item.get_ref().as_str().map(ToOwned::to_owned)?;
                Some((text, Span { source, range: item.span() }))
            });
            texts.collect::<Option<Vec<_>>>().map_or(Value::Other("array"), Value::List)
        }
        other => Value::Other(other.type_str()),
    };
    Node::Leaf(Leaf { value, span })
}

/// What a `--set` is called among the sources.
pub const SET: &str = "--set";

/// Reads one `--set KEY=VALUE`. The value is read as TOML where it is a number, a truth
/// value, a list or a quoted text, and as plain text otherwise, so that
/// `--set strap.width="38 mm"` works from a shell that eats the quotes.
pub(super) fn parse_set(
    sources: &mut Sources,
    word: &str,
    findings: &mut Vec<Finding>,
) -> Table {
    let source = sources.add(SET, word);
    // No key lies deeper than a table in the job; endless dots are no key.
    let is_key = |key: &str| !key.trim().is_empty() && key.matches('.').count() < 8;
    let split = word.split_once('=').filter(|(key, _)| is_key(key));
    let Some((key, raw)) = split else {
        let span = Span { source, range: 0..word.len() };
        findings.push(
            Finding::new("job-syntax", Severity::Error, "`--set` takes KEY=VALUE")
                .at(Some(span))
                .expected(
                    format!("`{}`", word.chars().take(40).collect::<String>()),
                    "a dotted key, an equals sign, a value",
                )
                .remedy("write it like --set strap.width=\"38 mm\""),
        );
        return Table::default();
    };
    let key_span = Span { source, range: 0..key.len() };
    let span = Span { source, range: key.len() + 1..word.len() };
    // Read behind a key as long as the word's own, so that places in a list are right.
    let line = "k".repeat(key.len()) + "=" + raw;
    let leaf = DeTable::parse(&line)
        .ok()
        .filter(|table| table.get_ref().len() == 1)
        .and_then(|table| {
            let value = table.get_ref().values().next()?;
            Some(node(value.get_ref(), span.clone(), source))
        })
        .filter(|n| !matches!(n, Node::Leaf(Leaf { value: Value::Other(_), .. })))
        .unwrap_or(Node::Leaf(Leaf { value: Value::Text(raw.to_owned()), span }));
    key.trim()
        .rsplit('.')
        .fold(None, |inner: Option<Table>, part| {
            let node = inner.map_or_else(|| leaf.clone(), Node::Table);
            let entry = Entry {
                key: part.trim().to_owned(),
                key_span: key_span.clone(),
                node,
                used: Cell::new(false),
            };
            Some(Table { entries: vec![entry] })
        })
        .unwrap_or_default()
}
