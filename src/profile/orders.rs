//! What a profile says of the columns of a table of orders.

use super::rule;
use crate::batch::{ColumnRules, NamedColumn};
use crate::diagnostic::Finding;
use crate::input::{Leaf, Node, Section, Value};

const COLUMN: &str = "a key in quotes, or a table with key, unit, words";

/// Reads the table `[orders]`.
pub(super) fn read(orders: &Section<'_, '_>) -> ColumnRules {
    let sheet = Some(orders.text("sheet").value).filter(|name| !name.is_empty());
    let ignored =
        orders.value_if("ignore", "a list of names of columns", |value| match value {
            Value::List(names) => {
                Some(names.iter().map(|(name, _)| name.clone()).collect())
            }
            _ => None,
        });
    let mut named: Vec<NamedColumn> = Vec::new();
    if let Some(columns) = orders.section("columns") {
        for entry in &columns.table.entries {
            let name = entry.key.as_str();
            columns.reader.ask("columns", name);
            let Some(column) = column(&columns, name, &entry.node) else { continue };
            if let Some(twin) = named.iter().find(|other| other.key == column.key) {
                let message = format!("two columns are for `{}`", column.key);
                columns.reader.find(
                    Finding::error(rule::PROFILE_VALUE, message)
                        .at(Some(entry.key_span.clone()))
                        .expected(
                            format!("`{}` and `{name}`", twin.name),
                            "one column a key",
                        )
                        .remedy("take one of the two out"),
                );
            }
            named.push(column);
        }
    }
    ColumnRules { sheet, ignored: ignored.map(|i| i.value).unwrap_or_default(), named }
}

fn column(columns: &Section<'_, '_>, name: &str, node: &Node) -> Option<NamedColumn> {
    let reader = columns.reader;
    let name = name.to_owned();
    let table = match node {
        Node::Leaf(Leaf { value: Value::Text(key), .. }) if !key.is_empty() => {
            return Some(NamedColumn {
                name,
                key: key.clone(),
                ..NamedColumn::default()
            });
        }
        Node::Leaf(leaf) => {
            reader.find(reader.wrong(&name, leaf, COLUMN));
            return None;
        }
        Node::Table(table) => table,
    };
    let own = Section { reader, name: &name, table, span: None };
    own.lacks("key", "a key of a job");
    let (key, unit) = (own.text("key").value, own.text("unit").value);
    let mut words = Vec::new();
    if let Some(all) = own.section("words") {
        for entry in &all.table.entries {
            reader.ask("words", &entry.key);
            words.push((entry.key.clone(), all.text(&entry.key).value));
        }
    }
    let unit = Some(unit).filter(|unit| !unit.is_empty());
    Some(NamedColumn { key, unit, words, name: name.clone() })
        .filter(|c| !c.key.is_empty())
}
