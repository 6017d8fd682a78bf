//! Registration crosses: each join has two, on both of its tiles, to lay one tile on the
//! other.
//!
//! The crosses of a join across the strap stand above and below the strap; where the piece
//! is wider than a sheet, on the leather near the corners of the tile. The crosses of a join
//! along the strap stand on its match line, near both corners.

use super::super::canvas::{Area, Canvas, Clearance, TextItem, cap_height};
use super::super::item::{Anchor, Claim, Layer, Pen};
use super::super::plan::PlacedTile;
use super::super::sheet::Cross;
use super::super::tiling::Join;
use super::draw_cross;
use super::labels::common_edges;
use crate::geom::{Extent, Length, Point, Strap};
use crate::lettering;
use crate::words::Word;

/// From the strap's edge to the middle of a cross.
const OUT: Length = Length::from_mm(5);
/// From a corner of the tile, where two match lines meet, to the middle of a cross.
const IN: Length = Length::from_mm(12);
const ARM: Length = Length::from_um(2_500);
/// Kept free around crosses and their labels.
pub(super) const CLEAR: Length = Length::from_mm(1);
const SIZE: Length = Length::from_um(2_500);
const TO_LABEL: Length = Length::from_um(3_500);
/// How far a match line goes beyond the strap's edge.
const BEYOND: Length = Length::from_mm(1);
/// Size of the names of joins.
const NAME: Length = Length::from_um(2_200);
/// From a match line to the name of its join.
const TO_NAME: Length = Length::from_mm(1);
/// From the strap's edge to the name of a join.
const NAME_INSET: Length = Length::from_um(1_200);
/// Between the name of a join and other ink.
const NAME_AIR: Clearance = Clearance { ink: Length::from_um(600), text: CLEAR };

/// A cross to be drawn.
struct CrossPlace {
    on_strap: Point<Strap>,
    label: String,
    /// On which side its label stands if there is room.
    side: Anchor,
    /// Whether it stands on a match line along the strap.
    is_on_line: bool,
}

/// All crosses of a tile.
fn places(tile: &PlacedTile<'_>) -> Vec<CrossPlace> {
    let mut all = Vec::new();
    for (join, edges) in tile.span.end_joins() {
        let above = tile.span.above.map_or(edges.to + OUT, |j| j.line - IN);
        let below = tile.span.below.map_or(edges.from - OUT, |j| j.line + IN);
        // Beyond the match line, where the tile's own rulers matter least.
        let side = if tile.span.left == Some(join) { Anchor::End } else { Anchor::Start };
        for (nth, y) in [above, below].into_iter().enumerate() {
            let label = label_text(join, 2 * tile.span.band + nth);
            let on_strap = Point::new(join.line, y);
            all.push(CrossPlace { on_strap, label, side, is_on_line: false });
        }
    }
    let line = along(tile);
    for join in tile.span.edge_joins() {
        let sides = [(line.from + IN, Anchor::Start), (line.to - IN, Anchor::End)];
        for (nth, (x, side)) in sides.into_iter().enumerate() {
            let label = label_text(join, 2 * tile.span.column + nth);
            let on_strap = Point::new(x, join.line);
            all.push(CrossPlace { on_strap, label, side, is_on_line: true });
        }
    }
    all
}

/// The stretch of the match lines along the strap.
fn along(tile: &PlacedTile<'_>) -> Extent {
    let ends = tile.span.piece.extent.grown(BEYOND);
    Extent {
        from: tile.span.left.map_or(ends.from, |j| j.line),
        to: tile.span.right.map_or(ends.to, |j| j.line),
    }
}

/// Draws the crosses and match lines at all edges of a tile.
pub(super) fn draw(canvas: &mut Canvas, tile: &PlacedTile<'_>) -> Vec<Cross> {
    let x = along(tile);
    let ends = tile.span.end_joins().map(|(Join { line: x, .. }, edges)| {
        let low = tile.span.below.map_or(edges.from - BEYOND, |j| j.line);
        let high = tile.span.above.map_or(edges.to + BEYOND, |j| j.line);
        tile.line((x, low), (x, high))
    });
    let edges =
        tile.span.edge_joins().map(|j| tile.line((x.from, j.line), (x.to, j.line)));
    for line in ends.chain(edges) {
        canvas.stroke(Layer::Guides, Pen::Thin, vec![line]);
    }
    let crosses = places(tile).into_iter().map(|place| {
        let at = tile.placement.apply(place.on_strap);
        draw_cross(canvas, at, ARM);
        Cross { label: place.label, on_strap: place.on_strap, at }
    });
    crosses.collect()
}

/// Labels the crosses of a tile: beside each, where the label is free.
pub(super) fn label(canvas: &mut Canvas, tile: &PlacedTile<'_>) {
    for place in places(tile) {
        let at = tile.placement.apply(place.on_strap);
        let text = |is_left: bool, up: Length| {
            let (x, anchor) = if is_left {
                (at.x - TO_LABEL, Anchor::End)
            } else {
                (at.x + TO_LABEL, Anchor::Start)
            };
            let at_text = Point::new(x, at.y + up);
            TextItem::new(at_text, anchor, SIZE, &place.label)
                .claiming(Claim::Cross { at })
        };
        let middle = -(cap_height(SIZE) / 2);
        let (above, below) = (CLEAR, -(CLEAR + cap_height(SIZE)));
        let levels = if place.is_on_line {
            [above, below, above + CLEAR]
        } else {
            [middle, above, below]
        };
        let first = place.side == Anchor::End;
        let clearance = Clearance { ink: CLEAR / 2, text: CLEAR };
        let texts = levels.map(|up| [text(first, up), text(!first, up)]);
        let texts = texts.as_flattened();
        // The label must be there, so that the sheets can be joined.
        let free = texts.iter().find(|text| canvas.is_free(text, clearance));
        if let Some(text) = free.or(texts.first()) {
            canvas.keep_free(text.area().grown(CLEAR));
            canvas.write(text.clone());
        }
        canvas.keep_free(Area::around(at, ARM).grown(CLEAR));
    }
}

/// Whether a tick at `x`, over the stretch `y`, would touch a cross at an end of a tile, or
/// would stand so near its upright as to be taken for a part of it.
pub(super) fn covers(tile: &PlacedTile<'_>, x: Length, y: Extent) -> bool {
    tile.span.end_joins().any(|(join, edges)| {
        let off = (x - join.line).abs();
        let is_level = |arm: Length| y.grown(CLEAR / 2).holds(Extent::at(arm));
        let arms = [edges.to + OUT, edges.from - OUT];
        off < CLEAR || off < ARM + CLEAR / 2 && arms.into_iter().any(is_level)
    })
}

/// The number of the join and the `nth` letter: `1a`, and after `1z` comes `1aa`.
fn label_text(join: Join, nth: usize) -> String {
    let mut letters = Vec::new();
    let mut rest = nth + 1;
    while rest > 0 {
        let letter = u8::try_from((rest - 1) % 26).unwrap_or_default();
        letters.push(char::from(b'a' + letter));
        rest = (rest - 1) / 26;
    }
    format!("{}{}", join.number, letters.iter().rev().collect::<String>())
}

/// Names each join beside its match line, where there is room.
pub(super) fn name_joins(canvas: &mut Canvas, tile: &PlacedTile<'_>) {
    let wording = canvas.wording;
    let name = |join: Join| wording.fill(Word::Join, &[&join.number]);
    let high = cap_height(NAME);
    for (join, _) in tile.span.end_joins() {
        let text = name(join);
        let (sign, anchor) = if tile.span.left == Some(join) {
            (-1, Anchor::End)
        } else {
            (1, Anchor::Start)
        };
        let end = join.line + (lettering::width(&text, NAME) + TO_NAME) * sign;
        let under = Extent::new(join.line, end);
        let Some(inside) = common_edges(tile.span.piece, under) else { continue };
        let to =
            tile.span.above.map_or(inside.to, |j| j.line.min(inside.to)) - NAME_INSET;
        let from =
            tile.span.below.map_or(inside.from, |j| j.line.max(inside.from)) + NAME_INSET;
        // At the upper edge, at the lower, and further in where a crease runs along them.
        let levels = (0..8).flat_map(|n| {
            let further = Length::from_mm(1) * n;
            [to - high - further, from + NAME / 4 + further]
        });
        let levels = levels.take_while(|y| from <= *y && *y + high <= to);
        let at = |y| tile.at(join.line + TO_NAME * sign, y);
        let texts = levels.map(|y| TextItem::new(at(y), anchor, NAME, &text));
        canvas.write_first(texts, NAME_AIR);
    }
    let left = tile.span.left.map_or(tile.span.piece.extent.from, |j| j.line) + IN * 2;
    for join in tile.span.edge_joins() {
        let text = name(join);
        // Outside of the match line, as at the ends.
        let is_above = tile.span.above == Some(join);
        let off = if is_above { TO_NAME } else { -(TO_NAME + high) };
        let at = |steps| tile.at(left + IN * steps, join.line + off);
        let texts = (0..8).map(|n| TextItem::new(at(n), Anchor::Start, NAME, &text));
        canvas.write_first(texts, NAME_AIR);
    }
}
