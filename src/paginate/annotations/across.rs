//! The words beside a line across the strap: an end, a tip, a bend.

use super::super::area::Area;
use super::super::canvas::{Canvas, TextItem, cap_height};
use super::super::item::{Anchor, Layer, Pen};
use super::super::plan::PlacedTile;
use super::super::run::Run;
use super::labels::{CLEAR, FROM_LINE, GAP, SIZES, Said, is_text_free};
use crate::geom::{Extent, Length, QuarterTurn};
use crate::layout::{Mark, MarkKind};

/// Labels a line across the strap or a tip: name and reading on both sides of a bend, over each
/// other beside an end, and beside the strap where it has no room for them.
pub(super) fn draw(canvas: &mut Canvas, tile: &PlacedTile<'_>, mark: &Mark, said: &Said) {
    if said.name.is_empty() {
        return;
    }
    let x = mark.at.x;
    let formed: Vec<Length> =
        tile.marks.iter().filter(|m| m.path().is_some()).map(|m| m.at.x).collect();
    // There it would be taken for another mark's.
    let is_past_another = |to: Length| {
        let way = Extent::new(x, to);
        formed.iter().any(|&m| way.from < m && m < way.to)
    };
    let is_bend = mark.kind == MarkKind::Bend;
    let way = if x > tile.span.piece.extent.from + tile.span.piece.extent.length() / 2 {
        -1
    } else {
        1
    };
    for size in SIZES {
        let high = cap_height(size);
        let [name, _, reading] = said.texts(size);
        let text = |item: &TextItem, x, y, anchor| TextItem {
            at: tile.at(x, y),
            anchor,
            ..item.clone()
        };
        let step = Length::from_um(1_500);
        let levels = (0..12).flat_map(|n| {
            let off = GAP * 2 + step * n;
            [-off - high, off]
        });
        let beside = |y: Length| {
            vec![
                text(&name, x - FROM_LINE, y, Anchor::End),
                text(&reading, x + FROM_LINE, y, Anchor::Start),
            ]
        };
        let stacked = |aside: Length, way: i64| {
            let at = x + (FROM_LINE + aside) * way;
            let anchor = if way > 0 { Anchor::Start } else { Anchor::End };
            vec![
                text(&name, at, GAP * 2, anchor),
                text(&reading, at, -GAP * 2 - high, anchor),
            ]
        };
        let in_line = |aside: Length, way: i64, y: Length| {
            let at = tile.at(x + (FROM_LINE + aside) * way, y);
            let anchor = if way > 0 { Anchor::Start } else { Anchor::End };
            Run::new(at, anchor, QuarterTurn::None, vec![name.clone(), reading.clone()]).0
        };
        let asides = || (0..16).map(|n| Length::from_mm(1) * n);
        let mut all: Vec<Vec<TextItem>> = Vec::new();
        if is_bend {
            all.extend(levels.clone().map(beside));
        } else {
            all.extend(asides().flat_map(|a| [stacked(a, way), stacked(a, -way)]));
        }
        for y in levels {
            all.extend(asides().flat_map(|a| [in_line(a, way, y), in_line(a, -way, y)]));
        }
        let free = all.into_iter().find(|texts| {
            texts.iter().filter(|text| !text.text.is_empty()).all(|text| {
                let [low, high] = text.area().corners().map(|p| tile.placement.invert(p));
                is_text_free(canvas, tile, text)
                    && ![low.x, high.x].into_iter().any(is_past_another)
            })
        });
        if let Some(texts) = free {
            for text in texts.into_iter().filter(|text| !text.text.is_empty()) {
                canvas.write(text);
            }
            return;
        }
    }
    write_below(canvas, tile, mark, said);
}

/// Writes beside the lower edge what has no room on the strap, with a line to its place.
fn write_below(canvas: &mut Canvas, tile: &PlacedTile<'_>, mark: &Mark, said: &Said) {
    if tile.span.below.is_some() {
        return;
    }
    let (x, edge) = (mark.at.x, tile.span.edges().from);
    let size = SIZES[1];
    let base = edge - Length::from_um(900) - cap_height(size);
    for (aside, anchor) in [(GAP, Anchor::Start), (-GAP, Anchor::End)] {
        let [name, _, reading] = said.texts(size);
        let parts = vec![name, reading];
        let run = Run::new(tile.at(x + aside, base), anchor, QuarterTurn::None, parts);
        let line = tile.line((x, edge - Length::from_um(400)), (x, base));
        let [a, b] = [line.start, line.end()];
        if run.0.iter().all(|text| canvas.is_free(text, CLEAR))
            && canvas.is_area_free(Area::between(a, b))
        {
            canvas.stroke(Layer::Guides, Pen::Thin, vec![line]);
            canvas.write_run(run);
            return;
        }
    }
}
