//! The key plan: every strip of the print in order, those of this sheet black.

use super::super::Print;
use super::super::canvas::{Canvas, TextItem, cap_height, points};
use super::super::item::{Anchor, Layer, Pen, Tone};
use super::super::plan::PlacedTile;
use crate::geom::{Extent, Length, Path, Point};
use crate::words::Word;

const WIDEST: Length = Length::from_mm(82);
/// The least width of the plan; it is left out where there is less.
pub(super) const LEAST: Length = Length::from_mm(40);
const HIGH: Length = Length::from_um(5_200);
/// Between two pieces.
const BETWEEN: Length = Length::from_mm(3);
const KEY: Length = points(90);
const ABOUT: Length = points(80);
const TO_ABOUT: Length = Length::from_mm(1);

/// A tile of the plan: its piece and its strip, and whether it is on this sheet.
struct Box<'a> {
    tile: &'a PlacedTile<'a>,
    is_here: bool,
    /// How wide it must be for its name.
    least: Length,
}

/// Draws the plan with its lower edge at `low`, the right edge of its room at `room.to`. Says
/// where it begins; `None` where its strips have no room for their names.
pub(super) fn draw(
    canvas: &mut Canvas,
    print: &Print<'_>,
    index: usize,
    room: Extent,
    low: Length,
) -> Option<Length> {
    let width = WIDEST.min(room.length());
    let mut boxes = Vec::new();
    for (nth, sheet) in print.plan.sheets.iter().enumerate() {
        boxes.extend(sheet.tiles.iter().map(|tile| {
            let name = name(tile, Point::new(Length::ZERO, Length::ZERO));
            let least = name.width() + Length::from_um(1_400);
            Box { tile, is_here: nth == index, least }
        }));
    }
    boxes.sort_by_key(|b| (b.tile.span.index, b.tile.span.strip));
    let gaps = boxes.windows(2).filter(|b| b[0].tile.span.index != b[1].tile.span.index);
    let gaps = BETWEEN * i64::try_from(gaps.count()).unwrap_or(0);
    let least: Length = boxes.iter().map(|b| b.least).sum();
    let free = width - gaps - least;
    if width < LEAST || free < Length::ZERO {
        return None;
    }
    // What is left over goes to the strips by their lengths.
    let length = |b: &Box<'_>| b.tile.span.stretch.length();
    let all: Length = boxes.iter().map(length).sum();
    let start = room.to - width;
    let mut x = start;
    let mut before = None;
    for one in &boxes {
        let piece = one.tile.span.index;
        if before.is_some_and(|before| before != piece) {
            x += BETWEEN;
        }
        before = Some(piece);
        let to = x + one.least + free.times(length(one).nm(), all.nm().max(1));
        let shape = Path::rectangle(Point::new(x, low), Point::new(to, low + HIGH));
        if one.is_here {
            canvas.fill(Layer::Guides, Tone::Black, vec![shape.clone()]);
        }
        canvas.stroke(Layer::Guides, Pen::Frame, vec![shape]);
        let middle = x + (to - x) / 2;
        let base = low + (HIGH - cap_height(KEY)) / 2;
        let name = name(one.tile, Point::new(middle, base));
        canvas.write(if one.is_here { name.white() } else { name });
        x = to;
    }
    let at = Point::new(start, low + HIGH + TO_ABOUT);
    let about = canvas.wording.say(Word::BlackHere);
    canvas.write(TextItem::new(at, Anchor::Start, ABOUT, about));
    Some(start)
}

fn name(tile: &PlacedTile<'_>, at: Point<crate::geom::Sheet>) -> TextItem {
    TextItem::new(at, Anchor::Middle, KEY, &tile.span.strip.to_string()).bold()
}
