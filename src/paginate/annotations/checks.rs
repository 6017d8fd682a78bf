//! The crosses of the long check, A near the start of a joined piece and B near its end, and
//! what a tape must read from one to the other.

use super::super::Print;
use super::super::canvas::{Area, Canvas, Clearance, TextItem, cap_height};
use super::super::checks::ARM;
use super::super::item::{Anchor, Claim, Layer, Pen};
use super::super::plan::PlacedTile;
use super::crosses::CLEAR;
use super::draw_cross;
use super::labels::{common_edges, is_on_leather};
use crate::geom::{Extent, Length, Path, Point, Sheet, Strap};
use crate::lettering;
use crate::words::Word;

/// Half the diamond around a cross. It tells the cross from those of the joins.
const DIAMOND: Length = Length::from_um(1_200);
const LABEL: Length = Length::from_um(2_500);
const TO_LABEL: Length = Length::from_mm(3);
/// Sizes of the text, best first.
const SIZES: [Length; 2] = [Length::from_um(2_200), Length::from_mm(2)];
/// From the strap's edge to the text.
const FROM_EDGE: Length = Length::from_um(1_200);
/// Between the text and other ink.
const AIR: Clearance = Clearance { ink: Length::from_um(800), text: Length::from_mm(2) };
/// From one place that is tried for the text to the next, along the strap and across it.
const STEP: Length = Length::from_mm(4);
const LEVEL: Length = Length::from_mm(2);

/// Draws the crosses that stand on this tile.
pub(super) fn draw(canvas: &mut Canvas, print: &Print<'_>, tile: &PlacedTile<'_>) {
    for (at, ..) in ends(print, tile) {
        let at: Point<Sheet> = tile.placement.apply(at);
        draw_cross(canvas, at, ARM);
        let corner = |x, y| Point::new(at.x + x, at.y + y);
        let diamond = Path::from(corner(-DIAMOND, Length::ZERO))
            .line_to(corner(Length::ZERO, DIAMOND))
            .line_to(corner(DIAMOND, Length::ZERO))
            .line_to(corner(Length::ZERO, -DIAMOND))
            .close();
        canvas.stroke(Layer::Guides, Pen::Thin, vec![diamond]);
    }
}

/// Labels the crosses, each toward the piece's end.
pub(super) fn label(canvas: &mut Canvas, print: &Print<'_>, tile: &PlacedTile<'_>) {
    for (at, label, is_start) in ends(print, tile) {
        let at: Point<Sheet> = tile.placement.apply(at);
        canvas.keep_free(Area::around(at, ARM).grown(CLEAR));
        let low = at.y - cap_height(LABEL) / 2;
        let (x, anchor) = if is_start {
            (at.x - TO_LABEL, Anchor::End)
        } else {
            (at.x + TO_LABEL, Anchor::Start)
        };
        let text = TextItem::new(Point::new(x, low), anchor, LABEL, label)
            .claiming(Claim::Cross { at });
        canvas.keep_free(text.area().grown(CLEAR));
        canvas.write(text);
    }
}

/// Writes what to read onto the piece, as near to cross B as there is room.
pub(super) fn write(canvas: &mut Canvas, print: &Print<'_>, tile: &PlacedTile<'_>) {
    // Not beside cross A: other sizes of the strap have the same first sheet, which is used
    // again.
    let ends = ends(print, tile);
    let b = ends.iter().find(|(.., is_start)| !is_start);
    let (Some(check), Some((at, ..))) = (print.check_of(tile), b) else { return };
    let wording = canvas.wording;
    let sentence = check.sentence(wording);
    let with_hole = check.last_hole.map(|hole| {
        let then = wording.fill(Word::LastHoleThen, &[&wording.within(hole.by_check)]);
        format!("{sentence}; {then}")
    });
    for text in with_hole.into_iter().chain([sentence]) {
        for size in SIZES {
            if canvas.write_first(places(tile, &text, size, at.x), AIR) {
                return;
            }
        }
    }
}

/// Where the text may stand: along either edge, or further in where a crease runs along it;
/// its end at `x` or before it.
fn places(
    tile: &PlacedTile<'_>,
    text: &str,
    size: Length,
    x: Length,
) -> impl Iterator<Item = TextItem> {
    let width = lettering::width(text, size);
    let steps = tile.span.stretch.length().nm() / STEP.nm();
    let places =
        (0..3).flat_map(move |n| (0..steps).map(move |i| (LEVEL * n, x - STEP * i)));
    let texts = places.flat_map(move |(level, end)| {
        let edges = common_edges(tile.span.piece, Extent { from: end - width, to: end });
        let edges = edges.map(|e| e.grown(-FROM_EDGE - level));
        let levels = edges.map(|e| [e.to - cap_height(size), e.from + size / 4]);
        let at = move |y| TextItem::new(tile.at(end, y), Anchor::End, size, text);
        levels.into_iter().flatten().map(at)
    });
    texts.filter(|text| is_on_leather(tile, text.area()))
}

/// The crosses on this tile: where, their labels, and whether it is the one at the start.
fn ends<'p>(
    print: &'p Print<'_>,
    tile: &PlacedTile<'_>,
) -> Vec<(Point<Strap>, &'p str, bool)> {
    let Some(check) = print.check_of(tile) else { return Vec::new() };
    let [a, b] = &check.labels;
    let start = tile.span.left.is_none().then_some((check.from, a.as_str(), true));
    let end = tile.span.right.is_none().then_some((check.to, b.as_str(), false));
    // A piece that is wider than a sheet has them on its upper band alone.
    let shows =
        |at: &Point<Strap>| tile.span.across.holds(Extent::at(at.y).grown(DIAMOND));
    start.into_iter().chain(end).filter(|(at, ..)| shows(at)).collect()
}
