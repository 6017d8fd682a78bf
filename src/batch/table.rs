//! The table of orders: its text and its columns.

use super::encoding;
use super::row::Rows;
use crate::batch::rule;
use crate::diagnostic::{Finding, Source, Sources, Span, forbids_print};
use crate::input::{Record, Records, separator, split};
use std::ops::Range;

/// The column that names the orders.
pub const ORDER: &str = "order";

/// A table whose columns are known.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Table {
    /// Its name in messages.
    pub name: String,
    /// Its columns, from the left.
    pub columns: Vec<Column>,
    pub(super) text: String,
    /// The byte between two fields.
    pub(super) separator: u8,
    /// The index of the column with the names of the orders.
    pub(super) order: usize,
    /// Its first line.
    pub(super) header: Source,
}

/// One column.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Column {
    /// A key of the job language, or [`ORDER`]; empty for a column without a name, whose
    /// cells must be empty.
    pub key: String,
    /// The bytes of the header that it covers.
    pub range: Range<usize>,
}

/// The result of reading a table.
#[derive(Debug)]
pub struct ParsedTable {
    /// The table; `None` when a mistake in it concerns every order.
    pub table: Option<Table>,
    /// The texts that the findings point at.
    pub sources: Sources,
    /// The mistakes in the header and the encoding. Those of a row are found later.
    pub findings: Vec<Finding>,
}

/// Reads a table of orders called `name`: CSV in UTF-8, with `,`, `;` or tabs between the
/// fields.
pub fn read(name: &str, bytes: Vec<u8>) -> ParsedTable {
    let mut sources = Sources::default();
    let mut findings = Vec::new();
    let table = encoding::decode(name, bytes, &mut sources)
        .map_err(|finding| findings.push(*finding))
        .ok()
        .and_then(|text| read_header(name, text, &mut sources, &mut findings));
    let table = table.filter(|_| !forbids_print(&findings));
    ParsedTable { table, sources, findings }
}

impl Table {
    /// The rows below the header.
    pub fn rows(&self) -> Rows<'_> {
        Rows::new(self)
    }

    /// The index of the column with the names of the orders.
    pub fn order_column(&self) -> usize {
        self.order
    }
}

fn read_header(
    name: &str,
    text: String,
    sources: &mut Sources,
    findings: &mut Vec<Finding>,
) -> Option<Table> {
    let separator = separator(&text);
    let Some(Record { line, text: header, fields, .. }) =
        Records::new(&text, separator).next()
    else {
        findings.push(
            Finding::error(rule::ORDERS_COLUMN, "the table of orders is empty")
                .expected(
                    "nothing",
                    "a line with the names of the columns, and a row for each order",
                )
                .remedy(
                    "name the columns in the first line: order,template,title,wearer",
                ),
        );
        return None;
    };
    let (name, part) = (name.to_owned(), "header".to_owned());
    let source = Source { name: name.clone(), part, text: header.to_owned(), line };
    let ranges = split(header, separator).0;
    // Keys of jobs have no capitals, but the columns of tables often do.
    let column = |(key, range): (String, _)| Column { key: key.to_lowercase(), range };
    let columns: Vec<Column> = fields.into_iter().zip(ranges).map(column).collect();
    let whole =
        Span { source: sources.add_source(source.clone()), range: 0..header.len() };
    for (i, column) in columns.iter().enumerate() {
        let twice = columns[..i].iter().any(|c| c.key == column.key);
        if twice && !column.key.is_empty() {
            findings.push(
                Finding::error(
                    rule::ORDERS_COLUMN,
                    format!("the column `{}` is there twice", column.key),
                )
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
            Finding::error(rule::ORDERS_COLUMN, "no column names the orders")
                .at(Some(whole.clone()))
                .expected(shown.join(", "), "a column `order`")
                .remedy(
                    "put the names of the columns in the first line, `order` among them; \
                     the other columns are keys of a job: template, title, measure.value",
                ),
        );
    }
    let order = order?;
    let table = Table { name, columns, separator, order, header: source, text };
    if table.rows().next().is_none() {
        findings.push(
            Finding::error(rule::ORDERS_ROW, "the table has no orders")
                .at(Some(whole))
                .expected("nothing below the first line", "a row for each order")
                .remedy("write a row for each order below the names of the columns"),
        );
    }
    Some(table)
}
