//! What is drawn on a piece and is neither cut nor punched: creases, boxes and words.

use super::super::area::Area;
use super::super::canvas::{Canvas, TextItem, cap_height, points, shorten};
use super::super::item::{Anchor, Layer, Pen};
use super::super::plan::PlacedTile;
use crate::geom::{Length, Path, Point, Strap};
use crate::layout::GuideShape;

/// Size of the words in a box.
const BOXED: Length = points(90);

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
                canvas.stroke(Layer::Guides, Pen::Frame, vec![outline]);
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
