//! Centre line and bend line, which stop short of every mark.

use super::super::canvas::Canvas;
use super::super::clip::intersections_at;
use super::super::lanes::Lane;
use super::super::sheet::{Layer, Pen};
use super::between;
use crate::geom::{Extent, Length, Path};
use crate::layout::{Mark, MarkKind, Piece, Shape};

/// What stays free about a mark: the arms of its own cross, and a little.
const CLEAR: Length = Length::from_mm(2);

/// Draws both as far as the lane shows the piece.
pub(super) fn draw(canvas: &mut Canvas, lane: &Lane, piece: &Piece, whole: &[&Mark]) {
    let formed: Vec<&Mark> =
        whole.iter().copied().filter(|m| m.path().is_some()).collect();
    let shown = Extent {
        from: lane.part.stretch.from.max(piece.extent.from),
        to: lane.part.stretch.to.min(piece.extent.to),
    };
    let zero = Extent { from: Length::ZERO, to: Length::ZERO };
    let gaps = formed.iter().filter(|m| m.y_extent().grown(CLEAR).overlaps(zero));
    let gaps = gaps.map(|m| m.x_extent().grown(CLEAR));
    // Boxes are open, and words are to be read.
    let drawn = piece.guides.iter().filter(|d| d.y_extent().overlaps(zero));
    let gaps = gaps.chain(drawn.filter_map(|d| Some(d.whole()?.grown(CLEAR / 2))));
    let mut runs = between(shown, gaps.collect());
    if !lane.part.across.holds(zero) {
        runs.clear();
    }
    let mut paths = Vec::new();
    for run in runs {
        let (a, b) = (lane.at(run.from, Length::ZERO), lane.at(run.to, Length::ZERO));
        paths.push(Path::line(a, b));
    }
    canvas.stroke(Layer::Guides, Pen::Centre, paths);
    for bend in whole.iter().filter(|m| m.kind == MarkKind::Bend) {
        across(canvas, lane, piece, bend.at.x, Pen::Fold, &formed);
    }
    // A cut across the strap away from its end is not part of the outline.
    for end in whole.iter().filter(|m| m.shape == Shape::Across) {
        let inside = piece.extent.from < end.at.x && end.at.x < piece.extent.to;
        if inside && end.kind == MarkKind::End {
            across(canvas, lane, piece, end.at.x, Pen::Thin, &formed);
        }
    }
}

fn across(
    canvas: &mut Canvas,
    lane: &Lane,
    piece: &Piece,
    x: Length,
    pen: Pen,
    formed: &[&Mark],
) {
    let ys = intersections_at(&piece.outline, x);
    let (Some(&low), Some(&high)) = (ys.iter().min(), ys.iter().max()) else { return };
    let here = Extent { from: x, to: x };
    let gaps = formed.iter().filter(|m| m.x_extent().grown(CLEAR).overlaps(here));
    let gaps = gaps.map(|m| m.y_extent().grown(CLEAR)).collect();
    let mut paths = Vec::new();
    let band = lane.part.across;
    for run in between(Extent { from: low.max(band.from), to: high.min(band.to) }, gaps) {
        let (a, b) = (lane.at(x, run.from), lane.at(x, run.to));
        paths.push(Path::line(a, b));
    }
    canvas.stroke(Layer::Guides, pen, paths);
}
