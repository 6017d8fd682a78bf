//! What the paper says of places along the strap: numerals of rulers at their ticks, and
//! the tape readings beside marks.

use super::super::read::plane::{Spot, median};
use super::super::read::{Line, Words};
use super::ticks;

/// Millimetres to the inch, exactly (NIST SP 811, App. B).
const INCH: f64 = 25.4;
/// Lengths of the ticks of a ruler, in mm.
const TICKS: std::ops::Range<f64> = 0.5..3.5;
/// From a tick to the foot or the head of its numeral, at most, and how far they may lie
/// over each other.
const TO_NUMERAL: f64 = 1.0;
const OVER: f64 = 0.3;
/// From a tick to the middle of its numeral, at most, along the ruler.
const ASIDE: f64 = 0.25;
/// From a tick of a ruler to the next, at most, and what lies nearer is the same tick.
const NEXT: f64 = 4.0;
const SAME: f64 = 0.3;
/// Numerals of one ruler stand at one height.
const IN_ROW: f64 = 0.05;
/// Of the height of the type, that of its numerals.
const CAP: f64 = 0.72;
/// A line on which ticks stand is a scale bar's, and no ruler's.
const BAR: f64 = 15.0;
/// From a numeral to the word that is its unit, at most.
const TO_UNIT: f64 = 2.0;
/// More numerals, and more labels, than this are on no sheet.
const MOST: usize = 4_000;

/// The units of rulers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::verify) enum Unit {
    Millimetre,
    Inch,
}

impl Unit {
    fn of(word: &str) -> Option<Self> {
        match word.trim() {
            "mm" => Some(Self::Millimetre),
            "in" => Some(Self::Inch),
            _ => None,
        }
    }

    /// That of a numeral by itself: millimetres stand above the strap, inches below.
    fn beside(above: bool) -> Self {
        if above { Self::Millimetre } else { Self::Inch }
    }

    pub(in crate::verify) fn word(self) -> &'static str {
        match self {
            Self::Millimetre => "mm",
            Self::Inch => "in",
        }
    }

    pub(in crate::verify) fn mm(self) -> f64 {
        match self {
            Self::Millimetre => 1.0,
            Self::Inch => INCH,
        }
    }
}

/// A numeral of a ruler, which stands at a tick.
#[derive(Clone, Debug)]
pub(in crate::verify) struct Numeral {
    /// The end of its tick away from it.
    pub(in crate::verify) at: Spot,
    pub(in crate::verify) number: f64,
    pub(in crate::verify) unit: Unit,
    /// Whether it stands above its tick.
    pub(in crate::verify) above: bool,
    /// The tick near it that is farthest from where the ruler has one, and how far, in mm.
    pub(in crate::verify) worst: (Spot, f64),
}

impl Numeral {
    /// What a tape reads there, in mm.
    pub(in crate::verify) fn says(&self) -> f64 {
        self.number * self.unit.mm()
    }

    pub(in crate::verify) fn is_metric(&self) -> bool {
        self.unit == Unit::Millimetre
    }
}

/// Words that end in a tape reading: `P2 · 55.6`, `tip · 40 3/4 in`.
#[derive(Clone, Debug)]
pub(in crate::verify) struct Label {
    pub(in crate::verify) text: String,
    /// The first word; empty where a reading is all that it says.
    pub(in crate::verify) first: String,
    /// Each reading in mm, and to what it is rounded at most.
    pub(in crate::verify) says: Vec<(f64, f64)>,
    pub(in crate::verify) from: Spot,
    pub(in crate::verify) to: Spot,
}

impl Label {
    pub(in crate::verify) fn middle(&self) -> Spot {
        self.from.middle(self.to)
    }

    /// Whether all that it says is right where a tape reads `reading`.
    pub(in crate::verify) fn agrees(&self, reading: f64) -> bool {
        self.says.iter().all(|(says, within)| (says - reading).abs() <= within + 2e-3)
    }
}

fn is_level(words: &Words) -> bool {
    let way = words.to - words.from;
    way.x > 0.0 && way.y.abs() < 1e-3 * way.x && words.up.y > 0.0
}

/// The numerals of all rulers of a sheet.
pub(super) fn numerals(lines: &[Line], words: &[Words]) -> Vec<Numeral> {
    let number = |w: &Words| {
        let plain = w.text.len() <= 5 && w.text.bytes().all(|b| b.is_ascii_digit());
        w.text.parse::<f64>().ok().filter(|_| plain && is_level(w))
    };
    let numbers: Vec<(&Words, f64)> =
        words.iter().filter_map(|w| Some((w, number(w)?))).take(MOST).collect();
    let upright = |l: &&Line| {
        let way = l.to - l.from;
        !l.pen.dashed && way.x.abs() < 0.02 && TICKS.contains(&way.y.abs())
    };
    let mut ticks: Vec<(f64, f64, f64)> = lines
        .iter()
        .filter(upright)
        .map(|l| (l.from.x, l.from.y.min(l.to.y), l.from.y.max(l.to.y)))
        .collect();
    ticks.sort_by(|a, b| a.0.total_cmp(&b.0));
    let bars: Vec<&Line> = lines
        .iter()
        .filter(|l| (l.to.y - l.from.y).abs() < 0.02 && (l.to.x - l.from.x).abs() > BAR)
        .collect();
    let stands_on_bar = |p: Spot| {
        let on = |l: &&&Line| {
            let (low, high) = (l.from.x.min(l.to.x), l.from.x.max(l.to.x));
            (l.from.y - p.y).abs() < 0.1 && (low - 0.1..high + 0.1).contains(&p.x)
        };
        bars.iter().any(|l| on(&l))
    };
    // A numeral at its tick: the foot of the tick, whether the numeral is above it.
    let at_tick = |w: &Words| {
        let (x, base) = (w.from.middle(w.to).x, w.from.y);
        let head = base + w.up.y * CAP;
        let from = ticks.partition_point(|t| t.0 < x - ASIDE);
        let near = ticks[from..].iter().take_while(|t| t.0 < x + ASIDE);
        let standing = near.filter_map(|&(at, low, high)| {
            let meets = |gap: f64| (-OVER..TO_NUMERAL).contains(&gap);
            let foot = match (meets(base - high), meets(low - head)) {
                (true, _) => (Spot::new(at, low), true),
                (_, true) => (Spot::new(at, high), false),
                _ => return None,
            };
            Some(foot)
        });
        standing
            .min_by(|a, b| (a.0.x - x).abs().total_cmp(&(b.0.x - x).abs()))
            .filter(|(foot, _)| !stands_on_bar(*foot))
    };
    let units: Vec<(&Words, Unit)> =
        words.iter().filter_map(|w| Some((w, Unit::of(&w.text)?))).collect();
    let mut rows: Vec<(&Words, f64, Spot, bool)> = numbers
        .into_iter()
        .filter_map(|(w, number)| at_tick(w).map(|(at, above)| (w, number, at, above)))
        .collect();
    rows.sort_by(|a, b| a.2.y.total_cmp(&b.2.y).then(a.2.x.total_cmp(&b.2.x)));
    let same = |a: &(&Words, f64, Spot, bool), b: &(&Words, f64, Spot, bool)| {
        (a.2.y - b.2.y).abs() < IN_ROW && a.3 == b.3
    };
    let mut all = Vec::new();
    for row in rows.chunk_by(same) {
        let Some(&(_, _, Spot { y, .. }, above)) = row.first() else { continue };
        let foot =
            |t: &&(f64, f64, f64)| ((if above { t.1 } else { t.2 }) - y).abs() < IN_ROW;
        let feet: Vec<f64> = ticks.iter().filter(foot).map(|t| t.0).collect();
        let row: Vec<_> =
            row.iter().filter(|r| is_in_row(&feet, r.2.x)).copied().collect();
        let alone = (row.len() == 1).then(|| Unit::beside(above));
        let Some(unit) = unit_of(&row, &units).or(alone) else { continue };
        all.extend(row.iter().map(|&(_, number, at, above)| {
            let (x, off) = ticks::worst(&feet, at.x, division(unit));
            Numeral { at, number, unit, above, worst: (Spot::new(x, at.y), off) }
        }));
    }
    all
}

/// Whether a tick has another beside it, as on a ruler: the upright of a punch cross, with
/// the number of its hole above it, has none.
fn is_in_row(feet: &[f64], at: f64) -> bool {
    let from = feet.partition_point(|x| *x < at - NEXT);
    let near = feet[from..].iter().take_while(|x| **x <= at + NEXT);
    near.into_iter().any(|x| (x - at).abs() > SAME)
}

/// The finest division of a ruler in mm: rulers are divided to the millimetre, or to some
/// binary part of an inch. Common practice, no source.
fn division(unit: Unit) -> f64 {
    match unit {
        Unit::Millimetre => 1.0,
        Unit::Inch => INCH / 16.0,
    }
}

/// The unit of the numerals of one height: the word beside one of them, or what they grow
/// by along the ruler.
fn unit_of(row: &[(&Words, f64, Spot, bool)], units: &[(&Words, Unit)]) -> Option<Unit> {
    let beside = |w: &Words| {
        let own = units.iter().find(|(u, _)| {
            let gap = u.from.x - w.to.x;
            (u.from.y - w.from.y).abs() < IN_ROW && (0.0..TO_UNIT).contains(&gap)
        });
        own.map(|(_, unit)| *unit)
    };
    row.iter().find_map(|(w, ..)| beside(w)).or_else(|| {
        let steps = row.windows(2).map(|pair| {
            let (from, to) = (pair[0], pair[1]);
            (to.1 - from.1).abs() / (to.2.x - from.2.x).abs().max(1e-9)
        });
        let step = median(steps.collect())?;
        [Unit::Millimetre, Unit::Inch]
            .into_iter()
            .find(|u| (step * u.mm() - 1.0).abs() < 0.1)
    })
}

/// The words of a sheet that end in a tape reading.
pub(super) fn labels(words: &[Words]) -> Vec<Label> {
    words.iter().filter(|w| is_level(w)).filter_map(label).take(MOST).collect()
}

fn label(words: &Words) -> Option<Label> {
    let text = words.text.trim();
    // Nothing else ends a reading, and most words end otherwise.
    if !text.ends_with(|c: char| c.is_ascii_digit() || matches!(c, 'm' | 'n' | ')')) {
        return None;
    }
    let (name, last) = match text.rsplit_once('·') {
        Some((name, last)) => (name, last),
        None => ("", text),
    };
    let says = readings(last.trim())?;
    // Two labels that another tool has made one.
    let is_reading = |part: &str| {
        part.split_whitespace().next().is_some_and(|w| millimetres(w).is_some())
    };
    if name.split('·').skip(1).any(is_reading) {
        return None;
    }
    // By itself a whole number may be anything.
    let is_plain = last.trim().bytes().all(|b| b.is_ascii_digit());
    let first = name.split_whitespace().next().unwrap_or_default().to_owned();
    (!first.is_empty() || !is_plain).then(|| Label {
        text: text.to_owned(),
        first,
        says,
        from: words.from,
        to: words.to,
    })
}

/// `55.6`, `55,6 mm`, `~2 3/16 in`, or `55.6 mm (~2 3/16 in)`; each with what it may be off
/// for its last place.
fn readings(text: &str) -> Option<Vec<(f64, f64)>> {
    match text.strip_suffix(')') {
        Some(both) => {
            let (mm, inches) = both.split_once('(')?;
            Some(vec![millimetres(mm.trim())?, inch(inches.trim())?])
        }
        None => millimetres(text).or_else(|| inch(text)).map(|one| vec![one]),
    }
}

fn is_number(text: &str) -> bool {
    (1..=6).contains(&text.len()) && text.bytes().all(|b| b.is_ascii_digit())
}

fn millimetres(text: &str) -> Option<(f64, f64)> {
    let number = text.strip_suffix("mm").unwrap_or(text).trim_end().replace(',', ".");
    let (whole, part) = number.split_once('.').unwrap_or((&number, ""));
    if !is_number(whole) || !(part.is_empty() || is_number(part)) || part.len() > 3 {
        return None;
    }
    let places = i32::try_from(part.len()).ok()?;
    Some((number.parse().ok()?, 0.5 * libm::pow(10.0, -f64::from(places))))
}

/// Inches are given to the nearest 1/32; a `~` says that it is not one.
fn inch(text: &str) -> Option<(f64, f64)> {
    let number = text.strip_suffix("in")?.trim_end();
    let (about, number) = match number.strip_prefix('~') {
        Some(number) => (true, number),
        None => (false, number),
    };
    let mut inches = 0.0;
    for part in number.split(' ') {
        let (top, under) = part.split_once('/').unwrap_or((part, "1"));
        if !is_number(top) || !is_number(under) {
            return None;
        }
        let (top, under): (f64, f64) = (top.parse().ok()?, under.parse().ok()?);
        inches += top / under.max(1.0);
    }
    Some((inches * INCH, if about { INCH / 64.0 } else { 0.0 }))
}

#[cfg(test)]
mod tests {
    use super::super::super::read::{Layer, Pen};
    use super::*;

    const PEN: Pen = Pen { layer: Layer::Other, width: 0.18, dashed: false };

    fn words(text: &str, x: f64, y: f64) -> Words {
        let (from, to) = (Spot::new(x - 1.0, y), Spot::new(x + 1.0, y));
        Words { text: text.into(), from, to, up: Spot::new(0.0, 2.2) }
    }

    fn tick(x: f64, y: f64, high: f64) -> Line {
        Line { from: Spot::new(x, y), to: Spot::new(x, y + high), pen: PEN }
    }

    #[test]
    fn numerals_stand_at_ticks() {
        let ticks: Vec<Line> = (0..4)
            .flat_map(|i| {
                let x = 20.0 + f64::from(i) * 10.0;
                let inches = [tick(x, 20.0, -2.4), tick(x + INCH / 8.0, 20.0, -0.9)];
                let millimetres = [tick(x, 50.0, 2.4), tick(x + 1.0, 50.0, 1.0)];
                [inches, millimetres].concat()
            })
            .collect();
        let mut said: Vec<Words> = (0..4)
            .map(|i| words(&(100 + i * 10).to_string(), 20.0 + f64::from(i) * 10.0, 52.8))
            .collect();
        // Below, an inch ruler with a single numeral; its head is 0.4 below the tick.
        said.push(words("4", 30.0, 20.0 - 2.4 - 0.4 - 2.2 * 0.72));
        said.push(words("in", 32.6, 20.0 - 2.4 - 0.4 - 2.2 * 0.72));
        // Words elsewhere.
        said.push(words("7", 35.0, 52.8));
        said.push(words("7", 30.0, 60.0));
        let found = numerals(&ticks, &said);
        assert_eq!(found.len(), 5, "{found:?}");
        assert!((found[0].says() - 101.6).abs() < 1e-9 && !found[0].above);
        assert!((found[2].says() - 110.0).abs() < 1e-9 && found[2].above);
        assert!(found[2].at.far(Spot::new(30.0, 50.0)) < 1e-9, "{found:?}");
        assert!(found.iter().all(|n| n.worst.1 < 1e-9), "{found:?}");
        // By itself and without a unit.
        let alone = numerals(&ticks, &[words("34", 30.0, 20.0 - 2.4 - 0.4 - 2.2 * 0.72)]);
        assert!(alone.len() == 1 && (alone[0].says() - 863.6).abs() < 1e-9, "{alone:?}");
        // The number of a hole, above the upright of its cross, is none.
        let holes = [tick(20.0, 50.0, 1.5), tick(45.4, 50.0, 1.5)];
        let named = [words("8", 20.0, 52.0), words("9", 45.4, 52.0)];
        assert!(numerals(&holes, &named[..1]).is_empty());
        assert!(numerals(&holes, &named).is_empty(), "an inch apart");
        // On the line of a scale bar they are none.
        let bar =
            Line { from: Spot::new(0.0, 50.0), to: Spot::new(90.0, 50.0), pen: PEN };
        let with_bar: Vec<Line> = ticks.iter().copied().chain([bar]).collect();
        assert_eq!(numerals(&with_bar, &said).len(), 1);
    }

    #[test]
    fn readings_are_read_in_every_language_and_unit() {
        let says = |text: &str| label(&words(text, 0.0, 0.0)).map(|l| (l.first, l.says));
        let one = |text: &str| {
            let (first, says) = says(text).expect(text);
            (first, says[0])
        };
        for text in ["P2 · 55.6", "P2 · am Rohling · 55,6", "P2 · 55,6 mm (~2 3/16 in)"]
        {
            let (first, (mm, within)) = one(text);
            assert!(first == "P2" && (mm - 55.6).abs() < 1e-9, "{text}");
            assert!((within - 0.05).abs() < 1e-12, "{text}");
        }
        let (_, (mm, within)) = one("size · ~2 3/16 in");
        assert!((mm - 55.5625).abs() < 1e-9 && (within - 25.4 / 64.0).abs() < 1e-9);
        assert!((one("tip · 34 in").1.0 - 863.6).abs() < 1e-9);
        assert_eq!(one("55.6").0, "", "a reading alone");
        for text in [
            "12",
            "P2",
            "P2 · 55.6 P1 · 23.6",
            "P2 · A4",
            "1/2 · 54BF-F5FF",
            "girth · 845 mm to 972 mm",
        ] {
            assert!(says(text).is_none(), "{text}");
        }
    }
}
