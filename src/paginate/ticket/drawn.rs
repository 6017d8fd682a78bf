//! What of the ticket is drawn: how to join, the signs, and the punches in true size.

use super::super::annotations::foot;
use super::super::canvas::{TextItem, points};
use super::super::item::{Anchor, Layer, Tone};
use super::TicketWriter;
use crate::geom::{Length, Path, Point};
use crate::layout::{Layout, MarkKind};
use crate::words::Word;
use std::collections::BTreeSet;

/// From the start of a drawing of a join to that of the next.
const DRAWING_PITCH: Length = Length::from_um(44_200);
/// Size of the words below a punch, and from there to the punch.
const PUNCH: Length = points(90);
const TO_PUNCH: Length = Length::from_mm(5);
/// Between two punches.
const BETWEEN: Length = Length::from_mm(6);

impl TicketWriter<'_> {
    /// Draws how to join, as many drawings beside each other as the column has room for.
    pub(super) fn draw_joins(&mut self) {
        let heading = self.ticket.wording.say(Word::JoinStrips);
        let high = foot::DRAWING + Length::from_mm(1);
        self.write_heading(heading, high);
        let beside = (self.width.nm() / DRAWING_PITCH.nm()).clamp(1, 3);
        let mut first = 0;
        while first < 3 {
            self.make_room(high);
            let at = Point::new(self.columns[self.column], self.y);
            let steps = first..(first + beside).min(3);
            foot::join_drawings(&mut self.canvas, at, DRAWING_PITCH, steps);
            self.y -= high;
            first += beside;
        }
    }

    /// Draws all signs, two beside each other.
    pub(super) fn draw_signs(&mut self) {
        let high = foot::SIGN_LEADING;
        self.write_heading(self.ticket.wording.say(Word::Signs), high * 2);
        for pair in foot::Sign::ALL.chunks(2) {
            self.make_room(high);
            let (left, room) = (self.columns[self.column], self.width / 2);
            for ((sign, word), x) in pair.iter().zip([left, left + room]) {
                let at = Point::new(x, self.y - high / 2);
                sign.draw(&mut self.canvas, at, room, *word);
            }
            self.y -= high;
        }
    }

    /// Draws each punch in its true size, with the size below it.
    pub(super) fn draw_punches(&mut self, layout: &Layout) {
        let marks = layout.pieces.iter().flat_map(|p| &p.marks);
        let marks = marks.filter(|m| m.is_punched() && m.kind != MarkKind::Stitch);
        let sizes = marks.filter_map(|m| m.shape.size().map(|[long, wide]| [wide, long]));
        let sizes: BTreeSet<[Length; 2]> = sizes.collect();
        let highest = sizes.iter().map(|[wide, _]| *wide).max();
        let Some(highest) = highest else { return };
        let high = highest + TO_PUNCH + Length::from_mm(2);
        let wording = self.ticket.wording;
        self.write_heading(wording.say(Word::PunchesTrueSize), high);
        let mut along = Length::ZERO;
        for [wide, long] in sizes {
            let words = if wide == long {
                format!("Ø {}", wording.near(wide))
            } else {
                wording.near_oblong(long, wide)
            };
            let text = TextItem::new(Point::default(), Anchor::Middle, PUNCH, &words);
            let room = long.max(text.width());
            if along > Length::ZERO && along + room > self.width {
                self.y -= high;
                along = Length::ZERO;
            }
            self.make_room(high);
            let x = self.columns[self.column] + along + room / 2;
            let middle = Point::new(x, self.y - Length::from_mm(1) - highest / 2);
            let form = if wide == long {
                Path::circle(middle, wide / 2)
            } else {
                Path::slot(middle, long, wide)
            };
            self.canvas.fill(Layer::Guides, Tone::Black, vec![form]);
            let at = Point::new(x, self.y - highest - TO_PUNCH);
            self.canvas.write(TextItem { at, ..text });
            along += room + BETWEEN;
        }
        self.y -= high;
    }
}
