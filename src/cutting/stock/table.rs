//! A list of strips as a CSV table with a header, as the same tree that a TOML list gives.

use super::{KEYS, Kind, STRIPS};
use crate::cutting::rule;
use crate::diagnostic::{Finding, Span, nearest};
use crate::input::{
    Entry, Leaf, Node, Record, Records, Table, Value, find_oversize, separator, split,
};

/// The columns that every table has.
const NEEDED: [&str; 4] = ["name", "length", "width", "thickness"];

/// The rows as a list of tables. Mistakes in the header are findings, and so is a row that
/// is longer than the header. There are no rows where a column is missing.
pub(super) fn parse(source: usize, text: &str, findings: &mut Vec<Finding>) -> Table {
    if let Some(finding) = find_oversize(&STRIPS, source, text) {
        findings.push(finding);
        return Table::default();
    }
    let separator = separator(text);
    let mut records = Records::new(text, separator);
    let Some(header) = records.next() else { return Table::default() };
    let Some(columns) = columns(source, &header, separator, findings) else {
        return Table::default();
    };
    let span = span(source, &header);
    let rows = records.map(|record| row(source, record, separator, &columns, findings));
    let rows = Leaf { value: Value::Tables(rows.collect()), span: span.clone() };
    let key = Kind::Strip.word().to_owned();
    Table { entries: vec![Entry { key, key_span: span, node: Node::Leaf(rows) }] }
}

/// A column and where its name stands; the key is `None` for an unknown column.
type Column = (Option<&'static str>, Span);

fn span(source: usize, record: &Record<'_>) -> Span {
    Span { source, range: record.start..record.start + record.text.len() }
}

/// The span of each field.
fn spans(source: usize, record: &Record<'_>, separator: u8) -> Vec<Span> {
    let ranges = split(record.text, separator).0.into_iter();
    let at = |n: usize| record.start + n;
    ranges.map(|r| Span { source, range: at(r.start)..at(r.end) }).collect()
}

/// The columns; `None` where one is missing.
fn columns(
    source: usize,
    header: &Record<'_>,
    separator: u8,
    findings: &mut Vec<Finding>,
) -> Option<Vec<Column>> {
    let mut columns: Vec<Column> = Vec::new();
    let names = header.fields.iter().map(|f| f.to_lowercase());
    for (name, span) in names.zip(spans(source, header, separator)) {
        let key = KEYS.into_iter().find(|k| *k == name);
        let is_double = key.is_some() && columns.iter().any(|(other, _)| *other == key);
        let wrong = |message: String, remedy: String| {
            Finding::error(rule::STOCK_KEY, message)
                .at(Some(span.clone()))
                .expected(
                    format!("`{name}`"),
                    format!("one each of: {}", KEYS.join(", ")),
                )
                .remedy(remedy)
        };
        if is_double {
            let message = format!("there are two columns `{name}`");
            findings.push(wrong(message, "take one out".to_owned()));
        } else if key.is_none() && !name.is_empty() {
            let message = format!("no column is called `{name}`");
            findings.push(wrong(message, nearest(&name, KEYS.into_iter())));
        }
        columns.push((key.filter(|_| !is_double), span));
    }
    let is_missing = |name: &&str| columns.iter().all(|(key, _)| *key != Some(*name));
    let missing: Vec<&str> = NEEDED.into_iter().filter(is_missing).collect();
    if missing.is_empty() {
        return Some(columns);
    }
    findings.push(
        Finding::error(rule::STOCK_KEY, "the table lacks columns")
            .at(Some(span(source, header)))
            .expected(
                format!("no {}", missing.join(", no ")),
                "a first line such as name,length,width,thickness,count",
            )
            .remedy("name the columns in the first line"),
    );
    None
}

fn row(
    source: usize,
    record: Record<'_>,
    separator: u8,
    columns: &[Column],
    findings: &mut Vec<Finding>,
) -> (Table, Span) {
    let spans = spans(source, &record, separator);
    let whole = span(source, &record);
    if record.fields.len() > columns.len() {
        findings.push(
            Finding::error(rule::STOCK_SYNTAX, "a row is longer than the header")
                .at(spans.get(columns.len()).cloned())
                .expected(
                    format!("{} fields", record.fields.len()),
                    format!("{}, as in the first line", columns.len()),
                )
                .remedy(
                    "put a field that contains the separator in double quotes, such as \
                     \"86,5 cm\"",
                ),
        );
    }
    // A row that ends early has empty fields.
    let fields = record.fields.into_iter().chain(std::iter::repeat(String::new()));
    let spans = spans.into_iter().chain(std::iter::repeat(whole.clone()));
    let cells = columns.iter().zip(fields.zip(spans));
    let entries = cells.filter_map(|((key, key_span), (field, span))| {
        let is_kind = *key == Some("kind");
        if is_kind && field.is_empty() {
            return None;
        }
        let text = if is_kind { field.to_lowercase() } else { field };
        let node = Node::Leaf(Leaf { value: Value::Text(text), span });
        Some(Entry { key: (*key)?.to_owned(), key_span: key_span.clone(), node })
    });
    (Table { entries: entries.collect() }, whole)
}
