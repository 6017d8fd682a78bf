//! Typed reading of the laid-over tree. It never stops at a mistake: it keeps the finding
//! and goes on, so that one run shows all of them.

use super::section::Section;
use super::tree::{Leaf, Node, Table, Value};
use crate::diagnostic::{Finding, Severity};
use crate::geom::Length;
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};

/// Reads the whole tree; hands out readers of its tables.
pub(super) struct Reader<'t> {
    pub(super) root: &'t Table,
    pub(super) findings: RefCell<Vec<Finding>>,
    /// The names that were asked for in each table, to name the nearest of them.
    asked: RefCell<BTreeMap<String, BTreeSet<String>>>,
    /// Sums already worked out, `None` where they had a mistake.
    pub(super) sums: RefCell<BTreeMap<String, Option<Length>>>,
}

impl<'t> Reader<'t> {
    pub(super) fn new(root: &'t Table) -> Self {
        Self {
            root,
            findings: RefCell::default(),
            asked: RefCell::default(),
            sums: RefCell::default(),
        }
    }

    pub(super) fn find(&self, finding: Finding) {
        self.findings.borrow_mut().push(finding);
    }

    pub(super) fn ask(&self, table: &str, key: &str) {
        let mut asked = self.asked.borrow_mut();
        asked.entry(table.to_owned()).or_default().insert(key.to_owned());
    }

    /// Whether that key of a table was asked for.
    pub(super) fn is_asked(&self, table: &str, key: &str) -> bool {
        self.asked.borrow().get(table).is_some_and(|keys| keys.contains(key))
    }

    /// The keys that were asked for in a table.
    pub(super) fn keys_asked(&self, table: &str) -> BTreeSet<String> {
        self.asked.borrow().get(table).cloned().unwrap_or_default()
    }

    /// The table of that name, `None` where the job has none.
    pub(super) fn section<'r>(&'r self, name: &'r str) -> Option<Section<'r, 't>> {
        self.ask("", name);
        let table = self.root.table(name)?;
        let span = self.root.get(name).map(|e| e.key_span.clone());
        Some(Section { reader: self, name, table, span })
    }

    /// The keys that stand outside any table.
    pub(super) fn top(&self) -> Section<'_, 't> {
        Section { reader: self, name: "", table: self.root, span: None }
    }

    /// Whether the job has a table of that name with a `kind`: a feature.
    pub(super) fn has_kind(&self, name: &str) -> bool {
        let has = match self.root.get(name).map(|e| &e.node) {
            Some(Node::Table(table)) => table.get("kind").is_some(),
            _ => false,
        };
        if has {
            self.ask("", name);
        }
        has
    }

    /// All findings, unknown keys among them: every key that nobody asked for.
    pub(super) fn finish(self) -> Vec<Finding> {
        let mut findings = self.findings.into_inner();
        let asked = self.asked.into_inner();
        unknown(self.root, "", &asked, &mut findings);
        findings
    }

    pub(super) fn wrong(&self, leaf: &Leaf, value: &Value, required: &str) {
        let (found, remedy) = match value {
            Value::Text(t) => (format!("`{t}`"), format!("write {required}")),
            Value::Number(n) => (
                format!("the bare number {n}"),
                format!("write it in quotes with its unit: \"{n} mm\" or \"{n} in\""),
            ),
            Value::Bool(b) => (b.to_string(), format!("write {required}")),
            Value::List(_) => ("a list".to_owned(), format!("write {required}")),
            Value::Other(kind) => (format!("a TOML {kind}"), format!("write {required}")),
        };
        let is_length = required.starts_with("a length");
        let rule = if is_length { "bad-length" } else { "bad-value" };
        let remedy = if is_length { remedy } else { format!("write {required}") };
        self.find(
            Finding::new(rule, Severity::Error, format!("this is not {required}"))
                .at(Some(leaf.span.clone()))
                .expected(found, required)
                .remedy(remedy),
        );
    }
}

/// Longest word for which a nearest name is looked for, in bytes.
const LONGEST_SLIP: usize = 60;
/// Most names that are told.
const MOST_NAMES: usize = 40;

/// `did you mean ...` with the nearest of `names`, or the list of them.
pub(crate) fn nearest<'n>(word: &str, names: impl Iterator<Item = &'n str>) -> String {
    let all: Vec<&str> = names.collect();
    let best = all
        .iter()
        .filter(|n| word.len() <= LONGEST_SLIP && n.len() <= LONGEST_SLIP)
        .map(|n| (strsim::damerau_levenshtein(word, n), *n))
        .filter(|(d, n)| *d <= n.chars().count().max(3) / 2)
        .min();
    match best {
        Some((_, name)) => format!("did you mean `{name}`?"),
        None if all.is_empty() => "take it out".to_owned(),
        None if all.len() > MOST_NAMES => {
            let more = all.len() - MOST_NAMES;
            format!("choose one of: {} and {more} more", all[..MOST_NAMES].join(", "))
        }
        None => format!("choose one of: {}", all.join(", ")),
    }
}

/// Most tables that are told for a key that stands outside any.
const MOST_TABLES: usize = 3;

/// For a key that stands outside any table, the keys of tables that are called so.
fn in_a_table(
    path: &str,
    key: &str,
    asked: &BTreeMap<String, BTreeSet<String>>,
) -> Option<String> {
    let has = |(table, keys): &(&String, &BTreeSet<String>)| {
        !table.is_empty() && keys.contains(key)
    };
    let tables = asked.iter().filter(has).take(MOST_TABLES + 1);
    let all: Vec<String> = tables.map(|(table, _)| format!("`{table}.{key}`")).collect();
    let told = path.is_empty() && (1..=MOST_TABLES).contains(&all.len());
    told.then(|| format!("did you mean {}?", all.join(" or ")))
}

fn unknown(
    table: &Table,
    path: &str,
    asked: &BTreeMap<String, BTreeSet<String>>,
    findings: &mut Vec<Finding>,
) {
    for entry in &table.entries {
        if entry.used.get() {
            if let Node::Table(inner) = &entry.node {
                unknown(inner, &entry.key, asked, findings);
            }
            continue;
        }
        let known = asked.get(path).into_iter().flatten().map(String::as_str);
        let shown = if path.is_empty() {
            entry.key.clone()
        } else {
            format!("{path}.{}", entry.key)
        };
        findings.push(
            Finding::new(
                "unknown-key",
                Severity::Error,
                format!("no key is called `{shown}`"),
            )
            .at(Some(entry.key_span.clone()))
            .expected(format!("`{}`", entry.key), "a key of the job language")
            .remedy(
                in_a_table(path, &entry.key, asked)
                    .unwrap_or_else(|| nearest(&entry.key, known)),
            ),
        );
    }
}
