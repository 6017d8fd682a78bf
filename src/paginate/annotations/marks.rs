//! What is punched, in true size, and where to set the awl.

use super::super::area::Area;
use super::super::canvas::Canvas;
use super::super::item::{Layer, Pen};
use super::super::lane::ARM;
use super::super::plan::PlacedTile;
use super::line;
use crate::geom::{Extent, Length, Path, Point, Sheet};
use crate::layout::{Mark, MarkKind};

/// How far the cross of a mark reaches into it, and half the plus in its middle.
const INTO: Length = Length::from_um(700);
const PLUS: Length = Length::from_um(600);
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
            let lines = cross(middle, half_x, half_y);
            let is_taken = |pair: &[Path<Sheet>]| {
                let others = tile.marks.iter().filter(|m| *m != mark);
                others.into_iter().any(|m| pair.iter().any(|line| meets(tile, line, m)))
            };
            // An arm in another mark would hide its form. Without the one opposite too, the
            // form of this mark stays even.
            let (arms, pluses) = lines.split_at(4);
            let free = arms.chunks(2).filter(|pair| !is_taken(pair)).flatten();
            let lines = free.chain(pluses).cloned().collect();
            canvas.stroke(Layer::Guides, Pen::Thin, lines);
        }
    }
}

/// Whether an end of a line lies in a mark or on its rim.
fn meets(tile: &PlacedTile<'_>, line: &Path<Sheet>, mark: &Mark) -> bool {
    let pen = Pen::Punch.width();
    let [x, y] = [mark.x_extent(), mark.y_extent()].map(|extent| extent.grown(pen));
    [line.start, line.end()].into_iter().any(|end| {
        let at = tile.placement.invert(end);
        x.has(at.x) && y.has(at.y)
    })
}

/// A cross through the rim of a mark, its middle open but for a small plus; a slot has one at
/// each of its ends, where its two holes are punched.
pub(super) fn cross(
    at: Point<Sheet>,
    half_x: Length,
    half_y: Length,
) -> Vec<Path<Sheet>> {
    let into = INTO.min(half_x.min(half_y) / 3);
    let (far_x, far_y) = (half_x + ARM, half_y + ARM);
    let (near_x, near_y) = (half_x - into, half_y - into);
    let mut all = vec![
        line(at.x - far_x, at.y, at.x - near_x, at.y),
        line(at.x + near_x, at.y, at.x + far_x, at.y),
        line(at.x, at.y - far_y, at.x, at.y - near_y),
        line(at.x, at.y + near_y, at.x, at.y + far_y),
    ];
    let arm = PLUS.min(half_y.min(half_x) * 2 / 5);
    let reach = half_x - half_y;
    let ends = [-reach, reach].into_iter();
    let pluses: Vec<Length> =
        if reach > Length::ZERO { ends.collect() } else { vec![Length::ZERO] };
    for x in pluses.into_iter().map(|off| at.x + off) {
        all.push(line(x - arm, at.y, x + arm, at.y));
        all.push(line(x, at.y - arm, x, at.y + arm));
    }
    all
}
