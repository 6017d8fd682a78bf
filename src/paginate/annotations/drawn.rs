//! What is drawn on a piece and is neither cut nor punched: creases, boxes and words.

use super::super::canvas::{Area, Canvas, Clearance, TextItem, cap_height, shorten};
use super::super::item::{Anchor, Layer, Pen};
use super::super::plan::PlacedTile;
use super::labels::is_on_leather;
use crate::geom::{Length, Path, Point, Strap};
use crate::layout::GuideShape;
use crate::lettering;

/// Kept free around a piece's name.
const CLEAR: Clearance =
    Clearance { ink: Length::from_um(600), text: Length::from_mm(2) };
/// Size of a piece's name.
const NAME: Length = Length::from_mm(3);
/// Size of the words in a box.
const BOXED: Length = Length::from_um(2_400);
/// From the start of the piece to its name.
const INSET: Length = Length::from_mm(2);
/// From one place that is tried for a name to the next.
const STEP: Length = Length::from_mm(4);

/// Draws creases as far as the tile shows them, and boxes and words that it shows whole.
pub(super) fn draw(canvas: &mut Canvas, tile: &PlacedTile<'_>) {
    let span = tile.span;
    for guide in &span.piece.guides {
        let is_whole =
            |stretch| span.stretch.holds(stretch) && span.across.holds(guide.y_extent());
        if guide.whole().is_some_and(|stretch| !is_whole(stretch)) {
            continue;
        }
        match &guide.shape {
            GuideShape::Crease(path) => {
                let paths = tile.place(&tile.clip(path, span.stretch));
                canvas.stroke(Layer::Guides, Pen::Thin, paths);
            }
            GuideShape::Box { at, length, width, text } => {
                let (x, y) = (*length / 2, *width / 2);
                let low = tile.at(at.x - x, at.y - y);
                let high = tile.at(at.x + x, at.y + y);
                let outline = Path::rectangle(low, high);
                canvas.stroke(Layer::Guides, Pen::Thin, vec![outline]);
                let text = shorten(canvas.wording.name(text), BOXED, *length);
                if !text.is_empty() {
                    canvas.write(centred(tile, *at, BOXED, &text));
                }
                canvas.keep_free(Area::between(low, high));
            }
            GuideShape::Words { text, .. } if text.is_empty() => {}
            GuideShape::Words { at, size, text } => {
                canvas.write(centred(tile, *at, *size, text));
            }
        }
    }
}

/// Writes the name of the piece, as near to the start of what is shown as there is room.
pub(super) fn write_name(canvas: &mut Canvas, tile: &PlacedTile<'_>) {
    let piece = tile.span.piece;
    let shown = tile.span.on_piece();
    let quarter = piece.width / 4;
    let name = piece.label(canvas.wording);
    for size in [NAME, BOXED] {
        let width = lettering::width(&name, size);
        let steps = ((shown.length() - width).nm() / STEP.nm()).max(0);
        let places = (0..=steps).flat_map(|step| {
            let x = shown.from + width / 2 + INSET + STEP * step;
            [quarter, -quarter, Length::ZERO].map(|y| Point::new(x, y))
        });
        let texts = places.map(|at| centred(tile, at, size, &name));
        let texts = texts.filter(|text| is_on_leather(tile, text.area()));
        if canvas.write_first(texts, CLEAR) {
            return;
        }
    }
    // A piece too narrow for its name has it beyond its end.
    let at = tile.at(shown.to + STEP, -cap_height(NAME) / 2);
    canvas.write_first([TextItem::new(at, Anchor::Start, NAME, &name)], CLEAR);
}

/// Text with its middle on a point of the strap.
fn centred(
    tile: &PlacedTile<'_>,
    middle: Point<Strap>,
    size: Length,
    text: &str,
) -> TextItem {
    let at = tile.at(middle.x, middle.y - cap_height(size) / 2);
    TextItem::new(at, Anchor::Middle, size, text)
}
