//! What is drawn on a piece and is neither cut nor punched: creases, boxes and words.

use super::super::canvas::{Area, Canvas, Words, cap, shortened};
use super::super::lanes::Lane;
use super::super::sheet::{Anchor, Layer, Pen};
use crate::geom::clip::clip;
use crate::geom::{Extent, Length, Path, Point, Segment, Step, Strap};
use crate::layout::{Drawn, Piece};
use crate::lettering;

/// What stays free about a line.
const THIN: Length = Length::from_um(300);
/// Size of a piece's name.
const NAME: Length = Length::from_mm(3);
/// Size of the words in a box.
const BOXED: Length = Length::from_um(2_400);

/// Draws it as far as the lane shows it; boxes and words only where they are whole.
pub(super) fn draw(canvas: &mut Canvas, lane: &Lane, piece: &Piece) {
    for thing in &piece.drawn {
        if thing.whole().is_some_and(|stretch| !lane.part.stretch.holds(stretch)) {
            continue;
        }
        match thing {
            Drawn::Crease(path) => {
                let parts = clip(path, lane.part.stretch);
                parts
                    .iter()
                    .flat_map(Path::segments)
                    .for_each(|s| keep_off(canvas, lane, s));
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
                let text = canvas.wording.named(text);
                write(canvas, lane, *at, BOXED, &shortened(text, BOXED, *length));
                canvas.take(Area::new(Extent::new(a.x, b.x), Extent::new(a.y, b.y)));
            }
            Drawn::Words { at, size, text } => write(canvas, lane, *at, *size, text),
        }
    }
}

/// Keeps words off a line, piece by piece where it is curved.
fn keep_off(canvas: &mut Canvas, lane: &Lane, segment: Segment<Strap>) {
    let parts = match segment.step {
        Step::Line { to } if to.x == segment.from.x || to.y == segment.from.y => 1,
        _ => 12,
    };
    for i in 0..parts {
        let (a, b) = (segment.part(i, parts), segment.part(i + 1, parts));
        let (a, b) = (lane.at(a.x, a.y), lane.at(b.x, b.y));
        let area = Area::new(Extent::new(a.x, b.x), Extent::new(a.y, b.y));
        canvas.take(area.grown(THIN));
    }
}

/// The name of the piece, to tell it from the others: as near to the start of what is
/// shown as there is room.
pub(super) fn name(canvas: &mut Canvas, lane: &Lane, piece: &Piece) {
    let from = lane.part.stretch.from.max(piece.extent.from);
    let to = lane.part.stretch.to.min(piece.extent.to);
    let up = piece.width / 4;
    let name = canvas.wording.piece(&piece.name);
    for size in [NAME, BOXED] {
        let wide = lettering::width(&name, size);
        let steps = ((to - from - wide).nm() / Length::from_mm(4).nm()).max(0);
        for step in 0..=steps {
            let x = from + wide / 2 + Length::from_mm(2) + Length::from_mm(4) * step;
            for y in [up, -up, Length::ZERO] {
                let foot = lane.at(x, y - cap(size) / 2);
                let words = Words::new(foot, Anchor::Middle, size, &name);
                if canvas.try_write(words, THIN * 2) {
                    return;
                }
            }
        }
    }
    // A strip too narrow for words has them past its end.
    let foot = lane.at(to + Length::from_mm(4), -cap(NAME) / 2);
    canvas.try_write(Words::new(foot, Anchor::Start, NAME, &name), THIN);
}

/// Words with their middle on a place of the strap.
fn write(canvas: &mut Canvas, lane: &Lane, at: Point<Strap>, size: Length, text: &str) {
    if !text.is_empty() {
        let foot = lane.at(at.x, at.y - cap(size) / 2);
        canvas.write(Words::new(foot, Anchor::Middle, size, text));
    }
}
