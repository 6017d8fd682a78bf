//! The outline, to be cut along.

use super::super::canvas::Canvas;
use super::super::item::{Layer, Pen};
use super::super::plan::PlacedTile;
use crate::geom::{Extent, Length};

/// Draws the outline as far as the tile shows it. It is dashed where a blank already has it,
/// so that nothing is to be cut.
pub(super) fn draw(canvas: &mut Canvas, tile: &PlacedTile<'_>) {
    let Extent { mut from, to: end } = tile.span.stretch;
    let mut stroke = |pen: Pen, from: Length, to: Length| {
        let to = to.min(end);
        if from < to {
            let paths = tile.clip(&tile.span.piece.outline, Extent { from, to });
            canvas.stroke(Layer::Outline, pen, tile.place(&paths));
        }
    };
    for on_blank in &tile.span.piece.on_blank {
        stroke(Pen::Outline, from, on_blank.from);
        stroke(Pen::Target, from.max(on_blank.from), on_blank.to);
        from = from.max(on_blank.to);
    }
    stroke(Pen::Outline, from, end);
}
