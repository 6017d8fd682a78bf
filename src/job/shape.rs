//! Tables of a forbidden form, each told once, before anything reads them: lists of tables,
//! names with a dot, and tables of the user's own without a kind.

use super::keys::kinds;
use super::resolve::SECTIONS;
use super::section::Reader;
use crate::diagnostic::{Finding, Span, is_near, one_of};
use crate::input::{Leaf, Node, Table, Value};
use crate::job::rule;

/// The table that describes a template.
pub(super) const ABOUT: &str = "about";

/// The settings that a workshop has, and no job: keys of a profile.
pub const WORKSHOP_KEYS: [&str; 6] =
    ["paper", "units", "language", "printer", "ticket", "templates"];

/// Takes lists of tables, and tables whose names have a dot, out of a job or a template.
pub(super) fn take_misshapen(root: &mut Table) -> Vec<Finding> {
    let mut findings = Vec::new();
    root.entries.retain(|entry| {
        let key = entry.key.as_str();
        let finding = match &entry.node {
            Node::Leaf(Leaf { value: Value::Tables(_), span }) => list(key, span),
            Node::Table(_) if key.contains('.') => dotted(key, &entry.key_span),
            Node::Table(table) if !is_plain(key) && table.get("kind").is_none() => {
                let is_feature = |node: &Node| match node {
                    Node::Table(inner) => inner.get("kind").is_some(),
                    Node::Leaf(_) => false,
                };
                let inner = table.entries.iter().find(|e| is_feature(&e.node));
                let Some(inner) = inner else { return true };
                dotted(&format!("{key}.{}", inner.key), &inner.key_span)
            }
            _ => return true,
        };
        findings.push(finding);
        false
    });
    findings
}

/// Finds settings of a workshop in a job, which is the same in every workshop.
pub(super) fn find_of_workshop(reader: &Reader<'_>) {
    for entry in &reader.root.entries {
        let key = entry.key.as_str();
        if !WORKSHOP_KEYS.contains(&key) || matches!(entry.node, Node::Table(_)) {
            continue;
        }
        reader.ask("", key);
        reader.find(
            Finding::error(
                rule::UNKNOWN_KEY,
                format!("`{key}` is a setting of the workshop, and not of a job"),
            )
            .at(Some(entry.key_span.clone()))
            .expected(format!("`{key}`"), "a key of the job language")
            .remedy(format!(
                "give the flag --{key}, or put the line into strapwright.toml beside the job"
            )),
        );
    }
}

/// Whether a table has no `kind` and needs none.
pub(super) fn is_plain(table: &str) -> bool {
    table == ABOUT || SECTIONS.contains(&table)
}

fn list(key: &str, span: &Span) -> Finding {
    let message = format!("`{key}` is a table, and no list of tables");
    Finding::error(rule::BAD_VALUE, message)
        .at(Some(span.clone()))
        .expected("a list of tables", format!("one table: [{key}]"))
        .remedy(format!(
            "write [{key}] with single brackets; each table has its own name"
        ))
}

fn dotted(name: &str, span: &Span) -> Finding {
    let message = format!("the name of the table `{name}` has a dot");
    let required = "a name without a dot, which parts a table from its keys";
    Finding::error(rule::BAD_VALUE, message)
        .at(Some(span.clone()))
        .expected(format!("`{name}`"), required)
        .remedy(format!("call it [{}]", name.replace(['.', ' '], "-")))
}

/// Finds tables without a kind that nothing reads, unless their names are misspelt.
pub(super) fn find_kindless(reader: &Reader<'_>) {
    let is_read = |key: &str| is_plain(key) || reader.is_asked("", key);
    let tables = reader.root.entries.iter().filter_map(|e| match &e.node {
        Node::Table(table) => Some((e, table)),
        Node::Leaf(_) => None,
    });
    let known = tables.clone().map(|(e, _)| e.key.as_str()).filter(|key| is_read(key));
    let known: Vec<&str> = known.chain(SECTIONS).collect();
    for (entry, table) in tables.filter(|(e, _)| !is_read(&e.key)) {
        let key = entry.key.as_str();
        if known.iter().any(|name| is_near(key, name)) {
            continue;
        }
        reader.ask("", key);
        table.entries.iter().for_each(|e| reader.ask(key, &e.key));
        let kinds: Vec<&str> = kinds().collect();
        let message = format!("nothing reads the table `{key}`, which has no `kind`");
        let add = kinds.iter().find(|kind| **kind == key).map_or_else(
            || "add the kind, such as kind = \"row\"".to_owned(),
            |kind| format!("add kind = \"{kind}\""),
        );
        reader.find(
            Finding::error(rule::UNKNOWN_KEY, message)
                .at(Some(entry.key_span.clone()))
                .expected(format!("`{key}`"), format!("kind = {}", one_of(&kinds)))
                .remedy(format!(
                    "{add}; a table of lengths alone is read where a sum names one"
                )),
        );
    }
}
