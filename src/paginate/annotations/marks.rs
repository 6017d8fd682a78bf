//! What is punched, in true size, and where to set the awl.

use super::super::canvas::{Area, Canvas};
use super::super::item::{Layer, Pen};
use super::super::plan::PlacedTile;
use super::line;
use crate::geom::{Extent, Length, Path, Point, Sheet};
use crate::layout::MarkKind;

/// How far the cross of a mark reaches beyond its ring.
pub(super) const ARM: Length = Length::from_um(1_500);
/// The most that the cross leaves clear around the very centre.
const CENTRE: Length = Length::from_um(600);
/// Kept free around a ring.
const CLEAR: Length = Length::from_um(600);

/// Draws the form of every mark that the tile shows whole.
pub(super) fn draw(canvas: &mut Canvas, tile: &PlacedTile<'_>) {
    for mark in &tile.marks {
        let Some(path) = mark.path() else { continue };
        let is_target = mark.kind == MarkKind::Target;
        let pen = if is_target { Pen::Target } else { Pen::Punch };
        canvas.stroke(Layer::Punch, pen, vec![path.placed(tile.placement)]);
        let middle = tile.at(mark.at.x, mark.at.y);
        let (half_x, half_y) =
            (mark.x_extent().length() / 2, mark.y_extent().length() / 2);
        let x = Extent::at(middle.x).grown(half_x);
        let y = Extent::at(middle.y).grown(half_y);
        canvas.keep_free(Area::new(x, y).grown(CLEAR));
        // A stitch is pricked along its line: a cross on each would black it out. A slit has
        // no middle to set an awl to.
        let is_bare = matches!(mark.kind, MarkKind::Stitch | MarkKind::Slit);
        if !is_target && !is_bare {
            canvas.stroke(Layer::Guides, Pen::Thin, arms(middle, half_x, half_y));
        }
    }
}

fn arms(at: Point<Sheet>, half_x: Length, half_y: Length) -> Vec<Path<Sheet>> {
    let gap = CENTRE.min(half_x.min(half_y) / 3);
    let (far_x, far_y) = (half_x + ARM, half_y + ARM);
    vec![
        line(at.x - far_x, at.y, at.x - gap, at.y),
        line(at.x + gap, at.y, at.x + far_x, at.y),
        line(at.x, at.y - far_y, at.x, at.y - gap),
        line(at.x, at.y + gap, at.x, at.y + far_y),
    ]
}
