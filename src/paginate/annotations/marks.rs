//! What is punched, in true size, and where to set the awl.

use super::super::canvas::{Area, Canvas};
use super::super::lanes::Lane;
use super::super::sheet::{Layer, Pen};
use super::line;
use crate::geom::{Extent, Length, Path, Point, Sheet};
use crate::layout::{Mark, MarkKind};

/// How far the cross of a mark goes beyond its ring.
pub(super) const ARM: Length = Length::from_um(1_500);
/// The most that the cross leaves clear about the very centre.
const CENTRE: Length = Length::from_um(600);
/// Kept free about a ring.
const CLEAR: Length = Length::from_um(600);

/// Draws the form of every mark that is whole on this lane.
pub(super) fn draw(canvas: &mut Canvas, lane: &Lane, whole: &[&Mark]) {
    for mark in whole {
        let Some(path) = mark.path() else { continue };
        let target = mark.kind == MarkKind::Target;
        let pen = if target { Pen::Target } else { Pen::Punch };
        canvas.stroke(Layer::Punch, pen, vec![path.placed(lane.placement)]);
        let middle = lane.at(mark.at.x, mark.at.y);
        let (half_x, half_y) =
            (mark.x_extent().length() / 2, mark.y_extent().length() / 2);
        let about = |c: Length, r: Length| Extent { from: c - r, to: c + r };
        canvas.take(
            Area::new(about(middle.x, half_x), about(middle.y, half_y)).grown(CLEAR),
        );
        // A stitch is pricked along its line: a cross on each would black it out. A slit has
        // no middle to set an awl to.
        let bare = matches!(mark.kind, MarkKind::Stitch | MarkKind::Slit);
        if !target && !bare {
            let arms = arms(middle, half_x, half_y);
            canvas.stroke(Layer::Guides, Pen::Thin, arms);
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
