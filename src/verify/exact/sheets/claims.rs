//! Rules over the texts of one sheet: numerals, readings and labels say what is there.

use super::{Judge, ROUNDING};
use crate::diagnostic::RuleId;
use crate::geom::{Bend, Extent, Length, Point, Sheet as OnSheet};
use crate::layout::Piece;
use crate::paginate::{Claim, Item, Tile};
use crate::verify::rule;

/// How far the label of a cross may stand from its cross.
const TO_LABEL: Length = Length::from_mm(8);

impl Judge<'_> {
    /// Numerals and readings say what their places read; labels stand at their crosses.
    pub(super) fn claims(&mut self) {
        for item in &self.sheet.items {
            let Item::Text { at, text, claim, .. } = item else { continue };
            if let Some(id) = self.broken(*claim, text, *at) {
                let found = format!("`{text}` at {}, {} of the page", at.x, at.y);
                self.find(
                    id,
                    "a number or label is not that of its place",
                    found,
                    "what stands there",
                );
            }
        }
        for cross in self.sheet.tiles.iter().flat_map(|t| &t.crosses) {
            if !self.drawn.has_cross(cross.at) {
                let message = format!("cross {} is not drawn", cross.label);
                let found = format!("none at {}, {} of the page", cross.at.x, cross.at.y);
                self.find(rule::CROSS_ODD, &message, found, "two lines that meet there");
            }
        }
        for tile in &self.sheet.tiles {
            let is_off =
                |at: &Point<OnSheet>, on_strap| tile.placement.apply(on_strap) != *at;
            if let Some(cross) = tile.crosses.iter().find(|c| is_off(&c.at, c.on_strap)) {
                let message = format!("cross {} is not at its place", cross.label);
                let found = format!("it at {}, {} of the page", cross.at.x, cross.at.y);
                self.find(rule::CROSS_ODD, &message, found, "it where the strap has it");
            }
        }
    }

    /// The rule that a claim breaks; `None` for one that holds.
    fn broken(&self, claim: Claim, text: &str, at: Point<OnSheet>) -> Option<RuleId> {
        let piece = |index: usize| self.layout.pieces.get(index);
        let (holds, id) = match claim {
            Claim::None => return None,
            Claim::Numeral { piece: index, x, unit } => {
                let wanted = piece(index).map(|p| ruler_reading(p, x));
                let read = text.parse::<i64>().ok().map(|n| unit * n);
                let off = wanted.zip(read).map(|(wanted, read)| (wanted - read).abs());
                let is_read = off.is_some_and(|off| off <= ROUNDING);
                (is_read && self.stands_at(index, x, at), rule::RULER_WRONG)
            }
            Claim::Reading { piece: index, x } => {
                let holds = piece(index).is_some_and(|p| says(text, p.from_bend(x)));
                (holds, rule::LABEL_WRONG)
            }
            Claim::Cross { at: cross } => {
                let mut own = self.sheet.tiles.iter().flat_map(|t| &t.crosses);
                let is_named = own.all(|c| c.at != cross || c.label == text);
                let is_near = (at - cross).norm() <= TO_LABEL;
                let is_there = self.drawn.has_cross(cross);
                (is_named && is_near && is_there, rule::CROSS_ODD)
            }
            Claim::Bar { bar, along, unit } => {
                let digits: String =
                    text.chars().take_while(char::is_ascii_digit).collect();
                let read = digits.parse::<i64>().ok().map(|n| unit * n);
                let place = self.sheet.bars.get(bar).map(|bar| {
                    let off = at - bar.from;
                    if bar.from.y == bar.to.y { off.x } else { off.y }
                });
                (read == Some(along) && place == Some(along), rule::BAR_OFF)
            }
        };
        (!holds).then_some(id)
    }

    /// Whether a place of the sheet is beside x of a piece, on one of its tiles.
    fn stands_at(&self, piece: usize, x: Length, at: Point<OnSheet>) -> bool {
        let own = self.sheet.tiles.iter().filter(|t| t.piece == piece);
        let place = |t: &Tile| t.placement.apply(Point::new(x, Length::ZERO)).x;
        own.filter(|t| t.stretch.holds(Extent::at(x))).any(|t| place(t) == at.x)
    }
}

/// What a tape reads at `x`, counted on through the bend as a ruler is.
fn ruler_reading(piece: &Piece, x: Length) -> Length {
    let add = piece.bend.map_or(Length::ZERO, Bend::from_fold_to_outside);
    x.abs() + add
}

/// Whether a text ends with a length in mm or inches that is `own`, as finely as it is
/// written. Both units may stand there, one in brackets.
fn says(text: &str, own: Length) -> bool {
    let last = text.rsplit(" · ").next().unwrap_or_default();
    let plain = last.replace('\u{a0}', " ").replace(',', ".").replace('~', "");
    let is_own = |part: &str| {
        let finest = if part.ends_with("in") {
            Length::from_inch_64ths(1)
        } else {
            Length::from_um(50)
        };
        let has_unit = part.ends_with(char::is_alphabetic);
        let part = if has_unit { part.to_owned() } else { format!("{part} mm") };
        Length::parse(&part).is_ok_and(|read| (read - own).abs() <= finest)
    };
    let parts = plain.split(['(', ')']).map(str::trim).filter(|part| !part.is_empty());
    let parts: Vec<bool> = parts.map(is_own).collect();
    !parts.is_empty() && parts.into_iter().all(|is_own| is_own)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_reading_is_read_in_every_unit_and_language() {
        let own = Length::from_um(863_600);
        let right = ["5 size · 863.6", "863,6", "34 in", "Loch 5 · 863,6 mm (34 in)"];
        assert!(right.iter().all(|text| says(text, own)));
        let wrong = ["863.7", "34 1/16 in", "863.6 mm (33 in)", "34 in · P2", "", "34"];
        assert!(wrong.iter().all(|text| !says(text, own)));
    }
}
