//! Breaks text into lines between words.

use crate::geom::Length;
use crate::lettering;

/// Joins words that no line break may part: a sign with its number, and a number with the
/// words that `belong` to it, such as its unit.
pub(super) fn unbroken_words<'t>(
    all: impl Iterator<Item = &'t str>,
    belong: fn(&str) -> bool,
) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in all {
        let goes_on = |last: &String| {
            let is_number = last.ends_with(|c: char| c.is_ascii_digit());
            last.ends_with('Ø') || is_number && belong(word)
        };
        match words.last_mut() {
            Some(last) if goes_on(last) => *last = format!("{last} {word}"),
            _ => words.push(word.to_owned()),
        }
    }
    words
}

/// Adds words to lines no wider than `room`, with `separator` between the first word and what
/// stands before it. A word that is wider has a line of its own.
pub(super) fn add_words(
    lines: &mut Vec<String>,
    words: Vec<String>,
    separator: &str,
    size: Length,
    room: Length,
) {
    let mut between = separator;
    for word in words {
        let longer = lines.last().map(|line| format!("{line}{between}{word}"));
        match (lines.last_mut(), longer) {
            (Some(line), Some(longer)) if lettering::width(&longer, size) <= room => {
                *line = longer;
            }
            _ => lines.push(word),
        }
        between = " ";
    }
}
