//! The ruler of a strip, along its upper edge. It reads as a tape that is hooked on the outside
//! of the closed bend. With both units a second one stands along the lower edge, where there is
//! room.

use super::super::Print;
use super::super::canvas::{Canvas, Clearance, TextItem, cap_height, points};
use super::super::item::{Anchor, Claim, Layer, Pen, TickRow};
use super::super::lane::RulerPlace;
use super::super::plan::PlacedTile;
use super::{checks, joins, strip};
use crate::geom::clip::intersections_at;
use crate::geom::{Bend, Extent, Length};
use crate::layout::MarkKind;
use crate::words::Units;

/// From the strap's edge to the foot of a tick of a ruler beside it.
const OUT: Length = Length::from_um(600);
const SIZE: Length = points(90);
/// Between numerals, units and other ink.
const AIR: Clearance =
    Clearance { ink: Length::from_um(100), text: Length::from_um(500) };
const TO_NUMERAL: Length = Length::from_um(500);
/// Kept clear of a bend, of a match line, of an end, and of a long check.
const BEND: Length = Length::from_mm(8);
const JOIN: Length = Length::from_mm(6);
const END: Length = Length::from_um(600);
const CHECK: Length = Length::from_um(7_500);
/// From this width on a strap has a ruler for each of both units.
const BOTH: Length = Length::from_mm(44);

/// The ticks and numerals of a unit.
#[derive(Clone, Copy)]
struct Scale {
    /// From tick to tick.
    pitch: Length,
    /// How many ticks to a numeral, and how much the numeral grows from one to the next.
    numbered: (i64, i64),
    /// The length of every so many ticks, the longest first.
    ticks: [(i64, Length); 3],
    unit: &'static str,
}

const MILLIMETRES: Scale = Scale {
    pitch: Length::from_mm(1),
    numbered: (20, 20),
    ticks: [
        (10, Length::from_um(3_200)),
        (5, Length::from_um(2_200)),
        (1, Length::from_um(1_200)),
    ],
    unit: "mm",
};

const INCHES: Scale = Scale {
    pitch: Length::from_inch_64ths(8),
    numbered: (8, 1),
    ticks: [
        (8, Length::from_um(3_400)),
        (4, Length::from_um(2_400)),
        (1, Length::from_um(1_300)),
    ],
    unit: "in",
};

/// A ruler on a tile.
struct Ruler {
    scale: Scale,
    /// Where the feet of its ticks stand across the strap, and which way they point.
    foot: Length,
    way: i64,
    /// Where the leather must reach for it to be there; zero for a ruler beside the strap.
    edge: Length,
    /// Whether it hangs from a line of its own.
    is_hung: bool,
    /// The places of its ticks.
    ticks: Vec<Tick>,
}

/// Draws the ticks and writes the numerals.
pub(super) fn draw(canvas: &mut Canvas, print: &Print<'_>, tile: &PlacedTile<'_>) {
    for ruler in rulers(print, tile, canvas.wording.units) {
        ruler.draw(canvas, tile);
        ruler.number(canvas, tile);
    }
}

/// The rulers of a tile: only at the edges of the piece.
fn rulers(print: &Print<'_>, tile: &PlacedTile<'_>, units: Units) -> Vec<Ruler> {
    let piece = tile.span.piece;
    let half = piece.narrowest() / 2;
    let scale = if units == Units::Inches { INCHES } else { MILLIMETRES };
    let ruler = |scale, foot, way, edge| {
        let is_hung = edge != Length::ZERO && edge != foot;
        let mut ruler = Ruler { scale, foot, way, edge, is_hung, ticks: Vec::new() };
        ruler.ticks = ruler.ticks(print, tile);
        ruler
    };
    let is_top = tile.span.above.is_none();
    match tile.span.lane.ruler {
        RulerPlace::Inside(foot) => {
            let mut all = Vec::new();
            if is_top {
                all.push(ruler(scale, foot, -1, half));
            }
            let is_second = units == Units::Both && piece.narrowest() >= BOTH;
            if is_second && tile.span.below.is_none() {
                all.push(ruler(INCHES, -foot, 1, -half));
            }
            all
        }
        RulerPlace::Outside if is_top => {
            vec![ruler(scale, tile.span.edges().to + OUT, 1, Length::ZERO)]
        }
        RulerPlace::Outside | RulerPlace::None => Vec::new(),
    }
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
    /// The ticks that the tile has room for.
    fn ticks(&self, print: &Print<'_>, tile: &PlacedTile<'_>) -> Vec<Tick> {
        let piece = tile.span.piece;
        let shown = tile.span.on_piece();
        // The reading is |x| + `add`.
        let add = piece.bend.map_or(Length::ZERO, Bend::from_fold_to_outside);
        let pitch = self.scale.pitch;
        let mut all = Vec::new();
        for side in [-1, 1] {
            let away = if side < 0 {
                Extent { from: -shown.to, to: -shown.from }
            } else {
                shown
            };
            let first = (away.from.max(Length::ZERO) + add).nm() / pitch.nm();
            let last = (away.to + add).nm() / pitch.nm();
            for count in first.max(0)..=last {
                let off = pitch * count - add;
                let is_read = off > Length::ZERO || side > 0;
                let is_shown = off >= Length::ZERO && away.has(off);
                if is_read && is_shown {
                    all.push(Tick { x: off * side, count });
                }
            }
        }
        let taken = taken(print, tile);
        let within = strip::inner(tile);
        // What a ruler hangs from may run across the piece at its ends.
        let end = if self.is_hung { (self.edge - self.foot).abs() } else { END };
        let within = Extent {
            from: within.from + if tile.span.left.is_some() { JOIN } else { end },
            to: within.to - if tile.span.right.is_some() { JOIN } else { end },
        };
        let high = Extent::new(self.foot, self.foot + self.scale.ticks[0].1 * self.way);
        let is_beside = self.edge == Length::ZERO;
        all.retain(|tick| {
            let at = Extent::at(tick.x);
            let is_free = within.holds(at) && !taken.iter().any(|t| t.overlaps(at));
            is_free
                && if is_beside {
                    !joins::covers(tile, tick.x, high)
                } else {
                    self.is_on_leather(tile, tick.x)
                }
        });
        all
    }

    /// Whether the leather reaches to the edge that the ruler belongs to.
    fn is_on_leather(&self, tile: &PlacedTile<'_>, x: Length) -> bool {
        let rounding = Length::from_um(1);
        let edges = intersections_at(&tile.span.piece.outline, x);
        edges.into_iter().any(|y| {
            if self.way < 0 {
                y + rounding >= self.edge
            } else {
                y - rounding <= self.edge
            }
        })
    }

    fn draw(&self, canvas: &mut Canvas, tile: &PlacedTile<'_>) {
        let mut rows: [Vec<TickRow>; 2] = [Vec::new(), Vec::new()];
        for (nth, &(every, long)) in self.scale.ticks.iter().enumerate() {
            for run in tick_runs(&self.ticks, every) {
                let from = tile.at(run.from, self.foot);
                let tick = tile.at(run.from, self.foot + long * self.way) - from;
                let pitch = tile.at(run.from + run.pitch, self.foot) - from;
                let row = TickRow { from, tick, pitch, count: run.count };
                rows[usize::from(nth > 0)].push(row);
            }
        }
        let [round, mut others] = rows;
        others.sort_by_key(|row| row.tick.norm());
        canvas.tick_rows(Layer::Guides, Pen::Thin, others);
        canvas.tick_rows(Layer::Guides, Pen::Frame, round);
        if self.is_hung {
            let line = |run: TickRun| {
                let to = run.from + run.pitch * (run.count - 1);
                tile.line((run.from, self.foot), (to, self.foot))
            };
            let lines = tick_runs(&self.ticks, 1).into_iter().map(line).collect();
            canvas.stroke(Layer::Guides, Pen::Thin, lines);
        }
    }

    fn number(&self, canvas: &mut Canvas, tile: &PlacedTile<'_>) {
        let scale = self.scale;
        let out = scale.ticks[0].1 + TO_NUMERAL;
        let y = self.foot + if self.way < 0 { -(out + cap_height(SIZE)) } else { out };
        let (every, step) = scale.numbered;
        let mut ends = Vec::new();
        for tick in self.ticks.iter().filter(|tick| tick.count % every == 0) {
            let text = (tick.count / every * step).to_string();
            let unit = scale.pitch * every / step;
            let claim = Claim::Numeral { piece: tile.span.index, x: tick.x, unit };
            let item = TextItem::new(tile.at(tick.x, y), Anchor::Middle, SIZE, &text);
            if let Some(item) = canvas.write_first_of([item.claiming(claim)], AIR) {
                ends.push((tick.x, item.width() / 2));
            }
        }
        ends.sort_unstable();
        let at = |(x, half): (Length, Length)| tile.at(x + half + AIR.text, y);
        let units = ends.into_iter().map(at);
        let units = units.map(|at| TextItem::new(at, Anchor::Start, SIZE, scale.unit));
        canvas.write_first(units, Clearance { text: AIR.text / 2, ..AIR });
    }
}

/// What along a tile the rulers leave to bends, to long checks beside them, and to the readings
/// of nested sizes.
fn taken(print: &Print<'_>, tile: &PlacedTile<'_>) -> Vec<Extent> {
    let bends = tile.span.piece.marks.iter().filter(|m| m.kind == MarkKind::Bend);
    let mut all: Vec<Extent> = bends.map(|m| Extent::at(m.at.x).grown(BEND)).collect();
    if tile.span.lane.ruler == RulerPlace::Outside {
        let ends = checks::ends(print, tile).into_iter();
        all.extend(ends.map(|(at, ..)| Extent::at(at.x).grown(CHECK)));
    }
    all.extend(super::nested::readings(tile, print.request.rows));
    all
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
