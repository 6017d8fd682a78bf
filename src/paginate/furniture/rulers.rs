//! Rulers along both edges of the strap, which read as a tape hooked on the outside of
//! the closed bend: millimetres above, inches below.

use super::super::canvas::{Canvas, Words, cap};
use super::super::lanes::Lane;
use super::super::sheet::{Anchor, Comb, Layer, Pen};
use super::crosses::CLEAR;
use crate::geom::{Extent, Length};
use crate::layout::Piece;
use crate::lettering;

/// From the strap's edge to the foot of a tick.
const OUT: Length = Length::from_um(800);
const SIZE: Length = Length::from_um(2_200);
const TO_NUMERAL: Length = Length::from_um(400);
const LONGEST: Length = Length::from_um(2_400);

/// One of the two rulers.
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

/// Draws both rulers as far as the lane shows the piece.
pub(super) fn draw(canvas: &mut Canvas, lane: &Lane, piece: &Piece) {
    let shown = Extent {
        from: lane.part.stretch.from.max(piece.extent.from),
        to: lane.part.stretch.to.min(piece.extent.to),
    };
    // Only at the piece's own edges.
    if lane.above.is_none() {
        MILLIMETRES.draw(canvas, lane, piece, shown);
    }
    if lane.below.is_none() {
        INCHES.draw(canvas, lane, piece, shown);
    }
}

impl Ruler {
    fn draw(&self, canvas: &mut Canvas, lane: &Lane, piece: &Piece, shown: Extent) {
        // What to add to |x| for the reading, and from where on there is one.
        let (add, inner) = piece.bend.map_or((Length::ZERO, None), |b| {
            (b.from_fold_to_outside(), Some(b.take_up / 2))
        });
        let mut combs = Vec::new();
        let mut unit_is_given = false;
        let furthest = shown.from.abs().max(shown.to.abs()) + add;
        let nearest = if shown.from <= Length::ZERO && Length::ZERO <= shown.to {
            Length::ZERO
        } else {
            shown.from.abs().min(shown.to.abs())
        };
        let first = ((nearest + add).nm() / self.pitch.nm()).max(0);
        let last = furthest.nm() / self.pitch.nm();
        for side in [-1, 1] {
            let x_of = |n: i64| (self.pitch * n - add) * side;
            let reads = |n: i64| {
                let away = self.pitch * n - add;
                let x = x_of(n);
                inner.map_or(away > Length::ZERO || side > 0, |i| away > i)
                    && away >= Length::ZERO
                    && shown.from <= x
                    && x <= shown.to
            };
            for n in (first..=last).filter(|n| n % self.numbered.0 == 0 && reads(*n)) {
                self.number(canvas, lane, piece, (x_of(n), n), &mut unit_is_given);
            }
            // The foot of a cross stands at a join.
            let is_clear =
                |n: i64| lane.ends().all(|join| (x_of(n) - join.line).abs() >= CLEAR);
            let stands = |n: i64| reads(n) && is_clear(n);
            for &(every, long) in self.ticks {
                let up = if self.above { 1 } else { -1 };
                let foot = (piece.width / 2 + OUT) * up;
                for (n, teeth) in runs(first, last, every, stands) {
                    let from = lane.at(x_of(n), foot);
                    let tooth = lane.at(x_of(n), foot + long * up) - from;
                    let pitch = lane.at(x_of(n + every), foot) - from;
                    combs.push(Comb { from, tooth, pitch, teeth });
                }
            }
        }
        // Those of one length are drawn one after the other.
        combs.sort_by_key(|c| c.tooth.norm());
        canvas.combs(Layer::Guides, Pen::Thin, combs);
    }

    fn number(
        &self,
        canvas: &mut Canvas,
        lane: &Lane,
        piece: &Piece,
        (x, n): (Length, i64),
        unit_is_given: &mut bool,
    ) {
        let out = piece.width / 2 + OUT + LONGEST + TO_NUMERAL;
        let y = if self.above { out } else { -(out + cap(SIZE)) };
        let text = (n / self.numbered.0 * self.numbered.1).to_string();
        let words = Words::new(lane.at(x, y), Anchor::Middle, SIZE, &text);
        if !canvas.try_write(words, Length::ZERO) || *unit_is_given {
            return;
        }
        let aside = lettering::width(&text, SIZE) / 2 + Length::from_um(600);
        let unit = Words::new(lane.at(x + aside, y), Anchor::Start, SIZE, self.unit);
        *unit_is_given = canvas.try_write(unit, Length::ZERO);
    }
}

/// The multiples of `every` from `first` to `last` that stand, in runs without a gap: where
/// each starts, and how many there are. A long tick is one of the short ones too: what is
/// drawn twice is drawn alike.
fn runs(
    first: i64,
    last: i64,
    every: i64,
    stands: impl Fn(i64) -> bool,
) -> Vec<(i64, i64)> {
    let mut all = Vec::new();
    let mut n = first + (every - first % every) % every;
    while n <= last {
        let start = n;
        while n <= last && stands(n) {
            n += every;
        }
        if n > start {
            all.push((start, (n - start) / every));
        } else {
            n += every;
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn gaps_part_runs_and_lose_no_tick() {
        let gaps = [7, 8, 10, 20, 21];
        let stands = |n: i64| !gaps.contains(&n);
        assert_eq!(runs(3, 22, 1, stands), [(3, 4), (9, 1), (11, 9), (22, 1)]);
        assert_eq!(runs(3, 32, 5, stands), [(5, 1), (15, 1), (25, 2)]);
        assert_eq!(runs(11, 14, 5, stands), []);
    }
}
