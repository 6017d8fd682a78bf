//! What is drawn on a piece and is neither cut nor punched: creases, boxes and words.

use super::super::canvas::{Area, Canvas, Clear, Words, cap, shortened};
use super::super::lanes::Lane;
use super::super::sheet::{Anchor, Layer, Pen};
use super::labels::is_inside;
use crate::geom::clip::{clip, clip_across};
use crate::geom::{Extent, Length, Path, Point, Strap};
use crate::layout::{Guide, Piece};
use crate::lettering;

/// What stays free about a piece's name.
const CLEAR: Clear = Clear { ink: Length::from_um(600), words: Length::from_mm(2) };
/// Size of a piece's name.
const NAME: Length = Length::from_mm(3);
/// Size of the words in a box.
const BOXED: Length = Length::from_um(2_400);

/// Draws it as far as the lane shows it; boxes and words only where they are whole.
pub(super) fn draw(canvas: &mut Canvas, lane: &Lane, piece: &Piece) {
    for thing in &piece.guides {
        let is_whole = |stretch| {
            lane.part.stretch.holds(stretch) && lane.part.across.holds(thing.y_extent())
        };
        if thing.whole().is_some_and(|stretch| !is_whole(stretch)) {
            continue;
        }
        match thing {
            Guide::Crease(path) => {
                let along = clip(path, lane.part.stretch);
                let parts =
                    along.iter().flat_map(|run| clip_across(run, lane.part.across));
                let placed = parts.map(|p| p.placed(lane.placement)).collect();
                canvas.stroke(Layer::Guides, Pen::Thin, placed);
            }
            Guide::Box { at, length, width, text } => {
                let (x, y) = (*length / 2, *width / 2);
                let low = Point::new(at.x - x, at.y - y);
                let high = Point::new(at.x + x, at.y + y);
                let outline = Path::rectangle(low, high).placed(lane.placement);
                canvas.stroke(Layer::Guides, Pen::Thin, vec![outline]);
                let (a, b) = (lane.at(low.x, low.y), lane.at(high.x, high.y));
                let text = canvas.wording.name(text);
                write(canvas, lane, *at, BOXED, &shortened(text, BOXED, *length));
                canvas.take(Area::new(Extent::new(a.x, b.x), Extent::new(a.y, b.y)));
            }
            Guide::Words { at, size, text } => write(canvas, lane, *at, *size, text),
        }
    }
}

/// The name of the piece, to tell it from the others: as near to the start of what is
/// shown as there is room.
pub(super) fn name(canvas: &mut Canvas, lane: &Lane, piece: &Piece) {
    let from = lane.part.stretch.from.max(piece.extent.from);
    let to = lane.part.stretch.to.min(piece.extent.to);
    let up = piece.width / 4;
    let name = piece.label(canvas.wording);
    for size in [NAME, BOXED] {
        let wide = lettering::width(&name, size);
        let steps = ((to - from - wide).nm() / Length::from_mm(4).nm()).max(0);
        for step in 0..=steps {
            let x = from + wide / 2 + Length::from_mm(2) + Length::from_mm(4) * step;
            for y in [up, -up, Length::ZERO] {
                let foot = lane.at(x, y - cap(size) / 2);
                let words = Words::new(foot, Anchor::Middle, size, &name);
                let fits = is_inside(lane, piece, words.area());
                if fits && canvas.try_write(words, CLEAR) {
                    return;
                }
            }
        }
    }
    // A strip too narrow for words has them past its end.
    let foot = lane.at(to + Length::from_mm(4), -cap(NAME) / 2);
    canvas.try_write(Words::new(foot, Anchor::Start, NAME, &name), CLEAR);
}

/// Words with their middle on a place of the strap.
fn write(canvas: &mut Canvas, lane: &Lane, at: Point<Strap>, size: Length, text: &str) {
    if !text.is_empty() {
        let foot = lane.at(at.x, at.y - cap(size) / 2);
        canvas.write(Words::new(foot, Anchor::Middle, size, text));
    }
}
