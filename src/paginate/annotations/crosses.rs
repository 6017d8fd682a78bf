//! Registration crosses: the same two on both tiles of a join, to lay one on the other.
//!
//! The crosses of a join across the strap stand above and below it, and where the strap is
//! wider than the sheet on the leather, a little off the corner of the tile; those of a join
//! along the strap stand on its match line, a little off both corners.

use super::super::canvas::{Area, Canvas, Clear, Words, cap};
use super::super::lanes::{Join, Lane};
use super::super::sheet::{Anchor, Cross, Layer, Pen};
use super::labels::edges_over;
use super::line;
use crate::geom::{Extent, Length, Path, Point, Strap};
use crate::layout::Piece;
use crate::lettering;
use crate::words::Word;

/// From the strap's edge to the middle of a cross.
const OUT: Length = Length::from_mm(5);
/// From a corner of the tile, where two match lines meet, to the middle of a cross.
const IN: Length = Length::from_mm(12);
const ARM: Length = Length::from_um(2_500);
/// Kept free about crosses and their labels.
pub(super) const CLEAR: Length = Length::from_mm(1);
const SIZE: Length = Length::from_um(2_500);
const TO_LABEL: Length = Length::from_um(3_500);
/// How far a match line goes beyond the strap's edge.
const BEYOND: Length = Length::from_mm(1);

/// A cross to be drawn.
struct CrossPlace {
    on_strap: Point<Strap>,
    label: String,
    /// On which side its label stands if there is room.
    side: Anchor,
    /// Whether it stands on a match line along the strap.
    is_on_line: bool,
}

/// All crosses of a lane.
fn places(lane: &Lane, piece: &Piece) -> Vec<CrossPlace> {
    let mut all = Vec::new();
    for (join, edges) in lane.ends() {
        let above = lane.above.map_or(edges.to + OUT, |j| j.line - IN);
        let below = lane.below.map_or(edges.from - OUT, |j| j.line + IN);
        // Beyond the match line, where the tile's own rulers matter least.
        let side = if lane.left == Some(join) { Anchor::End } else { Anchor::Start };
        for (nth, y) in [above, below].into_iter().enumerate() {
            let label = label(join, 2 * lane.part.band + nth);
            let on_strap = Point::new(join.line, y);
            all.push(CrossPlace { on_strap, label, side, is_on_line: false });
        }
    }
    let long = along(lane, piece);
    for join in lane.above.into_iter().chain(lane.below) {
        let sides = [(long.from + IN, Anchor::Start), (long.to - IN, Anchor::End)];
        for (nth, (x, side)) in sides.into_iter().enumerate() {
            let label = label(join, 2 * lane.part.column + nth);
            let on_strap = Point::new(x, join.line);
            all.push(CrossPlace { on_strap, label, side, is_on_line: true });
        }
    }
    all
}

/// How far the match lines along the strap run.
fn along(lane: &Lane, piece: &Piece) -> Extent {
    let ends = piece.extent.grown(BEYOND);
    Extent {
        from: lane.left.map_or(ends.from, |j| j.line),
        to: lane.right.map_or(ends.to, |j| j.line),
    }
}

/// Draws the crosses and match lines at all edges of a lane.
pub(super) fn draw(canvas: &mut Canvas, lane: &Lane, piece: &Piece) -> Vec<Cross> {
    for (Join { line: x, .. }, edges) in lane.ends() {
        let high = Extent {
            from: lane.below.map_or(edges.from - BEYOND, |j| j.line),
            to: lane.above.map_or(edges.to + BEYOND, |j| j.line),
        };
        match_line(canvas, lane, Extent { from: x, to: x }, high);
    }
    for Join { line: y, .. } in lane.above.into_iter().chain(lane.below) {
        match_line(canvas, lane, along(lane, piece), Extent { from: y, to: y });
    }
    let crosses = places(lane, piece).into_iter().map(|place| {
        let at = lane.placement.apply(place.on_strap);
        let arms = vec![
            line(at.x - ARM, at.y, at.x + ARM, at.y),
            line(at.x, at.y - ARM, at.x, at.y + ARM),
        ];
        canvas.stroke(Layer::Guides, Pen::Punch, arms);
        Cross { label: place.label, on_strap: place.on_strap, at }
    });
    crosses.collect()
}

/// Labels the crosses of a lane: beside each, where nothing crosses the label.
pub(super) fn name(canvas: &mut Canvas, lane: &Lane, piece: &Piece) {
    for place in places(lane, piece) {
        let at = lane.placement.apply(place.on_strap);
        let words = |is_left: bool, up: Length| {
            let (aside, anchor) = if is_left {
                (-TO_LABEL, Anchor::End)
            } else {
                (TO_LABEL, Anchor::Start)
            };
            Words::new(Point::new(at.x + aside, at.y + up), anchor, SIZE, &place.label)
        };
        let (middle, above, below) = (-(cap(SIZE) / 2), CLEAR, -(CLEAR + cap(SIZE)));
        let levels = if place.is_on_line {
            [above, below, above + CLEAR]
        } else {
            [middle, above, below]
        };
        let first = place.side == Anchor::End;
        let clear = Clear { ink: CLEAR / 2, words: CLEAR };
        let tries = levels.map(|up| [(first, up), (!first, up)]);
        let free = tries.as_flattened().iter().map(|&(left, up)| words(left, up));
        let all: Vec<Words> = free.collect();
        // It must be there, so that the sheets can be joined.
        let chosen = all.iter().find(|w| canvas.is_free(w, clear)).or(all.first());
        if let Some(words) = chosen.cloned() {
            canvas.take(words.area().grown(CLEAR));
            canvas.write(words);
        }
        canvas.take(Area::about(at, ARM).grown(CLEAR));
    }
}

/// Whether a tick from `y` to `y` at `x` would touch a cross at an end of a lane or, beside
/// its upright, be taken for a part of it.
pub(super) fn cover(lane: &Lane, x: Length, y: Extent) -> bool {
    lane.ends().any(|(join, edges)| {
        let off = (x - join.line).abs();
        let is_level =
            |arm: Length| y.grown(CLEAR / 2).holds(Extent { from: arm, to: arm });
        let arms = [edges.to + OUT, edges.from - OUT];
        off < CLEAR || off < ARM + CLEAR / 2 && arms.into_iter().any(is_level)
    })
}

/// The number of the join and the `nth` letter: `1a`, and after `1z` comes `1aa`.
fn label(join: Join, nth: usize) -> String {
    let mut letters = Vec::new();
    let mut rest = nth + 1;
    while rest > 0 {
        let letter = u8::try_from((rest - 1) % 26).unwrap_or_default();
        letters.push(char::from(b'a' + letter));
        rest = (rest - 1) / 26;
    }
    format!("{}{}", join.number, letters.iter().rev().collect::<String>())
}

fn match_line(canvas: &mut Canvas, lane: &Lane, x: Extent, y: Extent) {
    let (a, b) = (lane.at(x.from, y.from), lane.at(x.to, y.to));
    canvas.stroke(Layer::Guides, Pen::Thin, vec![Path::line(a, b)]);
}

/// Names each match line, where there is room for the words beside it.
pub(super) fn name_joins(canvas: &mut Canvas, lane: &Lane, piece: &Piece) {
    let size = Length::from_um(2_200);
    let aside = Length::from_mm(1);
    let inset = Length::from_um(1_200);
    let clear = Clear { ink: Length::from_um(600), words: CLEAR };
    for (join, _) in lane.ends() {
        let text = canvas.wording.fill(Word::Join, &[&join.number]);
        let wide = lettering::width(&text, size) + aside;
        let (to, x, anchor) = if lane.left == Some(join) {
            (join.line - wide, join.line - aside, Anchor::End)
        } else {
            (join.line + wide, join.line + aside, Anchor::Start)
        };
        let Some(inside) = edges_over(piece, Extent::new(join.line, to)) else {
            continue;
        };
        let high = lane.above.map_or(inside.to, |j| j.line.min(inside.to)) - inset;
        let low = lane.below.map_or(inside.from, |j| j.line.max(inside.from)) + inset;
        // At the upper edge, at the lower, and further in where a crease runs along them.
        let levels = (0..8).flat_map(|n| {
            let further = Length::from_mm(1) * n;
            [high - cap(size) - further, low + size / 4 + further]
        });
        for y in levels.take_while(|y| low <= *y && *y + cap(size) <= high) {
            let words = Words::new(lane.at(x, y), anchor, size, &text);
            if canvas.try_write(words, clear) {
                break;
            }
        }
    }
    let left = lane.left.map_or(piece.extent.from, |j| j.line) + IN * 2;
    for join in lane.above.into_iter().chain(lane.below) {
        let text = canvas.wording.fill(Word::Join, &[&join.number]);
        // Outside of the match line, as at the ends.
        let is_above = lane.above == Some(join);
        let off = if is_above { aside } else { -(aside + cap(size)) };
        for steps in 0..8 {
            let at = lane.at(left + IN * steps, join.line + off);
            let words = Words::new(at, Anchor::Start, size, &text);
            if canvas.try_write(words, clear) {
                break;
            }
        }
    }
}
