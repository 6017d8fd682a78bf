//! Registration crosses: two short strokes square to each other through one middle, and
//! the label beside them.

use super::super::read::plane::Spot;
use super::super::read::{Line, Words};

/// Length of an arm from end to end.
const ARMS: std::ops::Range<f64> = 2.0..12.0;
/// From the middle of a cross to the nearest end of its label.
const TO_LABEL: f64 = 8.0;
/// The middles of the two strokes; a stroke that is off by more is no part of a cross.
const SAME: f64 = 0.3;
/// More crosses than this are on no sheet.
const MOST: usize = 4_000;

/// A cross with its label.
#[derive(Clone, Debug)]
pub(in crate::verify) struct Cross {
    /// Number of the join.
    pub(in crate::verify) join: u32,
    /// Which of its crosses: 0 for `a`. Two that follow each other, as `a` and `b` or `c`
    /// and `d`, stand on the same two tiles.
    pub(in crate::verify) nth: u32,
    pub(in crate::verify) at: Spot,
}

/// `12a`; after `12z` comes `12aa`.
fn label(text: &str) -> Option<(u32, u32)> {
    let text = text.trim();
    let (number, letters) = text.split_at(text.find(|c: char| !c.is_ascii_digit())?);
    let plain = letters.len() <= 2 && letters.bytes().all(|b| b.is_ascii_lowercase());
    if !plain || number.len() > 4 {
        return None;
    }
    let nth = letters.bytes().fold(0, |all, b| all * 26 + u32::from(b - b'a') + 1);
    Some((number.parse().ok()?, nth - 1))
}

/// `A` or `B2`: a cross of the long check, which joins nothing.
fn is_check(text: &str) -> bool {
    let rest = text.trim().strip_prefix(['A', 'B']);
    rest.is_some_and(|n| n.len() <= 4 && n.bytes().all(|b| b.is_ascii_digit()))
}

/// All labelled crosses of a sheet. Each goes to the label nearest to it, those of the long
/// check to theirs.
pub(super) fn crosses(lines: &[Line], words: &[Words]) -> Vec<Cross> {
    let middles = middles(lines);
    let labels: Vec<_> = words
        .iter()
        .map(|w| (w, label(&w.text)))
        .filter(|(w, label)| label.is_some() || is_check(&w.text))
        .take(MOST)
        .collect();
    let mut pairs: Vec<(f64, usize, usize)> = Vec::new();
    for (l, (words, _)) in labels.iter().enumerate() {
        let rise = words.up * 0.35;
        let spots = [words.from, words.from.middle(words.to), words.to].map(|p| p + rise);
        for (m, middle) in middles.iter().enumerate() {
            let far = spots.iter().map(|p| p.far(*middle)).fold(f64::INFINITY, f64::min);
            if far < TO_LABEL {
                pairs.push((far, l, m));
            }
        }
    }
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (mut named, mut used) = (vec![false; labels.len()], vec![false; middles.len()]);
    let mut all = Vec::new();
    for (_, l, m) in pairs {
        if !named[l] && !used[m] {
            (named[l], used[m]) = (true, true);
            let at = middles[m];
            all.extend(labels[l].1.map(|(join, nth)| Cross { join, nth, at }));
        }
    }
    all
}

/// The middles of all crosses, labelled or not.
fn middles(lines: &[Line]) -> Vec<Spot> {
    let arms = lines.iter().filter(|l| {
        let way = l.to - l.from;
        !l.pen.dashed && way.reaches(ARMS.start) && way.norm() < ARMS.end
    });
    let mut arms: Vec<(Spot, Spot)> =
        arms.map(|l| (l.from.middle(l.to), l.to - l.from)).collect();
    arms.sort_by(|a, b| a.0.x.total_cmp(&b.0.x));
    let mut all: Vec<Spot> = Vec::new();
    for (i, (middle, way)) in arms.iter().enumerate() {
        // The cross is where the two strokes meet, wherever their middles are.
        let other =
            arms[i + 1..].iter().take_while(|o| o.0.x - middle.x < SAME).find(|o| {
                let (long, other) = (way.norm(), o.1.norm());
                let square = way.dot(o.1).abs() < 0.01 * long * other;
                let alike = (long - other).abs() < 0.05 * long;
                square && alike && o.0.far(*middle) < SAME
            });
        let Some((there, across)) = other else { continue };
        let part = across.cross(*there - *middle) / across.cross(*way);
        all.push(*middle + *way * part);
        if all.len() == MOST {
            break;
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::super::super::read::{Layer, Pen};
    use super::*;

    fn line(x1: f64, y1: f64, x2: f64, y2: f64) -> Line {
        let pen = Pen { layer: Layer::None, width: 0.25, dashed: false };
        Line { from: Spot::new(x1, y1), to: Spot::new(x2, y2), pen }
    }

    fn words(text: &str, x: f64, y: f64) -> Words {
        let (from, to) = (Spot::new(x, y), Spot::new(x + 2.0, y));
        Words { text: text.into(), from, to, up: Spot::new(0.0, 2.5) }
    }

    #[test]
    fn labels_are_a_number_and_letters() {
        assert_eq!([label("1a"), label("12d")], [Some((1, 0)), Some((12, 3))]);
        assert_eq!([label("3z"), label("3aa")], [Some((3, 25)), Some((3, 26))]);
        for text in ["a", "A", "12", "1A", "1 a", "12345a", "1abc", ""] {
            assert_eq!(label(text), None, "{text}");
        }
    }

    #[test]
    fn crosses_are_where_their_strokes_meet() {
        let lines = [
            line(7.5, 20.0, 12.5, 20.0),
            line(10.1, 17.5, 10.1, 22.5),
            line(50.0, 17.5, 50.0, 22.5),
            line(50.0, 20.0, 52.5, 20.0),
        ];
        let said =
            [words("12b", 13.5, 19.0), words("3a", 53.0, 19.0), words("C", 8.0, 19.0)];
        let found = crosses(&lines, &said);
        assert_eq!(found.len(), 1, "{found:?}");
        assert_eq!((found[0].join, found[0].nth), (12, 1));
        assert!(found[0].at.far(Spot::new(10.1, 20.0)) < 1e-9);
    }

    /// A label below its cross is nearer to one of the long check than to its own.
    #[test]
    fn the_long_check_keeps_its_crosses() {
        let cross =
            |x: f64, y: f64| [line(x - 2.0, y, x + 2.0, y), line(x, y - 2.0, x, y + 2.0)];
        let lines = [cross(10.0, 20.0), cross(17.0, 15.0)].concat();
        let mut said = vec![words("3b", 13.5, 17.0)];
        let at = |said: &[Words]| crosses(&lines, said).first().map(|c| c.at);
        assert_eq!(at(&said), Some(Spot::new(17.0, 15.0)));
        for check in ["B", "A12"] {
            said.push(words(check, 20.0, 14.0));
            assert_eq!(at(&said), Some(Spot::new(10.0, 20.0)), "{check}");
            said.pop();
        }
    }
}
