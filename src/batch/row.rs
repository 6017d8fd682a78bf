//! The rows of the table, one after another, every cell with its place.

use super::Table;
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
        let Record { line, text, fields } = self.records.next()?;
        self.number += 1;
        let (mut ranges, unclosed) = ranges(text, self.table.by);
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

/// A record with its text, which has no line end about it.
pub(super) struct Record<'t> {
    pub(super) line: usize,
    pub(super) text: &'t str,
    pub(super) fields: Vec<String>,
}

/// The records of a text that have something in them.
pub(super) struct Records<'t> {
    text: &'t str,
    reader: csv::Reader<&'t [u8]>,
    /// The line that begins at this byte.
    line: (usize, usize),
}

impl std::fmt::Debug for Records<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Records").field("line", &self.line).finish_non_exhaustive()
    }
}

impl<'t> Records<'t> {
    pub(super) fn new(text: &'t str, by: u8) -> Self {
        let reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .delimiter(by)
            .from_reader(text.as_bytes());
        Self { text, reader, line: (1, 0) }
    }

    pub(super) fn next(&mut self) -> Option<Record<'t>> {
        let mut record = csv::StringRecord::new();
        // Rows of any length and a text that is UTF-8 leave nothing to fail.
        while self.reader.read_record(&mut record).is_ok_and(|more| more) {
            if record.iter().all(|field| field.trim().is_empty()) {
                continue;
            }
            let at = |byte: u64| {
                usize::try_from(byte).unwrap_or(self.text.len()).min(self.text.len())
            };
            let from = at(record.position().map_or(0, csv::Position::byte));
            let text = &self.text[from..at(self.reader.position().byte())];
            let ends = ['\r', '\n'];
            let inner = text.trim_start_matches(ends);
            let from = from + text.len() - inner.len();
            let (line, counted) = self.line;
            let line = line + self.text[counted..from].matches('\n').count();
            self.line = (line, from);
            let fields = record.iter().map(|f| f.trim().to_owned()).collect();
            return Some(Record { line, text: inner.trim_end_matches(ends), fields });
        }
        None
    }
}

/// Where the fields of a record lie, without blanks and quotes about them, and where a quote
/// opens that nothing closes. A quote opens a field only at its very beginning, as the
/// reader has it: an inch mark within a field is a letter.
pub(super) fn ranges(text: &str, by: u8) -> (Vec<Range<usize>>, Option<usize>) {
    #[derive(PartialEq)]
    enum State {
        Start,
        Plain,
        Quoted,
        /// After a quote that closes, or is the first of two.
        Closed,
    }
    let mut all = Vec::new();
    let (mut from, mut state) = (0, State::Start);
    for (i, byte) in text.bytes().enumerate() {
        state = match state {
            State::Quoted if byte == b'"' => State::Closed,
            State::Quoted => State::Quoted,
            State::Closed if byte == b'"' => State::Quoted,
            State::Start | State::Plain | State::Closed if byte == by => {
                all.push(inner(text, from..i));
                from = i + 1;
                State::Start
            }
            State::Start if byte == b'"' => State::Quoted,
            State::Start | State::Plain | State::Closed => State::Plain,
        };
    }
    let unclosed = (state == State::Quoted).then_some(from);
    all.push(inner(text, from..text.len()));
    (all, unclosed)
}

/// A stretch without the blanks and the quotes about it.
fn inner(text: &str, range: Range<usize>) -> Range<usize> {
    let field = &text[range.clone()];
    let bare = |field: &str| {
        let start = field.len() - field.trim_start().len();
        let end = field.trim_end().len();
        start..end.max(start)
    };
    let quoted = field.strip_prefix('"').and_then(|f| f.strip_suffix('"'));
    let within = match quoted {
        Some(quoted) => {
            let Range { start, end } = bare(quoted);
            start + 1..end + 1
        }
        None => bare(field),
    };
    range.start + within.start..range.start + within.end
}
