//! What a sheet says of itself at its head: which sheet of which print it is, on which
//! paper, and whether it was corrected for a printer.

use super::super::read::Words;
use super::super::read::plane::Spot;

/// A correction beyond this is no printer's.
const FACTORS: std::ops::Range<f64> = 0.8..1.25;

/// How far off the left edge a line of a paragraph may start, in heights of the type.
const LEFT: f64 = 0.1;

/// Lines of a head, and lines that may be its first, at most.
const LINES: usize = 8;
const MOST: usize = 20;

/// The words at the head.
#[derive(Clone, Debug)]
pub(in crate::verify) struct Title {
    /// Which sheet, from 1.
    pub(in crate::verify) number: usize,
    /// Of how many; zero where the sheet does not say.
    pub(in crate::verify) count: usize,
    /// The short name of the print.
    pub(in crate::verify) print: String,
    /// Sheets of earlier prints that go with these.
    pub(in crate::verify) kept: Vec<usize>,
    /// Whether it must be printed at 100 %.
    pub(in crate::verify) is_full: bool,
    /// Name of the paper; may be empty.
    pub(in crate::verify) paper: String,
    /// What the sheet was stretched by for its printer, along its width and its height.
    pub(in crate::verify) correction: Spot,
    /// The way the words run, one long.
    pub(in crate::verify) along: Spot,
    /// Whether they are mirror writing.
    pub(in crate::verify) mirrored: bool,
}

/// What stands between the dots of a line.
fn parts(text: &str) -> impl Iterator<Item = &str> {
    text.split('·').map(str::trim).filter(|p| !p.is_empty())
}

/// `3/12` or, of no count, `3`, at the end of some words.
fn number_of_count(part: &str) -> Option<(usize, usize)> {
    let last = part.split_whitespace().last()?;
    let (number, count) = last.split_once('/').unwrap_or((last, "0"));
    let plain = |s: &str| s.len() <= 4 && s.bytes().all(|b| b.is_ascii_digit());
    if !plain(number) || !plain(count) {
        return None;
    }
    let (number, count) = (number.parse().ok()?, count.parse().ok()?);
    (number > 0 && (count == 0 || number <= count)).then_some((number, count))
}

/// The numbers before the names of other prints, `with sheets 1, 2 of print 7F3A-91C2`: of
/// each the last row of them.
fn kept(text: &str, own: &str) -> Vec<usize> {
    let plain = |s: &str| s.len() <= 4 && s.bytes().all(|b| b.is_ascii_digit());
    let (mut all, mut row, mut goes_on) = (Vec::new(), Vec::new(), false);
    for word in text.split(|c: char| c.is_whitespace() || c == ',') {
        if word == own || word == "·" {
            row.clear();
        } else if is_print(word) {
            all.append(&mut row);
        } else if plain(word) {
            if !goes_on {
                row.clear();
            }
            row.extend(word.parse::<usize>().ok());
        }
        goes_on = plain(word);
    }
    all
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

/// A line with those below it that start at its left edge, each within two heights of the
/// type below the last.
fn paragraph<'w>(first: &'w Words, words: &'w [Words]) -> Vec<&'w str> {
    let (mut text, mut last) = (vec![first.text.as_str()], first);
    let (Some(along), Some(up)) = ((first.to - first.from).unit(), first.up.unit())
    else {
        return text;
    };
    for _ in 1..LINES {
        let below = |w: &&Words| {
            let way = last.from - w.from;
            let down = way.dot(up);
            let height = last.up.norm();
            way.dot(along).abs() < LEFT * height
                && 0.5 * height < down
                && down < 2.0 * height
        };
        let far = |w: &&Words| (last.from - w.from).dot(up);
        let next = words.iter().filter(below).min_by(|a, b| far(a).total_cmp(&far(b)));
        let Some(next) = next else { break };
        text.push(&next.text);
        last = next;
    }
    text
}

/// Reads the head; `None` where no words say which sheet of which print this is.
pub(super) fn title(words: &[Words]) -> Option<Title> {
    let mut broken = 0;
    let mut title = words.iter().find_map(|line| {
        let (_, count) = number_of_count(parts(&line.text).next()?)?;
        if !parts(&line.text).any(is_print) {
            // On a narrow sheet the name may be on the next line.
            broken += usize::from(count > 0);
            if count == 0 || broken > MOST {
                return None;
            }
        }
        let lines = paragraph(line, words);
        let mut all = lines.iter().flat_map(|line| parts(line));
        let (number, count) = number_of_count(all.next()?)?;
        // Its own print stands alone; those that go with it stand among words.
        let print = all.find(|p| is_print(p))?;
        let along = (line.to - line.from).unit()?;
        // A part of some length may go on in the next line.
        let joined = lines.join(" ");
        Some(Title {
            number,
            count,
            print: print.to_owned(),
            kept: kept(&joined, print),
            is_full: joined.contains("100 %") || joined.contains("100\u{a0}%"),
            paper: all.next().unwrap_or_default().to_owned(),
            correction: Spot::new(1.0, 1.0),
            along,
            mirrored: along.cross(line.up) < 0.0,
        })
    })?;
    let told = words.iter().filter(|w| w.text.contains('×'));
    for part in told.flat_map(|w| w.text.split_whitespace()) {
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
            line(
                "sheet 3/12 · size 34 in: with sheets 1, 2 of print AAAA-BBBB and sheet 5 of \
                 print CCCC-DDDD · Print at 100 % · 7F3A-91C2 · 12 × 18 in · for printer P1: \
                 W×1.0125 H×0.998",
            ),
        ];
        let title = title(&words[1..]).expect("a title");
        assert_eq!(
            (title.number, title.count, title.print.as_str()),
            (3, 12, "7F3A-91C2")
        );
        assert_eq!(
            (title.paper.as_str(), title.kept.as_slice()),
            ("12 × 18 in", &[1, 2, 5][..])
        );
        assert!(title.is_full);
        assert!(title.correction.far(Spot::new(1.0125, 0.998)) < 1e-12);
        assert!(!title.mirrored);
    }

    #[test]
    fn a_head_goes_on_below() {
        let at = Spot::new;
        let line = |text: &str, x: f64, y: f64| Words {
            text: text.into(),
            from: at(x, y),
            to: at(x + 60.0, y),
            up: at(0.0, 2.1),
        };
        let words = [
            line("1 · 540.0", 40.0, 120.0),
            line("AAAA-BBBB, 12 of them", 14.0, 203.0),
            line("with sheets 1, 2 of print AAAA-BBBB, 5 of", 14.0, 194.8),
            line("sheet 3/12 · Print at 100 %", 14.0, 200.0),
            line("7F3A-91C2 · 8 × 10 in", 14.0, 197.4),
            line("print BBBB-CCCC · flat 7 mm", 14.0, 192.2),
            line("with sheet 9 of print CCCC-DDDD", 16.0, 194.8),
        ];
        let title = title(&words).expect("a title");
        assert_eq!(
            (title.number, title.count, title.print.as_str()),
            (3, 12, "7F3A-91C2")
        );
        assert_eq!(
            (title.paper.as_str(), title.kept.as_slice()),
            ("8 × 10 in", &[1, 2, 5][..])
        );
        assert!(title.is_full);
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
