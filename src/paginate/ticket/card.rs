//! The outline of a bank card in true size, for a first look at the scale. A card covers a print
//! that is a little too small as well: the scale bars decide.

use super::breaks::{leading, wrap};
use super::{ABOVE, INSET, TicketWriter};
use crate::geom::{Length, Path, Point, Sheet as OnSheet};
use crate::paginate::area::Area;
use crate::paginate::canvas::TextItem;
use crate::paginate::item::{Anchor, Layer, Pen};
use crate::words::Word;

/// The size of a card: ID-1 of ISO/IEC 7810.
pub(super) const CARD: (Length, Length) =
    (Length::from_um(85_600), Length::from_um(53_980));
/// Radius of its corners, from 2.88 to 3.48 mm by ISO/IEC 7810 (from memory).
const CARD_CORNER: Length = Length::from_um(3_180);
/// Between the card and text beside it.
pub(super) const BESIDE_CARD: Length = Length::from_mm(2);

impl TicketWriter<'_> {
    /// Draws the outline of a card with what to do with it. Where it is wider than a column,
    /// it stands below the text of the columns that it reaches into.
    pub(super) fn draw_card(&mut self) {
        let wording = self.ticket.wording;
        let size = [CARD.0, CARD.1].map(|l| wording.size(l));
        let caption =
            wording.fill(Word::CardCheck, &[("long", &size[0]), ("wide", &size[1])]);
        let inside = CARD.0 - INSET * 2;
        let lines = wrap(&caption, self.size, inside);
        let all = self.page.printable();
        let most = all.x.to - INSET - CARD.0;
        if most < all.x.from + INSET {
            return;
        }
        let left = loop {
            let left = self.columns[self.column].min(most);
            let before = self.columns.iter().zip(&self.ends);
            // Earlier columns that the card reaches into.
            let reached = before.filter(|(x, _)| **x + self.width + BESIDE_CARD > left);
            self.y = reached.map(|(_, end)| *end).fold(self.y, Length::min);
            let is_fresh = self.y == self.top;
            if is_fresh || self.y - ABOVE - CARD.1 >= self.floor() {
                break left;
            }
            self.advance();
        };
        let low = Point::new(left, self.y - ABOVE - CARD.1);
        let high = Point::new(left + CARD.0, low.y + CARD.1);
        self.canvas.stroke(Layer::Guides, Pen::Punch, vec![rounded(low, high)]);
        let mut y = high.y - INSET;
        for text in lines {
            y -= leading(self.size);
            let at = Point::new(left + INSET, y);
            self.canvas.write(TextItem::new(at, Anchor::Start, self.size, &text));
        }
        self.canvas.keep_free(Area::between(low, high));
        self.y = low.y;
    }
}

/// A rectangle with the corners of a card.
fn rounded(low: Point<OnSheet>, high: Point<OnSheet>) -> Path<OnSheet> {
    let r = CARD_CORNER;
    let (left, right) = (low.x + r, high.x - r);
    let (bottom, top) = (low.y + r, high.y - r);
    let at = Point::new;
    Path::from(at(left, low.y))
        .line_to(at(right, low.y))
        .arc_to(at(high.x, bottom), at(right, bottom), false)
        .line_to(at(high.x, top))
        .arc_to(at(right, high.y), at(right, top), false)
        .line_to(at(left, high.y))
        .arc_to(at(low.x, top), at(left, top), false)
        .line_to(at(low.x, bottom))
        .arc_to(at(left, low.y), at(left, bottom), false)
        .close()
}
