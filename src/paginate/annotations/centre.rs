//! The centre line, the bend lines and the cuts across the strap. They stop short of marks.

use super::super::canvas::Canvas;
use super::super::item::{Layer, Pen};
use super::super::plan::PlacedTile;
use super::stretches_between;
use crate::geom::clip::intersections_at;
use crate::geom::{Extent, Length};
use crate::layout::{MarkKind, Shape};

/// Kept free around a mark: its cross, and a little more.
const CLEAR: Length = Length::from_mm(2);

/// Draws the lines as far as the tile shows the piece.
pub(super) fn draw(canvas: &mut Canvas, tile: &PlacedTile<'_>) {
    let piece = tile.span.piece;
    let formed = || tile.marks.iter().filter(|m| m.path().is_some());
    let centre = Extent::at(Length::ZERO);
    if tile.span.across.holds(centre) {
        let marks = formed().filter(|m| m.y_extent().grown(CLEAR).overlaps(centre));
        let marks = marks.map(|m| m.x_extent().grown(CLEAR));
        // Nothing is drawn through boxes and words.
        let drawn = piece.guides.iter().filter(|d| d.y_extent().overlaps(centre));
        let drawn = drawn.filter_map(|d| Some(d.whole()?.grown(CLEAR / 2)));
        let runs = stretches_between(tile.span.on_piece(), marks.chain(drawn));
        let line = |run: &Extent| tile.line((run.from, centre.from), (run.to, centre.to));
        canvas.stroke(Layer::Guides, Pen::Centre, runs.iter().map(line).collect());
    }
    let mut draw_across = |x: Length, pen: Pen| {
        let intersections_at = intersections_at(&piece.outline, x);
        let edges = intersections_at.into_iter().map(Extent::at).reduce(Extent::union);
        let Some(edges) = edges else { return };
        let marks =
            formed().filter(|m| m.x_extent().grown(CLEAR).overlaps(Extent::at(x)));
        let marks = marks.map(|m| m.y_extent().grown(CLEAR));
        let runs = stretches_between(edges.intersection(tile.span.across), marks);
        let line = |run: &Extent| tile.line((x, run.from), (x, run.to));
        canvas.stroke(Layer::Guides, pen, runs.iter().map(line).collect());
    };
    for bend in tile.marks.iter().filter(|m| m.kind == MarkKind::Bend) {
        draw_across(bend.at.x, Pen::Fold);
    }
    // A cut across the strap away from its end is not part of the outline.
    for end in tile.marks.iter().filter(|m| m.shape == Shape::Across) {
        let is_inside = piece.extent.from < end.at.x && end.at.x < piece.extent.to;
        if is_inside && end.kind == MarkKind::End {
            draw_across(end.at.x, Pen::Thin);
        }
    }
}
