//! What is drawn on a piece and is neither cut nor punched: creases, boxes and words.

use super::super::canvas::{Area, Canvas, Words, cap, shortened};
use super::super::lanes::Lane;
use super::super::sheet::{Anchor, Layer, Pen};
use crate::geom::clip::clip;
use crate::geom::{Extent, Length, Path, Point};
use crate::layout::{Drawn, Piece};

/// Size of the words in a box.
const BOXED: Length = Length::from_um(2_400);

/// Draws it as far as the lane shows it; boxes and words only where they are whole.
pub(super) fn draw(canvas: &mut Canvas, lane: &Lane, piece: &Piece) {
    for thing in &piece.drawn {
        if thing.whole().is_some_and(|stretch| !lane.stretch.holds(stretch)) {
            continue;
        }
        match thing {
            Drawn::Crease(path) => {
                let parts = clip(path, lane.stretch);
                let placed = parts.iter().map(|p| p.placed(lane.placement)).collect();
                canvas.stroke(Layer::Guides, Pen::Thin, placed);
            }
            Drawn::Box { at, length, width, text } => {
                let (x, y) = (*length / 2, *width / 2);
                let low = Point::new(at.x - x, at.y - y);
                let high = Point::new(at.x + x, at.y + y);
                let outline = Path::rectangle(low, high).placed(lane.placement);
                canvas.stroke(Layer::Guides, Pen::Thin, vec![outline]);
                let (a, b) = (lane.at(low.x, low.y), lane.at(high.x, high.y));
                write(canvas, lane, *at, BOXED, &shortened(text, BOXED, *length));
                canvas.take(Area::new(Extent::new(a.x, b.x), Extent::new(a.y, b.y)));
            }
            Drawn::Words { at, size, text } => write(canvas, lane, *at, *size, text),
        }
    }
}

/// Words with their middle on a place of the strap.
fn write(
    canvas: &mut Canvas,
    lane: &Lane,
    at: Point<crate::geom::Strap>,
    size: Length,
    text: &str,
) {
    if !text.is_empty() {
        let foot = lane.at(at.x, at.y - cap(size) / 2);
        canvas.write(Words::new(foot, Anchor::Middle, size, text));
    }
}
