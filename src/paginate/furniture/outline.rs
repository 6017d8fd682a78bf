//! What the knife follows.

use super::super::canvas::Canvas;
use super::super::clip::clip;
use super::super::lanes::Lane;
use super::super::sheet::{Layer, Pen};
use crate::layout::Piece;

/// Draws the outline as far as the lane shows it.
pub(super) fn draw(canvas: &mut Canvas, lane: &Lane, piece: &Piece) {
    let parts = clip(&piece.outline, lane.stretch);
    let placed = parts.iter().map(|p| p.placed(lane.placement)).collect();
    canvas.stroke(Layer::Outline, Pen::Outline, placed);
}
