//! CSV records with the range of each field.

use std::ops::Range;

/// The byte between two fields: of `,`, `;` and tab, the one that the first line has most of
/// outside quotes. Where `,` and another are as frequent, `,` is taken for a decimal comma.
pub(crate) fn separator(text: &str) -> u8 {
    let first = text.lines().find(|l| !l.trim().is_empty()).unwrap_or_default();
    let mut quoted = false;
    let mut counts = [(b',', 0), (b';', 0), (b'\t', 0)];
    for byte in first.bytes() {
        quoted ^= byte == b'"';
        let count = counts.iter_mut().find(|(by, _)| !quoted && *by == byte);
        if let Some((_, count)) = count {
            *count += 1;
        }
    }
    counts.into_iter().max_by_key(|(_, count)| *count).map_or(b',', |(by, _)| by)
}

/// One record.
pub(crate) struct Record<'t> {
    /// The number of its first line.
    pub(crate) line: usize,
    /// Its first byte.
    pub(crate) start: usize,
    /// Its text, without the line end.
    pub(crate) text: &'t str,
    /// Its fields, trimmed.
    pub(crate) fields: Vec<String>,
}

/// The records of a text, without the empty ones.
pub(crate) struct Records<'t> {
    text: &'t str,
    reader: csv::Reader<&'t [u8]>,
    /// A line number, and the byte where that line begins.
    line: (usize, usize),
}

impl std::fmt::Debug for Records<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Records").field("line", &self.line).finish_non_exhaustive()
    }
}

impl<'t> Records<'t> {
    pub(crate) fn new(text: &'t str, separator: u8) -> Self {
        let reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .delimiter(separator)
            .from_reader(text.as_bytes());
        Self { text, reader, line: (1, 0) }
    }
}

impl<'t> Iterator for Records<'t> {
    type Item = Record<'t>;

    fn next(&mut self) -> Option<Record<'t>> {
        let mut record = csv::StringRecord::new();
        // Reading cannot fail: records may have any length, and the text is UTF-8.
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
            let start = from + text.len() - inner.len();
            let (line, counted) = self.line;
            let line = line + self.text[counted..start].matches('\n').count();
            self.line = (line, start);
            let fields = record.iter().map(|f| f.trim().to_owned()).collect();
            let text = inner.trim_end_matches(ends);
            return Some(Record { line, start, text, fields });
        }
        None
    }
}

/// The ranges of a record's fields, without blanks and quotes around them, and the start of
/// a quoted field that is never closed. A quote opens a field only as its first byte, as in
/// the `csv` crate: an inch mark within a field is a letter.
pub(crate) fn split(text: &str, separator: u8) -> (Vec<Range<usize>>, Option<usize>) {
    #[derive(PartialEq)]
    enum State {
        Start,
        Plain,
        Quoted,
        /// After a quote that closes the field or is the first of two.
        Closed,
    }
    let mut all = Vec::new();
    let (mut from, mut state) = (0, State::Start);
    for (i, byte) in text.bytes().enumerate() {
        state = match state {
            State::Quoted if byte == b'"' => State::Closed,
            State::Quoted => State::Quoted,
            State::Closed if byte == b'"' => State::Quoted,
            State::Start | State::Plain | State::Closed if byte == separator => {
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

/// A range without the blanks and quotes around it.
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

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(400))]

        /// `split` finds the fields that the `csv` crate reads.
        #[test]
        fn fields_are_where_the_csv_crate_has_them(
            text in "(?:[a,;\"\r\n \té]|\"\"|\"a\"){0,60}",
            by in prop::sample::select(b",;\t".to_vec()),
        ) {
            for record in Records::new(&text, by) {
                let (ranges, _) = split(record.text, by);
                prop_assert_eq!(ranges.len(), record.fields.len(), "{:?}", record.text);
                for (range, field) in ranges.iter().zip(&record.fields) {
                    let there = &record.text[range.clone()];
                    // A field without quotes is the text of its range.
                    if !there.contains('"') && !field.contains('"') {
                        prop_assert_eq!(there, field);
                    }
                }
                let line = text.split('\n').nth(record.line - 1).unwrap();
                let first = record.text.split('\n').next().unwrap();
                prop_assert!(line.contains(first.trim_end_matches('\r')), "{:?}", record.text);
            }
        }
    }
}
