//! Rules over the texts of one sheet: numerals, readings and labels say what is there.

use super::rulers::ruler_reading;
use super::{Judge, ROUNDING};
use crate::diagnostic::RuleId;
use crate::geom::{Extent, Length, Point, Sheet as OnSheet};
use crate::layout::Mark;
use crate::paginate::{Claim, Item, Tile};
use crate::verify::rule;

/// How far a reading may stand from its mark: from the rim of a form, or from a line.
const TO_FORM: Length = Length::from_mm(2);
const TO_LINE: Length = Length::from_mm(60);
/// How far the label of a cross may stand from its cross.
const TO_LABEL: Length = Length::from_mm(8);

impl Judge<'_> {
    /// Numerals and readings say what their places read; crosses and bars are labelled.
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
        for (tile, _) in self.pieces() {
            let ends = self.check_ends(tile);
            for cross in tile.crosses.iter().cloned().chain(ends) {
                let says = |(claim, text): (Claim, &str)| {
                    claim == Claim::Cross { at: cross.at } && text == cross.label
                };
                let found = if tile.placement.apply(cross.on_strap) != cross.at {
                    "it elsewhere"
                } else if !self.drawn.has_cross(cross.at) {
                    "no two lines that meet"
                } else if !self.texts().any(says) {
                    "no label"
                } else {
                    continue;
                };
                let message =
                    format!("cross {} is not drawn with its label", cross.label);
                let at = cross.on_strap;
                let found = format!("{found} at x {}, y {} of the strap", at.x, at.y);
                self.find(
                    rule::CROSS_ODD,
                    &message,
                    found,
                    "both, where the strap has it",
                );
            }
        }
        for (bar, drawn) in self.sheet.bars.iter().enumerate() {
            for along in [Length::ZERO, drawn.length()] {
                let unit = Length::from_mm(1);
                let says = |(claim, _)| claim == Claim::Bar { bar, along, unit };
                if !self.texts().any(says) {
                    let found = format!("none at {along} of a bar of {}", drawn.length());
                    let message = "a scale bar has no numeral at an end";
                    self.find(rule::BAR_OFF, message, found, "0 and its length in mm");
                }
            }
        }
    }

    /// All texts with what they claim.
    fn texts(&self) -> impl Iterator<Item = (Claim, &str)> {
        self.sheet.items.iter().filter_map(|item| match item {
            Item::Text { claim, text, .. } => Some((*claim, text.as_str())),
            _ => None,
        })
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
                (holds && self.is_beside(index, x, at), rule::LABEL_WRONG)
            }
            Claim::Cross { at: cross } => {
                let own = self.sheet.tiles.iter().flat_map(|tile| {
                    tile.crosses.iter().cloned().chain(self.check_ends(tile))
                });
                let mut own = own.filter(|c| c.at == cross);
                let is_named = own.any(|c| c.label == text);
                let is_near = (at - cross).norm() <= TO_LABEL;
                (is_named && is_near, rule::CROSS_ODD)
            }
            Claim::Bar { bar, along, unit } => {
                let digits: String =
                    text.chars().take_while(char::is_ascii_digit).collect();
                let read = digits.parse::<i64>().ok().map(|n| unit * n);
                let holds = self.sheet.bars.get(bar).is_some_and(|bar| {
                    let off = at - bar.from;
                    let (place, foot) = if bar.from.y == bar.to.y {
                        (off.x, Point::new(at.x, bar.from.y))
                    } else {
                        (off.y, Point::new(bar.from.x, at.y))
                    };
                    // A tick stands at the numeral.
                    place == along && self.drawn.lines.contains_key(&foot)
                });
                (holds && read == Some(along), rule::BAR_OFF)
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

    /// Whether a place of the sheet is beside the mark at x of a piece; none that is a form
    /// lies between a line across the strap and its reading.
    fn is_beside(&self, index: usize, x: Length, at: Point<OnSheet>) -> bool {
        // On a nested print the readings of all sizes share the room that there is.
        if !self.rows.is_empty() {
            return true;
        }
        let own = self.pieces().filter(|(tile, _)| tile.piece == index);
        own.filter(|(tile, _)| tile.stretch.holds(Extent::at(x))).any(|(tile, piece)| {
            let place = Extent::at(tile.placement.invert(at).x);
            let forms = || piece.marks.iter().filter(|m| m.path().is_some());
            let way = Extent::at(x).union(place);
            let mut own = forms().filter(|m| m.at.x == x).map(Mark::x_extent).peekable();
            if own.peek().is_some() {
                return own.any(|form| form.grown(TO_FORM).holds(place));
            }
            let is_between = |m: &Mark| way.from < m.at.x && m.at.x < way.to;
            way.length() <= TO_LINE && !forms().any(is_between)
        })
    }
}

/// Whether a text ends with a length that is `own`. Both units may stand there, one in
/// brackets. Millimetres are rounded to tenths; inches that carry a `~` to 1/32, the others are
/// whole.
fn says(text: &str, own: Length) -> bool {
    let last = text.rsplit(" · ").next().unwrap_or_default();
    let plain = last.replace('\u{a0}', " ").replace(',', ".");
    let is_own = |part: &str| {
        let (about, length) = part.strip_prefix('~').map_or((false, part), |l| (true, l));
        let most = match (length.ends_with("in"), about) {
            (true, true) => Length::from_inch_64ths(1),
            (true, false) => Length::from_um(1),
            (false, _) => Length::from_um(50),
        };
        let has_unit = length.ends_with(char::is_alphabetic);
        let length = if has_unit { length.to_owned() } else { format!("{length} mm") };
        Length::parse(&length).is_ok_and(|read| (read - own).abs() <= most)
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
        let whole = Length::from_inch_64ths(34 * 64);
        assert!(says("34 in", whole) && says("~34 in", whole + Length::from_um(390)));
        assert!(!says("34 in", whole + Length::from_um(10)));
        assert!(!says("~34 in", whole + Length::from_um(400)));
        let wrong = ["863.7", "34 1/16 in", "863.6 mm (33 in)", "34 in · P2", "", "34"];
        assert!(wrong.iter().all(|text| !says(text, own)));
    }
}
