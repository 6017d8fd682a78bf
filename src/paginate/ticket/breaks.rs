//! How wide the texts and tables of a ticket are, and where their lines break.

use super::super::canvas::shorten;
use super::super::wrap::{add_words, unbroken_words};
use super::CELL_GAP;
use crate::geom::Length;
use crate::lettering;
use crate::ticket::Table;

/// From baseline to baseline, relative to the size of the type.
const LEADING: (i64, i64) = (5, 4);

/// The widest cell of a column.
pub(super) fn column_width(table: &Table, column: usize, size: Length) -> Length {
    let cells = table.lines().filter_map(|row| row.get(column));
    cells.map(|c| lettering::width(c, size)).max().unwrap_or(Length::ZERO)
}

/// The width of a table in type of a size.
pub(super) fn table_width(table: &Table, size: Length) -> Length {
    let columns = 0..table.head.len();
    columns.map(|c| column_width(table, c, size) + CELL_GAP).sum::<Length>() - CELL_GAP
}

pub(super) fn leading(size: Length) -> Length {
    size.times(LEADING.0, LEADING.1)
}

/// Breaks `text` between words into lines no wider than `room`.
pub(super) fn wrap(text: &str, size: Length, room: Length) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let words = words(text).into_iter().map(|word| shorten(&word, size, room));
    add_words(&mut lines, words.collect(), " ", size, room);
    lines
}

/// The words of a text. A number stays with its unit or fraction.
fn words(text: &str) -> Vec<String> {
    unbroken_words(text.split(' ').filter(|w| !w.is_empty()), |word| {
        let bare = word.trim_end_matches([',', ';', ':', '.', ')']);
        let is_unit = matches!(bare, "mm" | "in" | "oz" | "×");
        is_unit || bare.contains('/') && bare.starts_with(|c: char| c.is_ascii_digit())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_keeps_its_unit() {
        let words = words("hole Ø 4.8 mm: 5 ×, flat ~34 1/2 in (9 oz), all in 2 rows");
        let whole =
            ["hole", "Ø 4.8 mm:", "5 ×,", "flat", "~34 1/2 in", "(9 oz),", "all", "in"];
        assert_eq!(words[..8], whole);
    }
}
