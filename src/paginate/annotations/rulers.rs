//! Rulers along both edges of the strap, which read as a tape hooked on the outside of
//! the closed bend: millimetres above, inches below.

use super::super::canvas::{Canvas, Clear, Words, cap};
use super::super::lanes::Lane;
use super::super::sheet::{Anchor, Layer, Pen, TickRow};
use super::crosses;
use crate::geom::{Extent, Length};
use crate::layout::Piece;
use crate::lettering;

/// From the strap's edge to the foot of a tick.
const OUT: Length = Length::from_um(800);
const SIZE: Length = Length::from_um(2_200);
/// Size of the unit, so that it has room between two numerals.
const UNIT: Length = Length::from_mm(2);
/// Between numerals, units and other ink.
const AIR: Clear = Clear { ink: Length::ZERO, words: Length::from_um(500) };
const TO_NUMERAL: Length = Length::from_um(400);
const LONGEST: Length = Length::from_um(2_400);

/// One of the two rulers.
#[derive(Clone, Copy)]
struct Ruler {
    /// From tick to tick.
    pitch: Length,
    /// How many ticks to a numeral, and how much the numeral grows from one to the next.
    numbered: (i64, i64),
    /// Every so many ticks, how long a tick is.
    ticks: &'static [(i64, Length)],
    unit: &'static str,
    above: bool,
}

const MILLIMETRES: Ruler = Ruler {
    pitch: Length::from_mm(1),
    numbered: (10, 10),
    ticks: &[(10, LONGEST), (5, Length::from_um(1_600)), (1, Length::from_mm(1))],
    unit: "mm",
    above: true,
};

const INCHES: Ruler = Ruler {
    pitch: Length::from_inch_64ths(8),
    numbered: (8, 1),
    ticks: &[
        (8, LONGEST),
        (4, Length::from_um(1_800)),
        (2, Length::from_um(1_400)),
        (1, Length::from_um(900)),
    ],
    unit: "in",
    above: false,
};

/// Draws the ticks of both rulers as far as the lane shows the piece.
pub(super) fn draw(canvas: &mut Canvas, lane: &Lane, piece: &Piece) {
    for (ruler, readings) in rulers(lane, piece) {
        canvas.tick_rows(Layer::Guides, Pen::Thin, ruler.tick_rows(lane, &readings));
    }
}

/// Writes the numerals at the ticks where there is room, and the unit beside the first
/// that has room for it.
pub(super) fn number(canvas: &mut Canvas, lane: &Lane, piece: &Piece) {
    for (ruler, readings) in rulers(lane, piece) {
        ruler.number(canvas, lane, &readings);
    }
}

/// The rulers that a lane has, each with its readings.
fn rulers(lane: &Lane, piece: &Piece) -> Vec<(Ruler, Vec<Reading>)> {
    let shown = Extent {
        from: lane.part.stretch.from.max(piece.extent.from),
        to: lane.part.stretch.to.min(piece.extent.to),
    };
    // Only at the piece's own edges.
    let above = lane.above.is_none().then_some(MILLIMETRES);
    let below = lane.below.is_none().then_some(INCHES);
    let both = above.into_iter().chain(below);
    both.map(|ruler| (ruler, ruler.readings(piece, shown))).collect()
}

/// Where a tick is along the strap, and which it is from the outside of the bend.
type Reading = (Length, i64);

impl Ruler {
    fn readings(&self, piece: &Piece, shown: Extent) -> Vec<Reading> {
        // What to add to |x| for the reading, and from where on there is one.
        let (add, inner) = piece.bend.map_or((Length::ZERO, None), |b| {
            (b.from_fold_to_outside(), Some(b.take_up / 2))
        });
        let furthest = shown.from.abs().max(shown.to.abs()) + add;
        let nearest = if shown.from <= Length::ZERO && Length::ZERO <= shown.to {
            Length::ZERO
        } else {
            shown.from.abs().min(shown.to.abs())
        };
        let first = ((nearest + add).nm() / self.pitch.nm()).max(0);
        let last = furthest.nm() / self.pitch.nm();
        let mut all = Vec::new();
        for (side, n) in
            [-1, 1].into_iter().flat_map(|s| (first..=last).map(move |n| (s, n)))
        {
            let away = self.pitch * n - add;
            let x = away * side;
            let reads = inner.map_or(away > Length::ZERO || side > 0, |i| away > i);
            if reads && away >= Length::ZERO && shown.from <= x && x <= shown.to {
                all.push((x, n));
            }
        }
        all
    }

    /// The ticks, in rows of one length, without those that a cross takes the place of.
    fn tick_rows(&self, lane: &Lane, readings: &[Reading]) -> Vec<TickRow> {
        let (foot, up) = if self.above {
            (lane.edges().to + OUT, 1)
        } else {
            (lane.edges().from - OUT, -1)
        };
        let high = Extent::new(foot, foot + LONGEST * up);
        let stand: Vec<Reading> = readings
            .iter()
            .filter(|(x, _)| !crosses::cover(lane, *x, high))
            .copied()
            .collect();
        let mut tick_rows = Vec::new();
        for &(every, long) in self.ticks {
            for Row { from: x, pitch, count } in rows(&stand, every) {
                let from = lane.at(x, foot);
                let tick = lane.at(x, foot + long * up) - from;
                let pitch = lane.at(x + pitch, foot) - from;
                tick_rows.push(TickRow { from, tick, pitch, count });
            }
        }
        tick_rows.sort_by_key(|c| c.tick.norm());
        tick_rows
    }

    fn number(&self, canvas: &mut Canvas, lane: &Lane, all: &[Reading]) {
        let out = OUT + LONGEST + TO_NUMERAL;
        let Extent { from, to } = lane.edges();
        let y = if self.above { to + out } else { from - out - cap(SIZE) };
        let mut written = Vec::new();
        for &(x, n) in all.iter().filter(|(_, n)| n % self.numbered.0 == 0) {
            let text = (n / self.numbered.0 * self.numbered.1).to_string();
            let words = Words::new(lane.at(x, y), Anchor::Middle, SIZE, &text);
            if canvas.try_write(words, AIR) {
                written.push(x + lettering::width(&text, SIZE) / 2);
            }
        }
        for end in written {
            let at = lane.at(end + AIR.words, y);
            let unit = Words::new(at, Anchor::Start, UNIT, self.unit);
            if canvas.try_write(unit, AIR) {
                return;
            }
        }
    }
}

/// Ticks at one distance from each other.
#[derive(Debug, PartialEq, Eq)]
struct Row {
    from: Length,
    pitch: Length,
    count: i64,
}

/// Every so many of the ticks, in rows without a gap. A long tick is one of the short ones
/// too: what is drawn twice is drawn alike.
fn rows(ticks: &[Reading], every: i64) -> Vec<Row> {
    let mut all: Vec<Row> = Vec::new();
    let mut last: Option<Reading> = None;
    for &(x, n) in ticks.iter().filter(|(_, n)| n % every == 0) {
        let before = last.replace((x, n)).filter(|(_, before)| before + every == n);
        match (before, all.last_mut()) {
            (Some((near, _)), Some(row)) if row.count == 1 || x - near == row.pitch => {
                row.pitch = x - near;
                row.count += 1;
            }
            _ => all.push(Row { from: x, pitch: Length::from_mm(every), count: 1 }),
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(gaps: &[i64], numbers: &[i64], every: i64) -> Vec<(i64, i64)> {
        let stand = numbers.iter().filter(|n| !gaps.contains(n));
        let ticks: Vec<Reading> = stand.map(|&n| (Length::from_mm(n), n)).collect();
        let pitch = Length::from_mm(every);
        let all = rows(&ticks, every);
        assert!(all.iter().all(|r| r.pitch == pitch), "{all:?}");
        all.iter().map(|r| (r.from.nm() / 1_000_000, r.count)).collect()
    }

    #[test]
    fn gaps_part_rows_and_lose_no_tick() {
        let gaps = [7, 8, 10, 20, 21];
        let upto = |a: i64, b: i64| (a..=b).collect::<Vec<i64>>();
        let ones = found(&gaps, &upto(3, 22), 1);
        assert_eq!(ones, [(3, 4), (9, 1), (11, 9), (22, 1)]);
        assert_eq!(found(&gaps, &upto(3, 32), 5), [(5, 1), (15, 1), (25, 2)]);
        assert_eq!(found(&gaps, &upto(11, 14), 5), []);
    }

    /// On a turn-back the readings grow the other way; the two ways make two rows.
    #[test]
    fn a_row_ends_at_the_bend() {
        let both =
            [(-2, 5), (-3, 6), (2, 5), (3, 6)].map(|(x, n)| (Length::from_mm(x), n));
        let row = |x, way| Row {
            from: Length::from_mm(x),
            pitch: Length::from_mm(way),
            count: 2,
        };
        assert_eq!(rows(&both, 1), [row(-2, -1), row(2, 1)]);
    }
}
