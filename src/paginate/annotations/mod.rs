//! Everything that is drawn on a sheet, each kind of annotation in a file of its own.

mod across;
mod bars;
mod centre;
mod checks;
pub(super) mod corners;
mod drawn;
pub(super) mod foot;
mod header;
mod joins;
mod key_plan;
mod labels;
mod marks;
mod nested;
mod note;
mod outline;
mod rulers;
pub(super) mod signs;
mod strip;

pub(super) use bars::bar_lengths;

use super::Print;
use super::area::Area;
use super::canvas::Canvas;
use super::item::{Layer, Pen};
use super::page::Page;
use super::plan::{PlacedSheet, PlacedTile};
use super::sheet::{Sheet, Tile};
use super::tiling::TileSpan;
use crate::geom::{Extent, Length, Path, Point, Sheet as OnSheet};

/// A tile with less leather between its ends has little room for words.
const SHORT: Length = Length::from_mm(45);

/// Draws the sheet of this index, counted from 0.
pub(super) fn draw_sheet(print: &Print<'_>, index: usize) -> Sheet {
    let request = print.request;
    let PlacedSheet { page, tiles: placed } = &print.plan.sheets[index];
    let page = *page;
    let canvas = |page: Page| Canvas::new(page.printable(), request.heading.wording);
    let mut head = canvas(page.of_head());
    header::draw(&mut head, print, index);
    let mut canvas = if page.has_side_head {
        let mut canvas = canvas(page);
        canvas.draw_turned(head, page.width);
        canvas
    } else {
        head
    };
    let head = canvas.items.len();
    corners::draw(&mut canvas);
    let bars = bars::draw(&mut canvas, page, request.measuring);
    let tiles = placed.iter().map(|tile| draw_lines(&mut canvas, print, tile)).collect();
    // Text keeps off all lines of the sheet, so it comes after them; the centre line gives way
    // to all. On a short tile the number comes before the labels, which may be left out.
    for tile in placed {
        joins::name(&mut canvas, tile);
    }
    for tile in placed {
        rulers::draw(&mut canvas, print, tile);
    }
    let is_short = |tile: &&PlacedTile<'_>| strip::inner(tile).length() < SHORT;
    for tile in placed.iter().filter(is_short) {
        strip::draw(&mut canvas, tile);
    }
    for tile in placed {
        labels::draw(&mut canvas, print, tile);
    }
    for tile in placed.iter().filter(|tile| !is_short(tile)) {
        strip::draw(&mut canvas, tile);
    }
    // What is left below the strips.
    let tiles_end = placed.iter().map(|t| t.at(Length::ZERO, t.span.across.from).y).min();
    let Area { x, y: all } = page.tile_area();
    let to = tiles_end.unwrap_or(all.to) - Length::from_mm(1);
    let below = Extent { from: all.from, to: to.max(all.from) };
    let x = Extent { to: x.to - foot::BESIDE_CORNER, ..x };
    let has_joins = placed.iter().any(|t| t.span.end_joins().next().is_some());
    let used = foot::draw(&mut canvas, x, below, has_joins);
    if index == 0 {
        let left = Extent { from: below.from + used, to: below.to };
        note::draw(&mut canvas, print, placed, Area::new(x, left));
    }
    for tile in placed {
        centre::draw(&mut canvas, tile);
    }
    let Canvas { items, .. } = canvas;
    let (number, width, height) = (index + 1, page.width, page.height);
    Sheet { number, width, height, tiles, bars, items, head, digest: 0 }
        .with_digest(request.correction)
}

/// Draws the lines of a tile that nothing gives way to.
fn draw_lines(canvas: &mut Canvas, print: &Print<'_>, tile: &PlacedTile<'_>) -> Tile {
    outline::draw(canvas, tile);
    marks::draw(canvas, tile);
    drawn::draw(canvas, tile);
    centre::draw_across(canvas, tile);
    draw_apart(canvas, tile);
    let crosses = joins::draw(canvas, tile);
    checks::draw(canvas, print, tile);
    nested::draw(canvas, tile, print.request.rows);
    let TileSpan { index: piece, stretch, across, .. } = tile.span;
    Tile { piece, stretch, across, placement: tile.placement, crosses }
}

/// Draws where a strip is cut from the one below it.
fn draw_apart(canvas: &mut Canvas, tile: &PlacedTile<'_>) {
    let (x, y) = (tile.span.stretch, tile.span.across.from);
    canvas.stroke(Layer::Guides, Pen::Apart, vec![tile.line((x.from, y), (x.to, y))]);
}

/// The straight line between two points of the sheet.
fn line(x1: Length, y1: Length, x2: Length, y2: Length) -> Path<OnSheet> {
    Path::line(Point::new(x1, y1), Point::new(x2, y2))
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
