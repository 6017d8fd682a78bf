//! A list of strips as a table: CSV with a header, its fields apart by `,`, `;` or tabs.

use super::{Cell, KEYS, Kind, Row, Value};
use crate::diagnostic::{Finding, Severity, Span};
use crate::job::nearest;
use std::ops::Range;

/// More columns than any list of strips has, those for the shop's own use too.
const MOST_COLUMNS: usize = 50;

/// A record with the place of each field in the text.
struct Record {
    fields: Vec<String>,
    places: Vec<Span>,
    span: Span,
}

/// The entries, with what is wrong with the table and its columns.
pub(super) fn rows(source: usize, text: &str, findings: &mut Vec<Finding>) -> Vec<Row> {
    let mut records = records(source, text, findings).into_iter();
    let Some(header) = records.next() else { return Vec::new() };
    if header.fields.len() > MOST_COLUMNS {
        findings.push(
            Finding::new("stock-limit", Severity::Error, "this is no list of strips")
                .at(header.places.get(MOST_COLUMNS).cloned())
                .expected(
                    format!("{} columns", header.fields.len()),
                    format!("at most {MOST_COLUMNS}"),
                )
                .remedy(
                    "name the columns in the first line: name,length,width,thickness",
                ),
        );
        return Vec::new();
    }
    let columns = columns(&header, findings);
    records.map(|record| row(&header, &columns, record, findings)).collect()
}

fn records(source: usize, text: &str, findings: &mut Vec<Finding>) -> Vec<Record> {
    let first = text.lines().find(|l| !l.trim().is_empty()).unwrap_or_default();
    let count = |c: char| first.matches(c).count();
    // The one that is there most often; of two, the one that is no decimal sign.
    let by = [',', ';', '\t'].into_iter().max_by_key(|c| count(*c)).unwrap_or(',');
    let by = u8::try_from(by).unwrap_or(b',');
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(by)
        .from_reader(text.as_bytes());
    let mut record = csv::StringRecord::new();
    let mut all = Vec::new();
    loop {
        match reader.read_record(&mut record) {
            Ok(true) => {}
            Ok(false) => return all,
            Err(error) => {
                findings.push(
                    Finding::new("stock-syntax", Severity::Error, "this is no table")
                        .expected(
                            error.to_string(),
                            "one strip a line, its fields apart by `,`",
                        )
                        .remedy("save the table as CSV again"),
                );
                return all;
            }
        }
        if record.iter().all(|field| field.trim().is_empty()) {
            continue;
        }
        let at = |byte: u64| usize::try_from(byte).unwrap_or(text.len()).min(text.len());
        let from = at(record.position().map_or(0, csv::Position::byte));
        let range = trimmed(text, from..at(reader.position().byte()));
        let mut ranges = fields(text, range.clone(), by);
        if ranges.len() != record.len() {
            ranges = vec![range.clone(); record.len()];
        }
        let places = ranges.into_iter().map(|range| Span { source, range }).collect();
        let fields = record.iter().map(ToOwned::to_owned).collect();
        all.push(Record { fields, places, span: Span { source, range } });
    }
}

/// A stretch without the blanks and line ends about it.
fn trimmed(text: &str, range: Range<usize>) -> Range<usize> {
    let Some(within) = text.get(range.clone()) else { return range };
    let from = range.start + within.len() - within.trim_start().len();
    from..from.max(range.start + within.trim_end().len())
}

/// Where the fields of a record lie; within double quotes nothing parts them.
fn fields(text: &str, record: Range<usize>, by: u8) -> Vec<Range<usize>> {
    let mut all = Vec::new();
    let (mut from, mut quoted) = (record.start, false);
    for (i, byte) in text.bytes().enumerate().take(record.end).skip(record.start) {
        if byte == b'"' {
            quoted = !quoted;
        } else if byte == by && !quoted {
            all.push(trimmed(text, from..i));
            from = i + 1;
        }
    }
    all.push(trimmed(text, from..record.end));
    all
}

/// Which key each column is for; `None` for one that is not known.
fn columns(header: &Record, findings: &mut Vec<Finding>) -> Vec<Option<&'static str>> {
    let mut columns: Vec<Option<&'static str>> = Vec::new();
    for (field, span) in header.fields.iter().zip(&header.places) {
        let name = field.trim().to_lowercase();
        let key = KEYS.into_iter().find(|k| *k == name);
        let shown: String = name.chars().take(40).collect();
        let twice = key.is_some() && columns.contains(&key);
        if twice || key.is_none() && !shown.is_empty() {
            let (what, remedy) = if twice {
                (
                    format!("the column `{shown}` is there twice"),
                    "take one out".to_owned(),
                )
            } else {
                let remedy = nearest(&shown, KEYS.into_iter());
                (format!("no column is called `{shown}`"), remedy)
            };
            findings.push(
                Finding::new("stock-key", Severity::Error, what)
                    .at(Some(span.clone()))
                    .expected(
                        format!("`{shown}`"),
                        format!("one each of: {}", KEYS.join(", ")),
                    )
                    .remedy(remedy),
            );
        }
        columns.push(key.filter(|_| !twice));
    }
    let missing: Vec<&str> = ["name", "length", "width", "thickness"]
        .into_iter()
        .filter(|k| !columns.contains(&Some(k)))
        .collect();
    if !missing.is_empty() {
        findings.push(
            Finding::new("stock-key", Severity::Error, "the table lacks columns")
                .at(Some(header.span.clone()))
                .expected(
                    format!("no {}", missing.join(", no ")),
                    "a first line such as name,length,width,thickness,count",
                )
                .remedy("name the columns in the first line"),
        );
    }
    columns
}

fn row(
    header: &Record,
    columns: &[Option<&'static str>],
    record: Record,
    findings: &mut Vec<Finding>,
) -> Row {
    let Record { fields, places, span } = record;
    if fields.len() > columns.len() {
        findings.push(
            Finding::new(
                "stock-syntax",
                Severity::Error,
                "a row is longer than the header",
            )
            .at(places.get(columns.len()).cloned())
            .expected(
                format!("{} fields", fields.len()),
                format!("{}, as in the first line", header.fields.len()),
            )
            .remedy(
                "put a field that holds the sign between the fields in double quotes, \
                     such as \"86,5 cm\"",
            ),
        );
    }
    // A row that ends early has empty fields; a column that is not there was found above.
    let fields = fields.into_iter().chain(std::iter::repeat(String::new()));
    let places = places.into_iter().chain(std::iter::repeat(span.clone()));
    let cells = columns.iter().zip(fields).zip(places);
    let cells = cells
        .filter_map(|((key, field), span)| {
            Some(Cell { key: (*key)?, value: Value::Text(field), span })
        })
        .collect();
    Row { kind: Kind::Strip, cells, span, is_told: true }
}
