//! Registration crosses: the same two on both tiles of a join, to lay one on the other.
//!
//! The crosses of a join across the strap stand above and below it, and where the strap is
//! wider than the sheet on the leather, a little off the corner of the tile; those of a join
//! along the strap stand on its match line, a little off both corners.

use super::super::canvas::{Area, Canvas, Words, cap};
use super::super::lanes::{Join, Lane};
use super::super::sheet::{Anchor, Cross, Layer, Pen};
use super::line;
use crate::geom::{Extent, Length, Path, Point, Strap};
use crate::layout::Piece;
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
/// Half of what is kept free about a match line.
const THIN: Length = Length::from_um(200);

/// Draws the crosses and match lines at all edges of a lane.
pub(super) fn draw(canvas: &mut Canvas, lane: &Lane, piece: &Piece) -> Vec<Cross> {
    let mut crosses = Vec::new();
    let half = piece.width / 2;
    let high = Extent {
        from: lane.below.map_or(-(half + BEYOND), |j| j.line),
        to: lane.above.map_or(half + BEYOND, |j| j.line),
    };
    let above = lane.above.map_or(half + OUT, |j| j.line - IN);
    let below = lane.below.map_or(-(half + OUT), |j| j.line + IN);
    for join in lane.ends() {
        let x = join.line;
        match_line(canvas, lane, Extent { from: x, to: x }, high);
        // Beyond the match line, where the tile's own rulers matter least.
        let beyond = if lane.left == Some(join) { Anchor::End } else { Anchor::Start };
        for (nth, y) in [above, below].into_iter().enumerate() {
            let label = label(join, 2 * lane.part.band + nth);
            let at = Point::new(x, y);
            crosses.push(cross(canvas, lane, at, label, beyond));
        }
    }
    let ends = piece.extent.grown(BEYOND);
    let long = Extent {
        from: lane.left.map_or(ends.from, |j| j.line),
        to: lane.right.map_or(ends.to, |j| j.line),
    };
    for join in lane.above.into_iter().chain(lane.below) {
        let y = join.line;
        match_line(canvas, lane, long, Extent { from: y, to: y });
        let sides = [(long.from + IN, Anchor::Start), (long.to - IN, Anchor::End)];
        for (nth, (x, inward)) in sides.into_iter().enumerate() {
            let label = label(join, 2 * lane.part.column + nth);
            crosses.push(cross(canvas, lane, Point::new(x, y), label, inward));
        }
    }
    crosses
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
    canvas.take(Area::new(Extent::new(a.x, b.x), Extent::new(a.y, b.y)).grown(THIN));
}

fn cross(
    canvas: &mut Canvas,
    lane: &Lane,
    on_strap: Point<Strap>,
    label: String,
    anchor: Anchor,
) -> Cross {
    let at = lane.placement.apply(on_strap);
    let arms = vec![
        line(at.x - ARM, at.y, at.x + ARM, at.y),
        line(at.x, at.y - ARM, at.x, at.y + ARM),
    ];
    canvas.stroke(Layer::Guides, Pen::Punch, arms);
    canvas.take(Area::about(at, ARM).grown(CLEAR));
    let is_left = anchor == Anchor::End;
    let aside = if is_left { -TO_LABEL } else { TO_LABEL };
    // Clear of a match line that the cross stands on.
    let is_on_line =
        lane.above.into_iter().chain(lane.below).any(|j| j.line == on_strap.y);
    let low = if is_on_line { CLEAR } else { -(cap(SIZE) / 2) };
    let words = Words::new(Point::new(at.x + aside, at.y + low), anchor, SIZE, &label);
    canvas.take(words.area().grown(CLEAR));
    canvas.write(words);
    Cross { label, on_strap, at }
}

/// Names each match line, where there is room for the words beside it.
pub(super) fn name_joins(canvas: &mut Canvas, lane: &Lane, piece: &Piece) {
    let size = Length::from_um(2_200);
    let aside = Length::from_mm(1);
    let clear = Length::from_um(600);
    let inset = Length::from_um(1_200);
    let half = piece.width / 2;
    let high = lane.above.map_or(half, |j| j.line) - inset;
    let low = lane.below.map_or(-half, |j| j.line) + inset;
    for join in lane.ends() {
        let text = canvas.wording.fill(Word::Join, &[&join.number]);
        for y in [high - cap(size), low + size / 4] {
            let (x, anchor) = if lane.left == Some(join) {
                (join.line - aside, Anchor::End)
            } else {
                (join.line + aside, Anchor::Start)
            };
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
