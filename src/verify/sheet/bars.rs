//! Scale bars: what their numerals say, and how far apart the ticks under them are.

use super::super::read::plane::Spot;
use super::super::read::{Line, Words};

/// Shorter than this, no bar is of use.
const SHORTEST: f64 = 20.0;
/// More bars than this are not looked for.
const MOST: usize = 32;
/// What a bar may be drawn at: below, its numerals cannot be read; above, no paper holds it.
const SCALES: std::ops::Range<f64> = 0.3..3.0;
/// Lines beside a numeral that are tried as its bar, the nearest first.
const MOST_LINES: usize = 8;
/// From the middle of a numeral to its tick, at most, in mm at full scale: half of what is
/// between two.
const AT_TICK: f64 = 4.0;
/// Numerals of one row stand at one height, at full scale.
const IN_ROW: f64 = 1.0;
/// From a bar to the middle of its numerals, at most, at full scale.
const BESIDE: f64 = 6.0;
/// Ticks and bar meet.
const MEET: f64 = 0.1;

/// The axis along which a bar lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::verify) enum Axis {
    /// Along the width of the page.
    Width,
    /// Along its height.
    Height,
}

impl Axis {
    pub(in crate::verify) fn word(self) -> &'static str {
        match self {
            Self::Width => "width",
            Self::Height => "height",
        }
    }

    pub(in crate::verify) fn of(self, spot: Spot) -> f64 {
        match self {
            Self::Width => spot.x,
            Self::Height => spot.y,
        }
    }
}

/// One row of numerals along a bar.
#[derive(Clone, Debug)]
pub(in crate::verify) struct Bar {
    pub(in crate::verify) axis: Axis,
    /// What its last numeral says: `270 mm`.
    pub(in crate::verify) says: String,
    /// The same in mm.
    pub(in crate::verify) claim: f64,
    /// From the tick at zero to the one at the last numeral, in mm.
    pub(in crate::verify) drawn: f64,
    /// How far the worst numeral's tick is from where the others have it, in mm.
    pub(in crate::verify) uneven: f64,
}

impl Bar {
    /// What everything along this bar is drawn at, 1 for true.
    pub(in crate::verify) fn factor(&self) -> f64 {
        self.drawn / self.claim
    }

    pub(in crate::verify) fn is_metric(&self) -> bool {
        self.says.ends_with("mm")
    }
}

/// A number of mm, and of how many mm its unit is.
fn claim(text: &str) -> Option<(f64, f64)> {
    let (number, unit) = text.split_once(' ')?;
    // 1 in = 25.4 mm exactly (NIST SP 811, App. B).
    let unit = match unit {
        "mm" => 1.0,
        "in" => 25.4,
        _ => return None,
    };
    let claim = value(number)? * unit;
    (claim >= SHORTEST).then_some((claim, unit))
}

fn value(text: &str) -> Option<f64> {
    let plain = text.len() <= 5 && text.bytes().all(|b| b.is_ascii_digit());
    text.parse().ok().filter(|_| plain)
}

/// The middle of a numeral.
fn middle(words: &Words) -> Spot {
    words.from.middle(words.to) + words.up * 0.35
}

/// All the rows of numerals of a sheet that lie along a bar.
pub(super) fn bars(lines: &[Line], words: &[Words]) -> Vec<Bar> {
    let told = words.iter().filter_map(|w| Some((w, claim(&w.text)?)));
    told.take(MOST).filter_map(|(last, told)| bar(lines, words, last, told)).collect()
}

fn bar(lines: &[Line], words: &[Words], last: &Words, told: (f64, f64)) -> Option<Bar> {
    let (claim, unit) = told;
    let along = (last.to - last.from).unit()?;
    let axis = match (along.x.abs() > 0.999, along.y.abs() > 0.999) {
        (true, _) => Axis::Width,
        (_, true) => Axis::Height,
        _ => return None,
    };
    // From its start along the words, the nearest line that is one.
    let ends = |l: &Line| {
        if (l.to - l.from).dot(along) >= 0.0 { (l.from, l.to) } else { (l.to, l.from) }
    };
    let seen_from =
        |start: Spot, p: Spot| ((p - start).dot(along), along.cross(p - start));
    let near = lines.iter().filter(|l| {
        let (start, end) = ends(l);
        let (long, aside) = seen_from(start, end);
        let (at, beside) = seen_from(start, middle(last));
        // Everything about a bar grows with it.
        let scale = long / claim;
        let past = (long - (unit + 8.0) * scale..long + 8.0 * scale).contains(&at);
        let near = beside.abs() < BESIDE * scale && past;
        !l.pen.dashed && SCALES.contains(&scale) && aside.abs() < 1e-3 * long && near
    });
    let beside = |l: &Line| seen_from(ends(l).0, middle(last)).1.abs();
    let mut near: Vec<&Line> = near.collect();
    near.sort_by(|a, b| beside(a).total_cmp(&beside(b)));
    near.into_iter().take(MOST_LINES).find_map(|line| {
        let row =
            Row { start: ends(line).0, end: ends(line).1, along, last, claim, unit };
        let (drawn, uneven) = row.measured(lines, words)?;
        Some(Bar { axis, says: last.text.clone(), claim, drawn, uneven })
    })
}

/// A line that may be a bar, and the last numeral beside it.
struct Row<'a> {
    start: Spot,
    end: Spot,
    along: Spot,
    last: &'a Words,
    claim: f64,
    unit: f64,
}

impl Row<'_> {
    fn seen(&self, p: Spot) -> (f64, f64) {
        ((p - self.start).dot(self.along), self.along.cross(p - self.start))
    }

    /// From the tick at zero to the one at the last numeral, and how uneven the others are;
    /// `None` where the line has no such ticks.
    fn measured(&self, lines: &[Line], words: &[Words]) -> Option<(f64, f64)> {
        let &Self { last, claim, unit, along, .. } = self;
        let long = self.seen(self.end).0;
        let side = self.seen(middle(last)).1;
        let scale = long / claim;
        let mut ticks: Vec<f64> = Vec::new();
        for tick in lines {
            let (a, b) = (self.seen(tick.from), self.seen(tick.to));
            let (foot, top) = if a.1.abs() < b.1.abs() { (a, b) } else { (b, a) };
            let stands = foot.1.abs() < MEET
                && top.1 * side > 0.0
                && top.1.abs() < BESIDE * scale
                && (foot.0 - top.0).abs() < MEET;
            if stands && (-MEET..long + MEET).contains(&foot.0) {
                ticks.push(foot.0);
            }
        }
        ticks.sort_by(f64::total_cmp);
        let tick_at = |at: f64| {
            let i = ticks.partition_point(|t| *t < at);
            let near = ticks[i.saturating_sub(1)..].iter().take(2).copied();
            near.min_by(|a, b| (a - at).abs().total_cmp(&(b - at).abs()))
                .filter(|t| (t - at).abs() < AT_TICK * scale)
        };
        let mut numbered: Vec<(f64, f64)> = Vec::new();
        for word in words {
            let (at, beside) = self.seen(middle(word));
            let in_row = (beside - side).abs() <= IN_ROW * scale;
            let reach = AT_TICK * scale;
            if !in_row || !(-reach..long + reach).contains(&at) {
                continue;
            }
            if (word.to - word.from).unit().is_none_or(|way| way.dot(along) < 0.999) {
                continue;
            }
            let says = if std::ptr::eq(word, last) { Some(claim) } else { None };
            let Some(says) = says.or_else(|| Some(value(&word.text)? * unit)) else {
                continue;
            };
            numbered.push((says, tick_at(at)?));
        }
        let zero = numbered.iter().find(|(says, _)| says.abs() < 1e-9)?.1;
        let at_last = numbered.iter().find(|(says, _)| (says - claim).abs() < 1e-9)?.1;
        let drawn = at_last - zero;
        let off = |(says, tick): &(f64, f64)| (tick - zero - says * drawn / claim).abs();
        let uneven = numbered.iter().map(off).fold(0.0, f64::max);
        (drawn > 0.0).then_some((drawn, uneven))
    }
}

#[cfg(test)]
mod tests {
    use super::super::super::read::{Layer, Pen};
    use super::*;

    const PEN: Pen = Pen { layer: Layer::None, width: 0.25, dashed: false };

    fn line(x1: f64, y1: f64, x2: f64, y2: f64) -> Line {
        Line { from: Spot::new(x1, y1), to: Spot::new(x2, y2), pen: PEN }
    }

    fn words(text: &str, x: f64, y: f64) -> Words {
        let (from, to) = (Spot::new(x - 1.0, y), Spot::new(x + 1.0, y));
        Words { text: text.into(), from, to, up: Spot::new(0.0, 2.0) }
    }

    fn drawn(at: &[f64]) -> (Vec<Line>, Vec<Words>) {
        let mut lines = vec![line(10.0, 20.0, 10.0 + at[at.len() - 1], 20.0)];
        let mut all = Vec::new();
        for (i, x) in at.iter().enumerate() {
            lines.push(line(10.0 + x, 20.0, 10.0 + x, 21.0));
            let unit = if i + 1 == at.len() { " mm" } else { "" };
            all.push(words(&format!("{}{unit}", i * 50), 10.3 + x, 22.0));
        }
        (lines, all)
    }

    #[test]
    fn a_bar_is_measured_at_its_numerals() {
        let (lines, said) = drawn(&[0.0, 49.75, 99.5]);
        let found = bars(&lines, &said);
        assert_eq!(found.len(), 1);
        assert_eq!((found[0].axis, found[0].says.as_str()), (Axis::Width, "100 mm"));
        assert!((found[0].factor() - 0.995).abs() < 1e-9 && found[0].uneven < 1e-9);
    }

    #[test]
    fn a_tick_out_of_line_is_uneven() {
        let (lines, said) = drawn(&[0.0, 50.2, 100.0]);
        assert!((bars(&lines, &said)[0].uneven - 0.2).abs() < 1e-9);
    }

    #[test]
    fn a_bar_is_measured_at_any_scale() {
        for scale in [0.35, 0.7, 1.41, 2.8] {
            let (lines, said) = drawn(&[0.0, 50.0, 100.0]);
            let by = |p: Spot| p * scale;
            let lines: Vec<Line> = lines
                .iter()
                .map(|l| Line { from: by(l.from), to: by(l.to), pen: PEN })
                .collect();
            let said: Vec<Words> = said
                .iter()
                .map(|w| Words {
                    text: w.text.clone(),
                    from: by(w.from),
                    to: by(w.to),
                    up: by(w.up),
                })
                .collect();
            let found = bars(&lines, &said);
            assert_eq!(found.len(), 1, "at {scale}");
            assert!((found[0].factor() - scale).abs() < 1e-9, "at {scale}: {found:?}");
        }
    }

    #[test]
    fn words_without_a_bar_are_none() {
        let (lines, said) = drawn(&[0.0, 50.0, 100.0]);
        assert!(bars(&lines[1..], &said).is_empty(), "no line");
        assert!(bars(&lines[..1], &said).is_empty(), "no ticks");
        assert!(bars(&lines, &said[1..]).is_empty(), "no zero");
    }
}
