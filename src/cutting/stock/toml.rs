//! A list of strips in TOML: entries headed `[[strip]]`, `[[blank]]` or `[[cut-blank]]`.

use super::{Cell, KEYS, Kind, Row, Value};
use crate::diagnostic::{Finding, Severity, Span};
use crate::job::nearest;
use toml::de::{DeTable, DeValue};

/// Mistakes of TOML after which the rest would only follow from them.
const MOST_ERRORS: usize = 20;

/// The entries, with what is wrong with the text and its keys.
pub(super) fn rows(source: usize, text: &str, findings: &mut Vec<Finding>) -> Vec<Row> {
    let (root, errors) = DeTable::parse_recoverable(text);
    for error in errors.into_iter().take(MOST_ERRORS) {
        let range = error.span().unwrap_or(0..0);
        findings.push(
            Finding::new("stock-syntax", Severity::Error, "this is not TOML")
                .at(Some(Span { source, range }))
                .expected(
                    error.message().replace('\n', ", "),
                    "key = \"value\", one a line",
                )
                .remedy("head each strip with [[strip]] and write length = \"1.5 m\""),
        );
    }
    let mut rows = Vec::new();
    for (key, value) in root.get_ref() {
        let span = Span { source, range: key.span() };
        let Some(kind) = Kind::ALL.into_iter().find(|k| k.word() == key.get_ref()) else {
            findings.push(unknown(key.get_ref(), span, &Kind::ALL.map(Kind::word)));
            continue;
        };
        let entries = match value.get_ref() {
            DeValue::Array(entries) => entries.iter().collect(),
            _ => vec![value],
        };
        for entry in entries {
            let span = Span { source, range: entry.span() };
            match entry.get_ref() {
                DeValue::Table(table) => {
                    rows.push(row(source, kind, table, span, findings));
                }
                other => findings.push(
                    Finding::new("stock-syntax", Severity::Error, "this is no strip")
                        .at(Some(span))
                        .expected(
                            format!("a TOML {}", other.type_str()),
                            "a table of its own",
                        )
                        .remedy(format!("head each with [[{}]]", kind.word())),
                ),
            }
        }
    }
    rows
}

fn row(
    source: usize,
    kind: Kind,
    table: &DeTable<'_>,
    span: Span,
    findings: &mut Vec<Finding>,
) -> Row {
    // The heading says what kind it is, so `kind` is no key here.
    let keys = &KEYS[..KEYS.len() - 1];
    let mut cells = Vec::new();
    for (key, value) in table {
        let Some(known) = keys.iter().find(|k| *k == key.get_ref()) else {
            let span = Span { source, range: key.span() };
            findings.push(unknown(key.get_ref(), span, keys));
            continue;
        };
        let span = Span { source, range: value.span() };
        let value = match value.get_ref() {
            DeValue::String(text) => Value::Text(text.to_string()),
            DeValue::Integer(n) if n.radix() == 10 => {
                Value::Number(n.as_str().to_owned())
            }
            DeValue::Float(n) => Value::Number(n.as_str().to_owned()),
            other => Value::Other(other.type_str()),
        };
        cells.push(Cell { key: known, value, span });
    }
    Row { kind, cells, span, is_told: false }
}

fn unknown(key: &str, span: Span, known: &[&str]) -> Finding {
    let shown: String = key.chars().take(40).collect();
    Finding::new("stock-key", Severity::Error, format!("no key is called `{shown}`"))
        .at(Some(span))
        .expected(format!("`{shown}`"), format!("one of: {}", known.join(", ")))
        .remedy(nearest(&shown, known.iter().copied()))
}
