//! The signs of the long check, A near the start of a joined piece and B near its end.

use super::super::Print;
use super::super::canvas::Canvas;
use super::super::item::Claim;
use super::super::plan::PlacedTile;
use super::signs;
use crate::geom::{Point, Sheet, Strap};

/// Draws those that stand on this tile.
pub(super) fn draw(canvas: &mut Canvas, print: &Print<'_>, tile: &PlacedTile<'_>) {
    for (at, label, is_start) in ends(print, tile) {
        let at: Point<Sheet> = tile.placement.apply(at);
        let letter = signs::long_check(canvas, at, label, is_start);
        canvas.write(letter.claiming(Claim::Cross { at }));
    }
}

/// The signs on this tile: where, their labels, and whether it is the one at the start.
pub(super) fn ends<'p>(
    print: &'p Print<'_>,
    tile: &PlacedTile<'_>,
) -> Vec<(Point<Strap>, &'p str, bool)> {
    let Some(check) = print.check_of(tile) else { return Vec::new() };
    let [a, b] = &check.labels;
    let start = tile.span.left.is_none().then_some((check.from, a.as_str(), true));
    let end = tile.span.right.is_none().then_some((check.to, b.as_str(), false));
    // A piece that is wider than a sheet has them on its upper band alone.
    let shows = |at: &Point<Strap>| tile.span.across.has(at.y);
    start.into_iter().chain(end).filter(|(at, ..)| shows(at)).collect()
}
