//! What a sheet says of itself at its head: which sheet of which print it is, on which
//! paper, and whether it was corrected for a printer.

use super::super::read::Words;
use super::super::read::plane::Spot;

/// A correction beyond this is no printer's.
const FACTORS: std::ops::Range<f64> = 0.8..1.25;

/// The words at the head.
#[derive(Clone, Debug)]
pub(in crate::verify) struct Title {
    /// Which sheet, from 1.
    pub(in crate::verify) number: usize,
    /// Of how many.
    pub(in crate::verify) count: usize,
    /// The short name of the print.
    pub(in crate::verify) print: String,
    /// Name of the paper; may be empty.
    pub(in crate::verify) paper: String,
    /// What the sheet was stretched by for its printer, along its width and its height.
    pub(in crate::verify) correction: Spot,
    /// The way the words run, one long.
    pub(in crate::verify) along: Spot,
    /// Whether they are mirror writing.
    pub(in crate::verify) mirrored: bool,
}

fn parts(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| c.is_whitespace() || c == '·').filter(|p| !p.is_empty())
}

/// `3/12`.
fn number_of_count(part: &str) -> Option<(usize, usize)> {
    let (number, count) = part.split_once('/')?;
    let plain = |s: &str| s.len() <= 4 && s.bytes().all(|b| b.is_ascii_digit());
    if !plain(number) || !plain(count) {
        return None;
    }
    let (number, count) = (number.parse().ok()?, count.parse().ok()?);
    (1..=count).contains(&number).then_some((number, count))
}

/// `7F3A-91C2`.
fn is_print(part: &str) -> bool {
    let digit = |b: u8| b.is_ascii_digit() || (b'A'..=b'F').contains(&b);
    part.len() == 9
        && part
            .bytes()
            .enumerate()
            .all(|(i, b)| if i == 4 { b == b'-' } else { digit(b) })
}

/// Reads the head; `None` where no words say which sheet of which print this is.
pub(super) fn title(words: &[Words]) -> Option<Title> {
    let mut title = words.iter().find_map(|line| {
        let print = parts(&line.text).find(|p| is_print(p))?;
        let (number, count) = parts(&line.text).find_map(number_of_count)?;
        let along = (line.to - line.from).unit()?;
        let after = line.text.split_once(print).map_or("", |(_, after)| after);
        let named = after.split('·').map(str::trim);
        let paper = named.filter(|p| !p.is_empty() && !p.contains("W×")).take(1);
        Some(Title {
            number,
            count,
            print: print.to_owned(),
            paper: paper.collect(),
            correction: Spot::new(1.0, 1.0),
            along,
            mirrored: along.cross(line.up) < 0.0,
        })
    })?;
    let told = words.iter().filter(|w| w.text.contains('×'));
    for part in told.flat_map(|w| parts(&w.text)) {
        let factor = |axis: &str| {
            let factor: f64 = part.strip_prefix(axis)?.parse().ok()?;
            FACTORS.contains(&factor).then_some(factor)
        };
        title.correction.x = factor("W×").unwrap_or(title.correction.x);
        title.correction.y = factor("H×").unwrap_or(title.correction.y);
    }
    Some(title)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(text: &str) -> Words {
        let at = Spot::new;
        Words {
            text: text.into(),
            from: at(1.0, 1.0),
            to: at(9.0, 1.0),
            up: at(0.0, 1.0),
        }
    }

    #[test]
    fn heads_are_read() {
        let words = [
            line("Belt 1/2 in, AAAA-BBBB"),
            line("sheet 3/12 · Print at 100 % · 7F3A-91C2 · 12 × 18 in"),
            line("printer W×1.0125 H×0.998"),
        ];
        let title = title(&words[1..]).expect("a title");
        assert_eq!(
            (title.number, title.count, title.print.as_str()),
            (3, 12, "7F3A-91C2")
        );
        assert_eq!(title.paper, "12 × 18 in");
        assert!(title.correction.far(Spot::new(1.0125, 0.998)) < 1e-12);
        assert!(!title.mirrored);
    }

    #[test]
    fn other_words_are_no_heads() {
        for text in
            ["sheet 1/2", "7F3A-91C2", "3/2 · 7F3A-91C2", "1/2 7f3a-91c2", "1/2/3"]
        {
            assert!(title(&[line(text)]).is_none(), "{text}");
        }
    }
}
