//! Rulers along both edges of the strap: millimetres above, inches below. They read as a
//! tape that is hooked on the outside of the closed bend.

use super::super::canvas::{Canvas, Clearance, TextItem, cap_height};
use super::super::item::{Anchor, Claim, Layer, Pen, TickRow};
use super::super::plan::PlacedTile;
use super::crosses;
use crate::geom::{Extent, Length};
use crate::lettering;

/// From the strap's edge to the foot of a tick.
const OUT: Length = Length::from_um(800);
const SIZE: Length = Length::from_um(2_200);
/// Size of the unit, so that it has room between two numerals.
const UNIT: Length = Length::from_mm(2);
/// Between numerals, units and other ink.
const AIR: Clearance = Clearance { ink: Length::ZERO, text: Length::from_um(500) };
const TO_NUMERAL: Length = Length::from_um(400);
const LONGEST: Length = Length::from_um(2_400);

/// One of the two rulers.
#[derive(Clone, Copy)]
struct Ruler {
    /// From tick to tick.
    pitch: Length,
    /// How many ticks to a numeral, and how much the numeral grows from one to the next.
    numbered: (i64, i64),
    /// The length of every so many ticks.
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

/// Draws the ticks of both rulers as far as the tile shows the piece.
pub(super) fn draw(canvas: &mut Canvas, tile: &PlacedTile<'_>) {
    for ruler in rulers(tile) {
        canvas.tick_rows(Layer::Guides, Pen::Thin, ruler.tick_rows(tile));
    }
}

/// Writes the numerals at the ticks where there is room, and the unit beside the first
/// numeral that has room for it.
pub(super) fn number(canvas: &mut Canvas, tile: &PlacedTile<'_>) {
    for ruler in rulers(tile) {
        ruler.number(canvas, tile);
    }
}

/// The rulers of a tile: only at the edges of the piece.
fn rulers(tile: &PlacedTile<'_>) -> impl Iterator<Item = Ruler> {
    let above = tile.span.above.is_none().then_some(MILLIMETRES);
    above.into_iter().chain(tile.span.below.is_none().then_some(INCHES))
}

/// One tick.
#[derive(Clone, Copy)]
struct Tick {
    /// Where it is along the strap.
    x: Length,
    /// Its count from the outside of the bend.
    count: i64,
}

impl Ruler {
    /// The ticks that the tile shows.
    fn ticks(&self, tile: &PlacedTile<'_>) -> Vec<Tick> {
        let shown = tile.span.on_piece();
        // The reading is |x| + `add`. Up to `inner` the bend takes the place of the ticks.
        let (add, inner) = tile.span.piece.bend.map_or((Length::ZERO, None), |b| {
            (b.from_fold_to_outside(), Some(b.take_up / 2))
        });
        let mut all = Vec::new();
        for side in [-1, 1] {
            let away = if side < 0 {
                Extent { from: -shown.to, to: -shown.from }
            } else {
                shown
            };
            let first = (away.from.max(Length::ZERO) + add).nm() / self.pitch.nm();
            let last = (away.to + add).nm() / self.pitch.nm();
            for count in first.max(0)..=last {
                let off = self.pitch * count - add;
                let is_read =
                    inner.map_or(off > Length::ZERO || side > 0, |inner| off > inner);
                let is_shown = off >= Length::ZERO && away.holds(Extent::at(off));
                if is_read && is_shown {
                    all.push(Tick { x: off * side, count });
                }
            }
        }
        all
    }

    /// The ticks in rows of one length, without those in the place of a cross.
    fn tick_rows(&self, tile: &PlacedTile<'_>) -> Vec<TickRow> {
        let edges = tile.span.edges();
        let (foot, up) =
            if self.above { (edges.to + OUT, 1) } else { (edges.from - OUT, -1) };
        let high = Extent::new(foot, foot + LONGEST * up);
        let mut ticks = self.ticks(tile);
        ticks.retain(|tick| !crosses::covers(tile, tick.x, high));
        let mut tick_rows = Vec::new();
        for &(every, long) in self.ticks {
            for run in tick_runs(&ticks, every) {
                let from = tile.at(run.from, foot);
                let tick = tile.at(run.from, foot + long * up) - from;
                let pitch = tile.at(run.from + run.pitch, foot) - from;
                tick_rows.push(TickRow { from, tick, pitch, count: run.count });
            }
        }
        tick_rows.sort_by_key(|row| row.tick.norm());
        tick_rows
    }

    fn number(&self, canvas: &mut Canvas, tile: &PlacedTile<'_>) {
        let out = OUT + LONGEST + TO_NUMERAL;
        let Extent { from, to } = tile.span.edges();
        let y = if self.above { to + out } else { from - out - cap_height(SIZE) };
        let (every, step) = self.numbered;
        let mut ends = Vec::new();
        for tick in self.ticks(tile).into_iter().filter(|tick| tick.count % every == 0) {
            let text = (tick.count / every * step).to_string();
            let at = tile.at(tick.x, y);
            let unit = self.pitch * every / step;
            let claim = Claim::Numeral { piece: tile.span.index, x: tick.x, unit };
            let item = TextItem::new(at, Anchor::Middle, SIZE, &text).claiming(claim);
            if canvas.write_first([item], AIR) {
                ends.push(tick.x + lettering::width(&text, SIZE) / 2);
            }
        }
        let at = |end: Length| tile.at(end + AIR.text, y);
        let units = ends.into_iter().map(at);
        let units = units.map(|at| TextItem::new(at, Anchor::Start, UNIT, self.unit));
        canvas.write_first(units, AIR);
    }
}

/// Ticks at one distance from each other.
#[derive(Debug, PartialEq, Eq)]
struct TickRun {
    from: Length,
    pitch: Length,
    count: i64,
}

/// Every so many of the ticks, in runs without a gap. A long tick is one of the short ones
/// too: what is drawn twice is drawn alike.
fn tick_runs(ticks: &[Tick], every: i64) -> Vec<TickRun> {
    let mut all: Vec<TickRun> = Vec::new();
    let mut last: Option<Tick> = None;
    for &tick in ticks.iter().filter(|tick| tick.count % every == 0) {
        let before = last.replace(tick).filter(|last| last.count + every == tick.count);
        let pitch = before.map(|before| tick.x - before.x);
        match (pitch, all.last_mut()) {
            (Some(pitch), Some(run)) if run.count == 1 || pitch == run.pitch => {
                run.pitch = pitch;
                run.count += 1;
            }
            _ => all.push(TickRun {
                from: tick.x,
                pitch: Length::from_mm(every),
                count: 1,
            }),
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tick(x: i64, count: i64) -> Tick {
        Tick { x: Length::from_mm(x), count }
    }

    fn found(gaps: &[i64], numbers: &[i64], every: i64) -> Vec<(i64, i64)> {
        let stand = numbers.iter().filter(|n| !gaps.contains(n));
        let ticks: Vec<Tick> = stand.map(|&n| tick(n, n)).collect();
        let pitch = Length::from_mm(every);
        let all = tick_runs(&ticks, every);
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
        let both = [(-2, 5), (-3, 6), (2, 5), (3, 6)].map(|(x, n)| tick(x, n));
        let run = |x, way| TickRun {
            from: Length::from_mm(x),
            pitch: Length::from_mm(way),
            count: 2,
        };
        assert_eq!(tick_runs(&both, 1), [run(-2, -1), run(2, 1)]);
    }
}
