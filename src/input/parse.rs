//! From a TOML text to its tree, within limits that no file of a person passes.

use super::{Entry, Format, Leaf, Node, Table, Value, syntax};
use crate::diagnostic::{Finding, Sources, Span, too_large};
use crate::geom::{Length, LengthError};
use toml::de::{DeTable, DeValue};

/// Most keys and list items of one text. The largest template has about 150.
const MOST_ENTRIES: usize = 10_000;

/// Parses a source. Syntax errors are findings; the tree has what could be read, and is
/// empty for a text that is too large.
pub(crate) fn parse(
    format: &Format,
    sources: &Sources,
    source: usize,
    findings: &mut Vec<Finding>,
) -> Table {
    let Some(text) = sources.get(source).map(|s| s.text.as_str()) else {
        return Table::default();
    };
    if let Some(finding) = find_oversize(format, source, text) {
        findings.push(finding);
        return Table::default();
    }
    let (root, errors) = DeTable::parse_recoverable(text);
    syntax::find(format, sources, source, &errors, findings);
    let count = count_entries(root.get_ref());
    if count > MOST_ENTRIES {
        let found = format!("{count} keys and list items");
        let required = format!("at most {MOST_ENTRIES}");
        findings.push(too_long(format, source).expected(found, required));
        return Table::default();
    }
    to_table(root.get_ref(), source)
}

/// Parses a text that was parsed without findings before, as the source of that number.
pub(crate) fn parse_valid(text: &str, source: usize) -> Table {
    to_table(DeTable::parse_recoverable(text).0.get_ref(), source)
}

/// The finding on a text that is too long, or has too long a line.
pub(crate) fn find_oversize(
    format: &Format,
    source: usize,
    text: &str,
) -> Option<Finding> {
    let required = "lines of at most 4 KiB, in at most 1 MiB";
    too_large(text).map(|found| too_long(format, source).expected(found, required))
}

fn too_long(format: &Format, source: usize) -> Finding {
    let message = format!("this is too long for a {}", format.name);
    Finding::error(format.rules.size, message)
        .at(Some(Span { source, range: 0..0 }))
        .remedy(format.size_remedy)
}

/// Reads the length of a key. Ounces and irons are units of thickness alone.
pub(crate) fn parse_length(key: &str, text: &str) -> Result<Length, LengthError> {
    let is_thickness = key.ends_with("thickness");
    if is_thickness { Length::parse_thickness(text) } else { Length::parse(text) }
}

/// Parses one value of TOML, whose text begins at `start` of its source; `None` where it is
/// no value, or one that no key takes.
pub(crate) fn parse_value(text: &str, source: usize, start: usize) -> Option<Node> {
    // The value is read behind a key that ends where it begins, so that spans in a list
    // are right.
    let key = "k".repeat(start.saturating_sub(1));
    let line = format!("{key}={text}");
    let table = DeTable::parse(&line).ok()?;
    let value = table.get_ref().values().next().filter(|_| table.get_ref().len() == 1)?;
    let node = to_node(value.get_ref(), Span { source, range: start..line.len() });
    let is_other = matches!(&node, Node::Leaf(Leaf { value: Value::Other(_), .. }));
    (!is_other).then_some(node)
}

/// A word as a value of TOML; what is none is a text.
pub(crate) fn to_toml(word: &str) -> String {
    match parse_value(word, 0, 2) {
        Some(Node::Leaf(Leaf { value: Value::Text(text), .. })) => quoted(&text),
        Some(_) => word.to_owned(),
        None => quoted(word),
    }
}

/// A text as TOML.
pub(crate) fn quoted(text: &str) -> String {
    toml::Value::from(text).to_string()
}

/// How many keys there are, those of inner tables too, and list items.
fn count_entries(table: &DeTable<'_>) -> usize {
    let inner = |value: &DeValue<'_>| match value {
        DeValue::Table(table) => count_entries(table),
        DeValue::Array(items) => {
            let tables = items.iter().filter_map(|item| item.get_ref().as_table());
            items.len() + tables.map(count_entries).sum::<usize>()
        }
        _ => 0,
    };
    table.iter().map(|(_, value)| 1 + inner(value.get_ref())).sum()
}

fn to_table(table: &DeTable<'_>, source: usize) -> Table {
    let entries = table.iter().map(|(key, value)| Entry {
        key: key.get_ref().to_string(),
        key_span: Span { source, range: key.span() },
        node: to_node(value.get_ref(), Span { source, range: value.span() }),
    });
    Table { entries: entries.collect() }
}

fn to_node(value: &DeValue<'_>, span: Span) -> Node {
    let source = span.source;
    let value = match value {
        DeValue::Table(table) => return Node::Table(to_table(table, source)),
        DeValue::String(text) => Value::Text(text.to_string()),
        DeValue::Integer(n) if n.radix() == 10 => Value::Number(n.as_str().to_owned()),
        DeValue::Float(n) => Value::Number(n.as_str().to_owned()),
        DeValue::Boolean(truth) => Value::Bool(*truth),
        DeValue::Array(items) => {
            let texts = items.iter().map(|item| {
                let text = item.get_ref().as_str()?.to_owned();
                Some((text, Span { source, range: item.span() }))
            });
            let tables = items.iter().map(|item| {
                let table = to_table(item.get_ref().as_table()?, source);
                Some((table, Span { source, range: item.span() }))
            });
            let texts = texts.collect::<Option<_>>().map(Value::List);
            texts
                .or_else(|| tables.collect::<Option<_>>().map(Value::Tables))
                .unwrap_or(Value::Other("array"))
        }
        other => Value::Other(other.type_str()),
    };
    Node::Leaf(Leaf { value, span })
}
