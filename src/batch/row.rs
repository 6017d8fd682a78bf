//! The rows of the table, one after another, every cell with its place.

use super::Table;
use crate::input::{Record, Records, split};
use std::ops::Range;

/// One row, as it stands in the table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// Its number, from 1 for the first below the header; rows with nothing in them have
    /// none.
    pub number: usize,
    /// The number of its line in the file.
    pub line: usize,
    /// All of it.
    pub text: String,
    /// Its cells, as many as there are columns.
    pub cells: Vec<Cell>,
    /// Where it goes on past the last column and says something there.
    pub extra: Option<Range<usize>>,
    /// How many fields it has.
    pub fields: usize,
    /// Where a quoted field begins that does not end.
    pub unclosed: Option<usize>,
}

/// One cell.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cell {
    /// What it says, without the blanks about it; empty where it says nothing.
    pub value: String,
    /// Where that stands in the row's text.
    pub range: Range<usize>,
}

/// The rows of a table in their order.
#[derive(Debug)]
pub struct Rows<'t> {
    table: &'t Table,
    records: Records<'t>,
    number: usize,
}

impl<'t> Rows<'t> {
    pub(super) fn new(table: &'t Table) -> Self {
        let mut records = Records::new(&table.text, table.by);
        // The header.
        records.next();
        Self { table, records, number: 0 }
    }
}

impl Iterator for Rows<'_> {
    type Item = Row;

    fn next(&mut self) -> Option<Row> {
        let Record { line, text, fields, .. } = self.records.next()?;
        self.number += 1;
        let (mut ranges, unclosed) = split(text, self.table.by);
        let columns = self.table.columns.len();
        // Spreadsheets end rows in cells that say nothing.
        let says = fields.iter().skip(columns).any(|field| !field.is_empty());
        let past = ranges.get(columns).filter(|_| says);
        let extra = past.map(|first| first.start..text.len());
        let count = fields.len();
        ranges.truncate(columns);
        ranges.resize(columns, text.len()..text.len());
        let mut values = fields.into_iter();
        let cell = |range| Cell { value: values.next().unwrap_or_default(), range };
        Some(Row {
            number: self.number,
            line,
            text: text.to_owned(),
            cells: ranges.into_iter().map(cell).collect(),
            extra,
            fields: count,
            unclosed,
        })
    }
}
