//! How wide words and tables of a ticket are, and where their lines break.

use super::super::canvas::shortened;
use super::CELL;
use crate::geom::Length;
use crate::lettering;
use crate::ticket::Table;

/// Base line to base line, as a part of the size of the type.
const LEADING: (i64, i64) = (5, 4);

/// The widest cell of a column.
pub(super) fn widest(table: &Table, column: usize, size: Length) -> Length {
    let cells = table.lines().filter_map(|row| row.get(column));
    cells.map(|c| lettering::width(c, size)).max().unwrap_or(Length::ZERO)
}

/// How wide a table is in type of a size.
pub(super) fn table_width(table: &Table, size: Length) -> Length {
    let columns = 0..table.head.len();
    columns.map(|c| widest(table, c, size) + CELL).sum::<Length>() - CELL
}

pub(super) fn leading(size: Length) -> Length {
    size.times(LEADING.0, LEADING.1)
}

/// `text` broken between words into lines no wider than `room`.
pub(super) fn wrapped(text: &str, size: Length, room: Length) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in &unbroken(text) {
        let longer = lines.last().map(|l| format!("{l} {word}"));
        match (lines.last_mut(), longer) {
            (Some(line), Some(longer)) if lettering::width(&longer, size) <= room => {
                *line = longer;
            }
            _ => lines.push(shortened(word, size, room)),
        }
    }
    lines
}

/// The words of a text, a number with its unit, its fraction and its sign as one.
fn unbroken(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in text.split(' ').filter(|w| !w.is_empty()) {
        let bare = word.trim_end_matches([',', ';', ':', '.', ')']);
        let is_unit = matches!(bare, "mm" | "in" | "oz" | "×");
        let is_fraction =
            bare.contains('/') && bare.starts_with(|c: char| c.is_ascii_digit());
        match words.last_mut() {
            Some(last)
                if last.ends_with('Ø')
                    || (is_unit || is_fraction)
                        && last.ends_with(|c: char| c.is_ascii_digit()) =>
            {
                *last = format!("{last} {word}");
            }
            _ => words.push(word.to_owned()),
        }
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_keeps_its_unit() {
        let words = unbroken("hole Ø 4.8 mm: 5 ×, flat ~34 1/2 in (9 oz), all in 2 rows");
        let whole =
            ["hole", "Ø 4.8 mm:", "5 ×,", "flat", "~34 1/2 in", "(9 oz),", "all", "in"];
        assert_eq!(words[..8], whole);
    }
}
