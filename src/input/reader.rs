//! Reading of a whole tree: collects the findings, and notes which keys are asked for.

use super::{Format, Leaf, Node, Section, Table, Takes, Value, parse_length};
use crate::diagnostic::{Finding, nearest, one_of};
use crate::geom::LengthError;
use std::cell::RefCell;
use std::collections::BTreeMap;

/// Reads a tree. A mistake is a finding, and the reading goes on, so that one run shows all
/// of them. `C` is what one kind of file keeps beside that.
#[derive(Debug)]
pub(crate) struct Reader<'t, C = ()> {
    pub(crate) root: &'t Table,
    pub(crate) format: &'static Format,
    pub(crate) findings: RefCell<Vec<Finding>>,
    /// The keys that were asked for in each table, in that order.
    asked: RefCell<Asked>,
    pub(crate) context: C,
}

/// The keys of each table, and what they take.
type Asked = BTreeMap<String, Vec<(String, Takes)>>;

impl<'t, C> Reader<'t, C> {
    pub(crate) fn new(root: &'t Table, format: &'static Format, context: C) -> Self {
        let (findings, asked) = (RefCell::default(), RefCell::default());
        Self { root, format, findings, asked, context }
    }

    pub(crate) fn find(&self, finding: Finding) {
        self.findings.borrow_mut().push(finding);
    }

    /// Notes that the key of a table is asked for.
    pub(crate) fn ask(&self, table: &str, key: &str) {
        self.ask_for(table, key, || Takes::Any);
    }

    /// Notes that the key of a table is asked for, and what it takes. What was said first
    /// holds: a list of lengths is read as texts later.
    pub(crate) fn ask_for(&self, table: &str, key: &str, takes: impl FnOnce() -> Takes) {
        let mut asked = self.asked.borrow_mut();
        let Some(keys) = asked.get_mut(table) else {
            asked.insert(table.to_owned(), vec![(key.to_owned(), takes())]);
            return;
        };
        match keys.iter_mut().find(|(own, _)| own == key) {
            Some((_, own @ Takes::Any)) => *own = takes(),
            Some(_) => {}
            None => keys.push((key.to_owned(), takes())),
        }
    }

    /// Whether the key of a table was asked for.
    pub(crate) fn is_asked(&self, table: &str, key: &str) -> bool {
        self.asked
            .borrow()
            .get(table)
            .is_some_and(|keys| keys.iter().any(|(k, _)| k == key))
    }

    /// The keys that were asked for in a table, in that order, and what they take.
    pub(crate) fn keys_asked(&self, table: &str) -> Vec<(String, Takes)> {
        self.asked.borrow().get(table).cloned().unwrap_or_default()
    }

    /// The keys that stand outside any table.
    pub(crate) fn top(&self) -> Section<'_, 't, C> {
        Section { reader: self, name: "", table: self.root, span: None }
    }

    /// The table of that name; `None` where there is none.
    pub(crate) fn section<'r>(&'r self, name: &'r str) -> Option<Section<'r, 't, C>> {
        self.top().section(name)
    }

    /// An error: the value of a key, by its dotted name, is not what is required.
    pub(crate) fn wrong(&self, key: &str, leaf: &Leaf, required: &str) -> Finding {
        let message = format!("`{key}` is not {required}");
        Finding::error(self.format.rules.bad_value, message)
            .at(Some(leaf.span.clone()))
            .expected(leaf.value.found(), required)
            .remedy(format!("write {required}"))
    }

    /// The same where a length is required.
    pub(crate) fn wrong_length(&self, key: &str, leaf: &Leaf, required: &str) -> Finding {
        let wrong = self.wrong(key, leaf, required);
        let wrong = Finding { rule: self.format.rules.bad_length, ..wrong };
        match &leaf.value {
            Value::Number(n) => wrong
                .expected(format!("the bare number {n}"), required)
                .remedy(LengthError::unit_wanted(n)),
            Value::Text(text) => {
                let found = match parse_length(key, text) {
                    Ok(length) => length.both(),
                    Err(_) if text.trim().is_empty() => leaf.value.found(),
                    Err(error) => error.found().to_owned(),
                };
                wrong
                    .expected(found, required)
                    .remedy("measure it and write it like 1500 mm, 1.5 m or 1 1/2 in")
            }
            _ => wrong,
        }
    }

    /// All findings, with the keys that nothing asked for. A misspelt key explains a missing
    /// one, so missing keys come last.
    pub(crate) fn finish(self) -> Vec<Finding> {
        let Self { root, format, findings, asked, .. } = self;
        let mut findings = findings.into_inner();
        find_unknown(root, "", format, &asked.into_inner(), &mut findings);
        findings.sort_by_key(|f| f.rule == format.rules.missing_key);
        findings
    }
}

fn find_unknown(
    table: &Table,
    name: &str,
    format: &Format,
    asked: &Asked,
    findings: &mut Vec<Finding>,
) {
    let known: Vec<&str> =
        asked.get(name).into_iter().flatten().map(|(key, _)| key.as_str()).collect();
    for entry in &table.entries {
        let key = entry.key.as_str();
        if !known.contains(&key) {
            let nearest = || nearest(key, known.iter().copied());
            let remedy = tables_with(name, key, asked).unwrap_or_else(nearest);
            let required = format.known_key.map_or_else(|| one_of(&known), Into::into);
            let message = format!("no key is called `{}`", full_name(name, key));
            let finding = Finding::error(format.rules.unknown_key, message)
                .at(Some(entry.key_span.clone()))
                .expected(format!("`{key}`"), required)
                .remedy(remedy);
            findings.push(finding);
            continue;
        }
        let inner: Vec<&Table> = match &entry.node {
            Node::Table(table) => vec![table],
            Node::Leaf(Leaf { value: Value::Tables(tables), .. }) => {
                tables.iter().map(|(table, _)| table).collect()
            }
            Node::Leaf(_) => Vec::new(),
        };
        for table in inner {
            find_unknown(table, key, format, asked, findings);
        }
    }
}

/// The dotted name of a key; `table` is empty for a key outside any.
pub(super) fn full_name(table: &str, key: &str) -> String {
    if table.is_empty() { key.to_owned() } else { format!("{table}.{key}") }
}

/// Most tables that a finding names for a key that stands outside any.
const MOST_TABLES: usize = 3;

/// For a key that stands outside any table, the tables that have such a key.
fn tables_with(table: &str, key: &str, asked: &Asked) -> Option<String> {
    let has = |(name, keys): &(&String, &Vec<(String, Takes)>)| {
        !name.is_empty() && keys.iter().any(|(k, _)| k == key)
    };
    let tables = asked.iter().filter(has).take(MOST_TABLES + 1);
    let all: Vec<String> = tables.map(|(name, _)| format!("`{name}.{key}`")).collect();
    let is_told = table.is_empty() && (1..=MOST_TABLES).contains(&all.len());
    is_told.then(|| format!("did you mean {}?", all.join(" or ")))
}
