//! A TOML text as a tree of tables and values. Every key and value keeps its span.

use super::parse_length;
use crate::diagnostic::Span;
use crate::geom::Length;

/// A table: its entries in the order of the text.
#[derive(Clone, Debug, Default)]
pub(crate) struct Table {
    pub(crate) entries: Vec<Entry>,
}

/// A key and what it holds.
#[derive(Clone, Debug)]
pub(crate) struct Entry {
    pub(crate) key: String,
    pub(crate) key_span: Span,
    pub(crate) node: Node,
}

/// What a key holds.
#[derive(Clone, Debug)]
pub(crate) enum Node {
    Table(Table),
    Leaf(Leaf),
}

/// A value and its span.
#[derive(Clone, Debug)]
pub(crate) struct Leaf {
    pub(crate) value: Value,
    pub(crate) span: Span,
}

/// A value as the text gives it.
#[derive(Clone, Debug)]
pub(crate) enum Value {
    Text(String),
    /// The digits as they were written: no float rounds them.
    Number(String),
    Bool(bool),
    /// A list of texts.
    List(Vec<(String, Span)>),
    /// A list of tables, `[[strip]]`.
    Tables(Vec<(Table, Span)>),
    /// A value that no key takes, by the name that TOML has for it.
    Other(&'static str),
}

impl Value {
    /// The text; `None` for any other value.
    pub(crate) fn text(&self) -> Option<&str> {
        match self {
            Self::Text(text) => Some(text),
            _ => None,
        }
    }

    /// `true` or `false`; `None` for any other value.
    pub(crate) fn truth(&self) -> Option<bool> {
        match self {
            Self::Bool(truth) => Some(*truth),
            _ => None,
        }
    }

    /// The digits of a number; `None` for any other value.
    pub(crate) fn digits(&self) -> Option<&str> {
        match self {
            Self::Number(digits) => Some(digits),
            _ => None,
        }
    }

    /// A text or the digits of a number.
    pub(crate) fn word(&self) -> Option<&str> {
        self.text().or_else(|| self.digits())
    }

    /// What a finding says was found: the value itself, or its kind.
    pub(crate) fn found(&self) -> String {
        match self {
            Self::Text(text) if text.trim().is_empty() => "nothing".to_owned(),
            Self::Text(text) => format!("`{}`", text.trim()),
            Self::Number(digits) => format!("the number {digits}"),
            Self::Bool(truth) => truth.to_string(),
            Self::List(items) if items.is_empty() => "an empty list".to_owned(),
            Self::List(_) => "a list".to_owned(),
            Self::Tables(_) => "a list of tables".to_owned(),
            Self::Other(kind) => format!("a TOML {kind}"),
        }
    }
}

impl Table {
    pub(crate) fn get(&self, key: &str) -> Option<&Entry> {
        self.entries.iter().find(|e| e.key == key)
    }

    /// What a key holds, to be changed.
    pub(crate) fn get_mut(&mut self, key: &str) -> Option<&mut Node> {
        self.entries.iter_mut().find(|e| e.key == key).map(|e| &mut e.node)
    }

    /// The table of a key.
    pub(crate) fn table(&self, key: &str) -> Option<&Self> {
        match &self.get(key)?.node {
            Node::Table(table) => Some(table),
            Node::Leaf(_) => None,
        }
    }

    /// The value of a key.
    pub(crate) fn leaf(&self, key: &str) -> Option<&Leaf> {
        match &self.get(key)?.node {
            Node::Leaf(leaf) => Some(leaf),
            Node::Table(_) => None,
        }
    }

    /// The value of a dotted key, `table.name`.
    pub(crate) fn dotted_leaf(&self, key: &str) -> Option<&Leaf> {
        let (table, name) = key.split_once('.')?;
        self.table(table)?.leaf(name)
    }

    /// The key of the value at a span, dotted where it is in a table.
    pub(crate) fn key_at(&self, span: &Span) -> Option<String> {
        self.entries.iter().find_map(|entry| match &entry.node {
            Node::Table(table) => {
                table.key_at(span).map(|key| format!("{}.{key}", entry.key))
            }
            Node::Leaf(leaf) => (leaf.span == *span).then(|| entry.key.clone()),
        })
    }

    /// The dotted names of all keys in tables.
    pub(crate) fn dotted_keys(&self) -> Vec<String> {
        let tables = self.entries.iter().filter_map(|e| match &e.node {
            Node::Table(table) => Some((&e.key, table)),
            Node::Leaf(_) => None,
        });
        let keys = tables.flat_map(|(name, table)| {
            table.entries.iter().map(move |e| format!("{name}.{}", e.key))
        });
        keys.collect()
    }

    /// The spans of its values, those of inner tables too.
    pub(crate) fn spans(&self) -> Vec<Span> {
        let of_entry = |entry: &Entry| match &entry.node {
            Node::Leaf(leaf) => vec![leaf.span.clone()],
            Node::Table(table) => table.spans(),
        };
        self.entries.iter().flat_map(of_entry).collect()
    }

    /// Makes the length at a dotted key longer. Gives it as it was; `None` where there is none.
    pub(crate) fn move_length(&mut self, key: &str, by: Length) -> Option<String> {
        let (table, name) = key.split_once('.')?;
        let Some(Node::Table(inner)) = self.get_mut(table) else { return None };
        let Some(Node::Leaf(leaf)) = inner.get_mut(name) else { return None };
        let Value::Text(text) = &mut leaf.value else { return None };
        let longer = parse_length(name, text).ok()? + by;
        Some(std::mem::replace(text, format!("{} mm", longer.mm(6))))
    }

    /// Removes the value at a span, and tables that are empty then.
    pub(crate) fn remove_at(&mut self, span: &Span) {
        self.entries.retain_mut(|entry| match &mut entry.node {
            Node::Leaf(leaf) => leaf.span != *span,
            Node::Table(table) => {
                table.remove_at(span);
                !table.entries.is_empty()
            }
        });
    }

    /// Merges `other` into this table, key by key. Values of `other` win; new keys come last.
    pub(crate) fn merge(&mut self, other: Self) {
        for entry in other.entries {
            let Some(own) = self.entries.iter_mut().find(|e| e.key == entry.key) else {
                self.entries.push(entry);
                continue;
            };
            own.key_span = entry.key_span;
            match (&mut own.node, entry.node) {
                (Node::Table(own), Node::Table(other)) => own.merge(other),
                (own, other) => *own = other,
            }
        }
    }
}
