//! What the holes were computed for and what was only assumed, on the first sheet: below the
//! strips, or on the leather of any of them.

use super::super::Print;
use super::super::area::Area;
use super::super::canvas::{Canvas, Clearance, TextItem, points};
use super::super::item::Anchor;
use super::super::plan::PlacedTile;
use super::labels::is_on_leather;
use super::strip;
use crate::geom::{Length, Point};

const SIZES: [Length; 3] = [points(100), points(90), points(80)];
const LEADING: Length = Length::from_um(4_200);
/// From one place that is tried to the next.
const STEP: Length = Length::from_mm(3);
const AIR: Clearance = Clearance { ink: Length::from_um(500), text: Length::from_mm(5) };

pub(super) fn draw(
    canvas: &mut Canvas,
    print: &Print<'_>,
    placed: &[PlacedTile<'_>],
    below: Area,
) {
    for words in &print.request.heading.note {
        let text = |at, size| TextItem::new(at, Anchor::Start, size, words);
        let lines = below.y.length().nm() / LEADING.nm();
        let under =
            (1..=lines).map(|n| Point::new(below.x.from, below.y.to - LEADING * n));
        let on_tile = |tile: &PlacedTile<'_>, size: Length| {
            let (x, y) = (strip::inner(tile), tile.span.edges());
            let [across, along] = [y, x].map(|e| (e.length().nm() / STEP.nm()).max(0));
            let spots = (1..across).flat_map(move |j| (0..along).map(move |i| (i, j)));
            let spots = spots.map(|(i, j)| tile.at(x.from + STEP * i, y.from + STEP * j));
            let texts = spots.map(|at| text(at, size));
            texts.filter(|text| is_on_leather(tile, text.area())).collect::<Vec<_>>()
        };
        for size in SIZES {
            let under = under.clone().map(|at| text(at, size));
            let on = placed.iter().flat_map(|tile| on_tile(tile, size));
            if canvas.write_first(under.chain(on), AIR) {
                break;
            }
        }
    }
}
