//! Rulers along both edges of the strap, which read as a tape hooked on the outside of
//! the closed bend: millimetres above, inches below.

use super::super::canvas::{Canvas, Clear, Words, cap};
use super::super::lanes::Lane;
use super::super::sheet::{Anchor, Layer, Pen};
use super::crosses::CLEAR;
use crate::geom::{Extent, Length, Path, Sheet};
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
    /// Every so many ticks, how long a tick is; the first that fits counts.
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
        let ticks = readings.iter().filter_map(|&at| ruler.tick(lane, piece, at));
        canvas.stroke_row(Layer::Guides, Pen::Thin, ticks.collect());
    }
}

/// Writes the numerals at the ticks where there is room, and the unit beside the first
/// that has room for it.
pub(super) fn number(canvas: &mut Canvas, lane: &Lane, piece: &Piece) {
    for (ruler, readings) in rulers(lane, piece) {
        ruler.number(canvas, lane, piece, &readings);
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

    /// None where the foot of a cross stands.
    fn tick(&self, lane: &Lane, piece: &Piece, (x, n): Reading) -> Option<Path<Sheet>> {
        if lane.ends().any(|join| (x - join.line).abs() < CLEAR) {
            return None;
        }
        let long = self.ticks.iter().find(|(every, _)| n % every == 0);
        let long = long.map_or(LONGEST, |(_, long)| *long);
        let up = if self.above { 1 } else { -1 };
        let foot = (piece.width / 2 + OUT) * up;
        Some(Path::line(lane.at(x, foot), lane.at(x, foot + long * up)))
    }

    fn number(&self, canvas: &mut Canvas, lane: &Lane, piece: &Piece, all: &[Reading]) {
        let out = piece.width / 2 + OUT + LONGEST + TO_NUMERAL;
        let y = if self.above { out } else { -(out + cap(SIZE)) };
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
