//! The table of orders: its text, and what its columns are.

use super::encoding;
use super::row::Rows;
use crate::batch::rule;
use crate::diagnostic::{Finding, Severity, Source, Sources, Span, forbids_print};
use crate::input::{Record, Records, separator, split};
use std::ops::Range;

/// The column that names the orders.
pub const ORDER: &str = "order";

/// A table whose columns are known.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Table {
    /// What a person calls it.
    pub name: String,
    /// Its columns, from the left.
    pub columns: Vec<Column>,
    pub(super) text: String,
    /// What is between two fields.
    pub(super) by: u8,
    /// Which column names the orders.
    pub(super) order: usize,
    /// Its first line, the names of the columns.
    pub(super) header: Source,
}

/// One column.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Column {
    /// The key of the job language that it gives, or [`ORDER`]; empty for a column without
    /// a name, which must be empty too.
    pub key: String,
    /// Where that stands in the header.
    pub range: Range<usize>,
}

/// A table as far as it could be read.
#[derive(Debug)]
pub struct ParsedTable {
    /// The table; `None` where a mistake keeps every order from being read.
    pub table: Option<Table>,
    /// The texts, for showing findings.
    pub sources: Sources,
    /// What is wrong with the table itself; what is wrong with a row is found with the row.
    pub findings: Vec<Finding>,
}

/// Reads the bytes of a table of orders called `name`: CSV in UTF-8, its fields apart by
/// `,`, `;` or tabs.
pub fn read(name: &str, bytes: Vec<u8>) -> ParsedTable {
    let mut sources = Sources::default();
    let mut findings = Vec::new();
    let table = match encoding::text(name, bytes, &mut sources) {
        Ok(text) => table(name, text, &mut sources, &mut findings),
        Err(finding) => {
            findings.push(*finding);
            None
        }
    };
    let table = table.filter(|_| !forbids_print(&findings));
    ParsedTable { table, sources, findings }
}

impl Table {
    /// The orders, one after another.
    pub fn rows(&self) -> Rows<'_> {
        Rows::new(self)
    }

    /// Which column names the orders.
    pub fn order_column(&self) -> usize {
        self.order
    }
}

fn wrong(what: impl Into<String>) -> Finding {
    Finding::new(rule::ORDERS_COLUMN, Severity::Error, what)
}

fn table(
    name: &str,
    text: String,
    sources: &mut Sources,
    findings: &mut Vec<Finding>,
) -> Option<Table> {
    let by = separator(&text);
    let Some(Record { line, text: header, fields, .. }) = Records::new(&text, by).next()
    else {
        findings.push(
            wrong("the table of orders is empty")
                .expected(
                    "nothing",
                    "a line with the names of the columns, and a row an order",
                )
                .remedy(
                    "name the columns in the first line: order,template,title,wearer",
                ),
        );
        return None;
    };
    let source = Source {
        name: name.to_owned(),
        part: "header".to_owned(),
        text: header.to_owned(),
        line,
    };
    let ranges = split(header, by).0;
    let named = fields.into_iter().zip(ranges);
    let columns: Vec<Column> =
        named.map(|(key, range)| Column { key: lowered(key), range }).collect();
    let whole =
        Span { source: sources.add_source(source.clone()), range: 0..header.len() };
    for (i, column) in columns.iter().enumerate() {
        let twice = columns[..i].iter().any(|c| c.key == column.key);
        if twice && !column.key.is_empty() {
            findings.push(
                wrong(format!("the column `{}` is there twice", column.key))
                    .at(Some(Span { range: column.range.clone(), ..whole.clone() }))
                    .expected("a second one", "each column once")
                    .remedy("take one out"),
            );
        }
    }
    let order = columns.iter().position(|c| c.key == ORDER);
    if order.is_none() {
        let shown = columns.iter().map(|c| c.key.as_str()).filter(|k| !k.is_empty());
        let shown: Vec<&str> = shown.take(8).collect();
        findings.push(
            wrong("no column names the orders")
                .at(Some(whole.clone()))
                .expected(shown.join(", "), "a column `order`")
                .remedy(
                    "put the names of the columns in the first line, `order` among them; \
                     the other columns are keys of a job: template, title, measure.value",
                ),
        );
    }
    let order = order?;
    let name = name.to_owned();
    let table = Table { name, columns, by, order, header: source, text };
    if table.rows().next().is_none() {
        findings.push(
            Finding::new(rule::ORDERS_ROW, Severity::Error, "the table names no order")
                .at(Some(whole))
                .expected("nothing below the first line", "a row for each order")
                .remedy("write a row for each order below the names of the columns"),
        );
    }
    Some(table)
}

/// A key as it is looked up; keys of jobs have no capitals, but tables often do.
fn lowered(key: String) -> String {
    if key.chars().any(char::is_uppercase) { key.to_lowercase() } else { key }
}
