//! The rows of the table; every cell has its range in the text.

use super::Table;
use crate::input::{Record, Records, split};
use std::ops::Range;

/// One row of the table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// Its number in a spreadsheet: the header is row 1, and empty rows count.
    pub number: usize,
    /// The number of its line in the file.
    pub line: usize,
    /// Its text.
    pub text: String,
    /// Its cells, one for each column.
    pub cells: Vec<Cell>,
    /// The bytes of `text` past the last column, if they are not empty.
    pub extra: Option<Range<usize>>,
    /// The number of its fields, which may differ from the number of columns.
    pub fields: usize,
    /// The byte of `text` where a quoted field begins that does not end.
    pub unclosed: Option<usize>,
}

/// One cell.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cell {
    /// Its text, without quotes and outer blanks; may be empty.
    pub value: String,
    /// The bytes of the row's text that it covers.
    pub range: Range<usize>,
}

/// An iterator over the rows of a table.
#[derive(Debug)]
pub struct Rows<'t> {
    table: &'t Table,
    records: Records<'t>,
    /// The number of the last row, and the line on which it ends.
    last: (usize, usize),
}

impl<'t> Rows<'t> {
    pub(super) fn new(table: &'t Table) -> Self {
        let mut records = Records::new(&table.text, table.separator);
        let header = records.next();
        let last = header.map_or((1, 1), |h| (h.line, last_line(h.line, h.text)));
        Self { table, records, last }
    }
}

/// The line on which a record ends that begins on `line`.
fn last_line(line: usize, text: &str) -> usize {
    line + text.matches('\n').count()
}

impl Iterator for Rows<'_> {
    type Item = Row;

    fn next(&mut self) -> Option<Row> {
        let Record { line, text, fields, .. } = self.records.next()?;
        // A spreadsheet has a row for an empty line, and one row where cells have several. Lines
        // that end in CR alone have one number.
        let (number, end) = self.last;
        let number = number + (line - end).max(1);
        self.last = (number, last_line(line, text));
        let (mut ranges, unclosed) = split(text, self.table.separator);
        let columns = self.table.columns.len();
        // Spreadsheets end rows with empty cells.
        let has_text = fields.iter().skip(columns).any(|field| !field.is_empty());
        let past = ranges.get(columns).filter(|_| has_text);
        let extra = past.map(|first| first.start..text.len());
        let count = fields.len();
        ranges.truncate(columns);
        ranges.resize(columns, text.len()..text.len());
        let mut values = fields.into_iter();
        let cell = |range| Cell { value: values.next().unwrap_or_default(), range };
        Some(Row {
            number,
            line,
            text: text.to_owned(),
            cells: ranges.into_iter().map(cell).collect(),
            extra,
            fields: count,
            unclosed,
        })
    }
}
