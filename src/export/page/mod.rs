//! What every format that draws pages needs: exact places to numbers, the printer's
//! correction, arcs, and the letters of the texts.

pub(super) mod arc;
pub(super) mod number;
mod transform;

pub(super) use transform::PageTransform;

use super::ExportError;
use crate::geom::{Length, Point, QuarterTurn, Sheet as OnSheet};
use crate::lettering;
use crate::paginate::{Anchor, Item, SheetSet};
use std::collections::BTreeSet;

/// A point of a page in the unit of a file, not yet cut to the file's precision.
pub(super) type UserPoint = [f64; 2];

/// The letters of all texts of `set`, each once, in order.
///
/// # Errors
/// For an empty set, and for letters that the face lacks: they would be blank on paper.
pub(super) fn letters(set: &SheetSet) -> Result<String, ExportError> {
    if set.sheets.is_empty() {
        return Err(ExportError::no_sheets());
    }
    let items = set.pages().flat_map(|sheet| &sheet.items);
    let used = distinct(items.filter_map(|item| match item {
        Item::Text { text, .. } => Some(text.as_str()),
        Item::Stroke { .. } | Item::TickRows { .. } | Item::Fill { .. } => None,
    }));
    let missing = lettering::missing(&used);
    if missing.is_empty() { Ok(used) } else { Err(lacking(&missing)) }
}

fn lacking(letters: &[char]) -> ExportError {
    let letters: Vec<String> = letters
        .iter()
        .map(|&letter| {
            let shown = if letter.is_control() { ' ' } else { letter };
            format!("`{shown}` (U+{:04X})", u32::from(letter))
        })
        .collect();
    ExportError(format!(
        "the sheets' face lacks {}; write the words in Latin, Greek or Cyrillic letters",
        letters.join(", ")
    ))
}

/// The letters of `texts`, each once, in order.
fn distinct<'a>(texts: impl Iterator<Item = &'a str>) -> String {
    let (mut ascii, mut others) = ([false; 128], BTreeSet::new());
    for letter in texts.flat_map(str::chars) {
        match ascii.get_mut(letter as usize) {
            Some(is_used) => *is_used = true,
            None => {
                others.insert(letter);
            }
        }
    }
    let ascii = ('\0'..).zip(ascii).filter(|(_, is_used)| *is_used);
    ascii.map(|(letter, _)| letter).chain(others).collect()
}

/// Where the base line of a text starts.
pub(super) fn text_start(
    text: &str,
    size: Length,
    at: Point<OnSheet>,
    anchor: Anchor,
    turn: QuarterTurn,
) -> Point<OnSheet> {
    at + turn.turned(anchor.start(lettering::width(text, size)), Length::ZERO)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_letter_is_listed_once() {
        assert_eq!(distinct(["Łęk", "kk", ""].into_iter()), "kęŁ");
    }

    #[test]
    fn letters_are_named() {
        let message = lacking(&['漢', '\n']).to_string();
        assert!(message.contains("lacks `漢` (U+6F22), ` ` (U+000A);"), "{message}");
    }
}
