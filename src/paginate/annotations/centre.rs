//! The centre line, the bend lines and the cuts across the strap. They stop short of marks.

use super::super::canvas::Canvas;
use super::super::item::{Layer, Pen};
use super::super::plan::PlacedTile;
use super::stretches_between;
use crate::geom::clip::intersections_at;
use crate::geom::{Extent, Length};
use crate::layout::{MarkKind, Shape};

/// From a match line to the centre line.
const JOIN: Length = Length::from_mm(6);
/// Kept free around a mark: its cross, and a little more.
const CLEAR: Length = Length::from_mm(2);

/// Draws the centre line as far as the tile shows the piece; it stops for what stands on it.
pub(super) fn draw(canvas: &mut Canvas, tile: &PlacedTile<'_>) {
    let piece = tile.span.piece;
    let centre = Extent::at(Length::ZERO);
    if !tile.span.across.holds(centre) {
        return;
    }
    let marks = tile.marks.iter().filter(|m| m.path().is_some());
    let marks = marks.filter(|m| m.y_extent().grown(CLEAR).overlaps(centre));
    let marks = marks.map(|m| m.x_extent().grown(CLEAR));
    // Nothing is drawn through boxes and words.
    let drawn = piece.guides.iter().filter(|d| d.y_extent().overlaps(centre));
    let drawn = drawn.filter_map(|d| Some(d.whole()?.grown(CLEAR / 2)));
    let at = tile.at(Length::ZERO, Length::ZERO);
    let words = canvas.words_across(at.y, CLEAR / 2);
    let words = words.into_iter().map(|x| x.grown(CLEAR / 2).shifted(-at.x));
    // Overlaps have words and hatching of their own.
    let whole = tile.span.on_piece().intersection(super::strip::inner(tile));
    // At a match line stands the name of the join.
    let end = |join: bool| if join { JOIN } else { Length::ZERO };
    let whole = Extent {
        from: whole.from + end(tile.span.left.is_some()),
        to: whole.to - end(tile.span.right.is_some()),
    };
    let runs = stretches_between(whole, marks.chain(drawn).chain(words));
    let line = |run: &Extent| tile.line((run.from, centre.from), (run.to, centre.to));
    canvas.stroke(Layer::Guides, Pen::Centre, runs.iter().map(line).collect());
}

/// Draws the bend lines and the cuts across the strap.
pub(super) fn draw_across(canvas: &mut Canvas, tile: &PlacedTile<'_>) {
    let piece = tile.span.piece;
    let formed = || tile.marks.iter().filter(|m| m.path().is_some());
    let mut draw = |x: Length, pen: Pen| {
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
        draw(bend.at.x, Pen::Fold);
    }
    // A cut across the strap away from its end is not part of the outline.
    for end in tile.marks.iter().filter(|m| m.shape == Shape::Across) {
        let is_inside = piece.extent.from < end.at.x && end.at.x < piece.extent.to;
        if is_inside && end.kind == MarkKind::End {
            draw(end.at.x, Pen::Thin);
        }
    }
}
