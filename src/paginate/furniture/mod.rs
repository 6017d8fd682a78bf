//! Everything that is drawn on a sheet: each kind of furniture in a file of its own.

mod bars;
mod centre;
mod corners;
mod crosses;
mod drawn;
mod header;
mod key_plan;
mod labels;
mod marks;
mod outline;
mod rulers;

use super::Heading;
use super::canvas::Canvas;
use super::lanes::{Lane, Plan};
use super::sheet::{Sheet, Tile};
use crate::geom::{Extent, Length, Path, Point, Sheet as OnSheet};
use crate::layout::{Layout, Mark, Piece};

/// What all sheets share.
#[derive(Clone, Copy, Debug)]
pub(super) struct Scene<'a> {
    pub(super) layout: &'a Layout,
    pub(super) heading: &'a Heading,
    pub(super) paper: &'a str,
    pub(super) fingerprint: &'a str,
    pub(super) plan: &'a Plan,
}

/// Draws the sheet of this index, counted from 0.
pub(super) fn draw(scene: &Scene<'_>, index: usize) -> Sheet {
    let page = scene.plan.page;
    let mut canvas = Canvas::new(page.printable());
    corners::draw(&mut canvas);
    let key_plan = key_plan::draw(&mut canvas, scene, index);
    header::draw(&mut canvas, scene, index, key_plan);
    let bars = bars::draw(&mut canvas, page);
    let mut tiles = Vec::new();
    for lane in &scene.plan.sheets[index] {
        let piece = &scene.layout.pieces[lane.piece];
        tiles.push(draw_lane(&mut canvas, lane, piece));
    }
    if scene.layout.pieces.len() > 1 {
        for lane in &scene.plan.sheets[index] {
            drawn::name(&mut canvas, lane, &scene.layout.pieces[lane.piece]);
        }
    }
    Sheet {
        number: index + 1,
        width: page.width,
        height: page.height,
        tiles,
        bars,
        items: canvas.items,
    }
}

/// What must stay where it is comes first; words then go where there is room.
fn draw_lane(canvas: &mut Canvas, lane: &Lane, piece: &Piece) -> Tile {
    let whole: Vec<&Mark> =
        piece.marks.iter().filter(|m| lane.stretch.holds(m.x_extent())).collect();
    outline::draw(canvas, lane, piece);
    marks::draw(canvas, lane, &whole);
    drawn::draw(canvas, lane, piece);
    let crosses = crosses::draw(canvas, lane, piece);
    rulers::draw(canvas, lane, piece);
    centre::draw(canvas, lane, piece, &whole);
    labels::draw(canvas, lane, piece, &whole);
    crosses::name_joins(canvas, lane, piece);
    Tile { piece: lane.piece, stretch: lane.stretch, placement: lane.placement, crosses }
}

/// The straight line between two places of the sheet.
fn line(x1: Length, y1: Length, x2: Length, y2: Length) -> Path<OnSheet> {
    Path::line(Point::new(x1, y1), Point::new(x2, y2))
}

/// What is left of `whole` between the `gaps`.
fn between(whole: Extent, mut gaps: Vec<Extent>) -> Vec<Extent> {
    gaps.sort_unstable();
    let mut from = whole.from;
    let mut left = Vec::new();
    for gap in gaps {
        let to = gap.from.min(whole.to);
        if to > from {
            left.push(Extent { from, to });
        }
        from = from.max(gap.to);
    }
    if whole.to > from {
        left.push(Extent { from, to: whole.to });
    }
    left
}
