//! Everything that is drawn on a sheet: each kind of furniture in a file of its own.

mod bars;
mod centre;
mod checks;
pub(super) mod corners;
mod crosses;
mod drawn;
mod header;
mod key_plan;
mod labels;
mod marks;
mod nested;
mod outline;
mod rulers;

pub(super) use bars::lengths as bar_lengths;
pub(super) use header::punches;

use super::arrange::Part;
use super::canvas::Canvas;
use super::checks::StripCheck;
use super::correction::Scaling;
use super::lanes::{Lane, Plan};
use super::sheet::{Sheet, Tile};
use super::{Heading, Stocked, sheet};
use crate::fit::MeasurementUncertainty;
use crate::geom::{Extent, Length, Path, Point, Sheet as OnSheet};
use crate::layout::{Layout, Mark, NestedSize, Piece};

/// What all sheets share.
#[derive(Clone, Copy, Debug)]
pub(super) struct Scene<'a> {
    pub(super) layout: &'a Layout,
    pub(super) rows: &'a [NestedSize],
    pub(super) heading: &'a Heading,
    pub(super) paper: &'a str,
    pub(super) fingerprint: &'a str,
    pub(super) plan: &'a Plan,
    /// What to punch with, in words.
    pub(super) punches: Option<&'a str>,
    pub(super) checks: &'a [StripCheck],
    pub(super) scaling: Option<&'a Scaling>,
    pub(super) measuring: MeasurementUncertainty,
}

/// Draws the sheet of this index, counted from 0.
pub(super) fn draw(scene: &Scene<'_>, index: usize) -> Sheet {
    let page = scene.plan.page;
    let mut canvas = Canvas::new(page.printable(), scene.heading.wording);
    // Sheets for several sizes have no one strap to show.
    let key_plan = match scene.heading.stocked {
        Stocked::Common(_) => page.printable().x.to,
        _ => key_plan::draw(&mut canvas, scene, index),
    };
    header::draw(&mut canvas, scene, index, key_plan);
    let head = canvas.items.len();
    corners::draw(&mut canvas);
    let bars = bars::draw(&mut canvas, page, scene.measuring);
    let on_sheet = &scene.plan.sheets[index];
    let lanes = || on_sheet.iter().map(|l| (l, &scene.layout.pieces[l.part.piece]));
    let tiles = lanes().map(|(lane, piece)| draw_lane(&mut canvas, scene, lane, piece));
    let tiles = tiles.collect();
    // Words keep off all lines of the sheet, so they come after them.
    for (lane, piece) in lanes() {
        crosses::name(&mut canvas, lane, piece);
        checks::name(&mut canvas, lane, scene.check(lane));
    }
    for (lane, piece) in lanes() {
        say(&mut canvas, scene, lane, piece);
    }
    if scene.layout.pieces.len() > 1 {
        for (lane, piece) in lanes() {
            drawn::name(&mut canvas, lane, piece);
        }
    }
    Sheet {
        number: index + 1,
        width: page.width,
        height: page.height,
        tiles,
        bars,
        items: canvas.items,
        head,
    }
}

impl Scene<'_> {
    /// The long check of the piece that a lane shows.
    fn check(&self, lane: &Lane) -> Option<&StripCheck> {
        self.checks.iter().find(|c| c.piece == lane.part.piece)
    }

    /// The marks that are whole on a lane.
    fn whole<'p>(lane: &Lane, piece: &'p Piece) -> Vec<&'p Mark> {
        let Part { stretch, across, .. } = lane.part;
        let shown = piece.marks_between(stretch).iter();
        shown.filter(|m| sheet::holds(stretch, across, m)).collect()
    }
}

/// Every line of a lane.
fn draw_lane(canvas: &mut Canvas, scene: &Scene<'_>, lane: &Lane, piece: &Piece) -> Tile {
    let Part { piece: index, stretch, across, .. } = lane.part;
    let whole = Scene::whole(lane, piece);
    outline::draw(canvas, lane, piece);
    marks::draw(canvas, lane, &whole);
    drawn::draw(canvas, lane, piece);
    let crosses = crosses::draw(canvas, lane, piece);
    checks::draw(canvas, lane, scene.check(lane));
    rulers::draw(canvas, lane, piece);
    centre::draw(canvas, lane, piece, &whole);
    nested::draw(canvas, lane, piece, scene.rows);
    Tile { piece: index, stretch, across, placement: lane.placement, crosses }
}

/// The words of a lane that go where there is room.
fn say(canvas: &mut Canvas, scene: &Scene<'_>, lane: &Lane, piece: &Piece) {
    rulers::number(canvas, lane, piece);
    let mut untold = Scene::whole(lane, piece);
    untold.retain(|m| !nested::is_told(m, scene.rows));
    labels::draw(canvas, scene.layout, lane, piece, &untold);
    crosses::name_joins(canvas, lane, piece);
    checks::say(canvas, lane, piece, scene.check(lane));
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
