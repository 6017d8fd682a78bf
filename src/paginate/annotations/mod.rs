//! Everything that is drawn on a sheet, each kind of annotation in a file of its own.

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

pub(super) use bars::bar_lengths;
pub(super) use header::punches;

use super::canvas::Canvas;
use super::item::{Layer, Pen};
use super::plan::PlacedTile;
use super::sheet::{Sheet, Tile};
use super::tiling::TileSpan;
use super::{Print, PrintedSizes};
use crate::geom::{Extent, Length, Path, Point, Sheet as OnSheet};

/// Draws the sheet of this index, counted from 0.
pub(super) fn draw_sheet(print: &Print<'_>, index: usize) -> Sheet {
    let request = print.request;
    let page = print.plan.page;
    let mut canvas = Canvas::new(page.printable(), request.heading.wording);
    // Sheets for several sizes have no one strap to show.
    let key_plan = match request.heading.sizes {
        PrintedSizes::Common(_) => page.printable().x.to,
        _ => key_plan::draw(&mut canvas, print, index),
    };
    header::draw(&mut canvas, print, index, key_plan);
    let head = canvas.items.len();
    corners::draw(&mut canvas);
    let bars = bars::draw(&mut canvas, page, request.measuring);
    let placed = &print.plan.sheets[index];
    let tiles = placed.iter().map(|tile| draw_lines(&mut canvas, print, tile)).collect();
    // Text keeps off all lines of the sheet, so it comes after them.
    for tile in placed {
        crosses::label(&mut canvas, tile);
        checks::label(&mut canvas, print, tile);
    }
    for tile in placed {
        write_texts(&mut canvas, print, tile);
    }
    if request.layout.pieces.len() > 1 {
        for tile in placed {
            drawn::write_name(&mut canvas, tile);
        }
    }
    let Canvas { items, .. } = canvas;
    let (number, width, height) = (index + 1, page.width, page.height);
    Sheet { number, width, height, tiles, bars, items, head }
}

/// Draws every line of a tile.
fn draw_lines(canvas: &mut Canvas, print: &Print<'_>, tile: &PlacedTile<'_>) -> Tile {
    outline::draw(canvas, tile);
    marks::draw(canvas, tile);
    drawn::draw(canvas, tile);
    let crosses = crosses::draw(canvas, tile);
    checks::draw(canvas, print, tile);
    rulers::draw(canvas, tile);
    centre::draw(canvas, tile);
    nested::draw(canvas, tile, print.request.rows);
    let TileSpan { index: piece, stretch, across, .. } = tile.span;
    Tile { piece, stretch, across, placement: tile.placement, crosses }
}

/// Writes the texts of a tile that need room.
fn write_texts(canvas: &mut Canvas, print: &Print<'_>, tile: &PlacedTile<'_>) {
    rulers::number(canvas, tile);
    labels::draw(canvas, print, tile);
    crosses::name_joins(canvas, tile);
    checks::write(canvas, print, tile);
}

/// The straight line between two points of the sheet.
fn line(x1: Length, y1: Length, x2: Length, y2: Length) -> Path<OnSheet> {
    Path::line(Point::new(x1, y1), Point::new(x2, y2))
}

fn draw_cross(canvas: &mut Canvas, at: Point<OnSheet>, arm: Length) {
    let level = line(at.x - arm, at.y, at.x + arm, at.y);
    let upright = line(at.x, at.y - arm, at.x, at.y + arm);
    canvas.stroke(Layer::Guides, Pen::Punch, vec![level, upright]);
}

/// The stretches of `whole` between the `gaps`.
fn stretches_between(whole: Extent, gaps: impl Iterator<Item = Extent>) -> Vec<Extent> {
    let mut gaps: Vec<Extent> = gaps.collect();
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
