//! What the knife follows.

use super::super::canvas::Canvas;
use super::super::clip::{clip, clip_across};
use super::super::lanes::Lane;
use super::super::sheet::{Layer, Pen};
use crate::geom::{Extent, Length};
use crate::layout::Piece;

/// Draws the outline as far as the lane shows it; dashed where a blank has it already and
/// nothing is to be cut.
pub(super) fn draw(canvas: &mut Canvas, lane: &Lane, piece: &Piece) {
    let mut from = lane.part.stretch.from;
    for there in &piece.on_blank {
        stroke(canvas, lane, piece, Pen::Outline, from, there.from);
        stroke(canvas, lane, piece, Pen::Target, from.max(there.from), there.to);
        from = from.max(there.to);
    }
    stroke(canvas, lane, piece, Pen::Outline, from, lane.part.stretch.to);
}

fn stroke(
    canvas: &mut Canvas,
    lane: &Lane,
    piece: &Piece,
    pen: Pen,
    from: Length,
    to: Length,
) {
    let to = to.min(lane.part.stretch.to);
    if from >= to {
        return;
    }
    let along = clip(&piece.outline, Extent { from, to });
    let parts = along.iter().flat_map(|run| clip_across(run, lane.part.across));
    let placed = parts.map(|p| p.placed(lane.placement)).collect();
    canvas.stroke(Layer::Outline, pen, placed);
}
