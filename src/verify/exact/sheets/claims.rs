//! Rules over the texts of one sheet: numerals, readings and labels say what is there.

use super::super::drawn::base_line;
use super::rulers::ruler_reading;
use super::{Judge, ROUNDING};
use crate::diagnostic::RuleId;
use crate::geom::{Extent, Length, Point, Sheet as OnSheet, Vector};
use crate::layout::Mark;
use crate::paginate::{Claim, Cross, Item, Tile};
use crate::verify::rule;
use crate::words::Units;

/// How far the middle of a reading may stand from its mark: from the rim of a form, or from a
/// line.
const TO_FORM: Length = Length::from_mm(6);
const TO_LINE: Length = Length::from_mm(60);
/// How far the label of a cross may stand from its cross.
const TO_LABEL: Length = Length::from_mm(8);

impl Judge<'_> {
    /// Numerals and readings say what their places read; crosses and bars are labelled.
    pub(super) fn claims(&mut self) {
        for item in &self.sheet.items {
            let Item::Text { at, text, claim, .. } = item else { continue };
            if let Some(id) = self.broken(*claim, text, *at, middle_of(item)) {
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
            let joins = tile.crosses.iter().cloned().map(|cross| (true, cross));
            let ends = self.check_ends(tile).map(|end| (false, end));
            for (is_join, cross) in joins.chain(ends) {
                let is_drawn = if is_join {
                    self.drawn.has_cross(cross.at)
                } else {
                    self.drawn.has_check_line(cross.at)
                };
                let found = if tile.placement.apply(cross.on_strap) != cross.at {
                    "it elsewhere"
                } else if !is_drawn {
                    "nothing"
                } else if !self.is_named(tile, &cross, is_join) {
                    "no name"
                } else {
                    continue;
                };
                let what = if is_join { "cross" } else { "line" };
                let message =
                    format!("{what} {} is not drawn with its name", cross.label);
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
                let says = |(claim, _)| {
                    matches!(claim, Claim::Bar { bar: own, along: at, .. }
                        if own == bar && at == along)
                };
                if !self.texts().any(says) {
                    let found = format!("none at {along} of a bar of {}", drawn.length());
                    let message = "a scale bar has no numeral at an end";
                    self.find(rule::BAR_OFF, message, found, "0 and its length");
                }
            }
        }
    }

    /// Whether a cross of a tile has the name of its join beside it, and a line of the long
    /// check its letter.
    fn is_named(&self, tile: &Tile, cross: &Cross, is_join: bool) -> bool {
        self.sheet.items.iter().any(|item| {
            let Item::Text { claim, text, at, .. } = item else { return false };
            match *claim {
                Claim::Join { strips: [a, b] } if is_join => {
                    let name = format!("{a} + {b} ");
                    cross.label.starts_with(&name) && is_at_join(tile, &name, *at)
                }
                Claim::Cross { at } => !is_join && at == cross.at && *text == cross.label,
                _ => false,
            }
        })
    }

    /// All texts with what they claim.
    fn texts(&self) -> impl Iterator<Item = (Claim, &str)> {
        self.sheet.items.iter().filter_map(|item| match item {
            Item::Text { claim, text, .. } => Some((*claim, text.as_str())),
            _ => None,
        })
    }

    /// The rule that a claim breaks; `None` for one that holds.
    fn broken(
        &self,
        claim: Claim,
        text: &str,
        at: Point<OnSheet>,
        middle: Point<OnSheet>,
    ) -> Option<RuleId> {
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
                let units = self.set.settings.wording.units;
                let holds =
                    piece(index).is_some_and(|p| says(text, units, p.from_bend(x)));
                (holds && self.is_beside(index, x, middle), rule::LABEL_WRONG)
            }
            Claim::Cross { at: cross } => {
                let own = self.sheet.tiles.iter().flat_map(|tile| self.check_ends(tile));
                let mut own = own.filter(|c| c.at == cross);
                let is_named = own.any(|c| c.label == text);
                let is_near = (at - cross).norm() <= TO_LABEL;
                (is_named && is_near, rule::CROSS_ODD)
            }
            Claim::Join { strips: [a, b] } => {
                let name = format!("{a} + {b}");
                let mut tiles = self.sheet.tiles.iter();
                let is_near = tiles.any(|t| is_at_join(t, &format!("{name} "), at));
                let before = text.strip_suffix(&name);
                let is_named = before.is_some_and(|b| !b.ends_with(char::is_numeric));
                (is_near && is_named, rule::CROSS_ODD)
            }
            Claim::Bar { bar, along, unit } => {
                let digits: String =
                    text.chars().take_while(char::is_ascii_digit).collect();
                let read = digits.parse::<i64>().ok().map(|n| unit * n);
                let holds = self.sheet.bars.get(bar).is_some_and(|bar| {
                    let off = at - bar.from;
                    let place = if bar.from.y == bar.to.y { off.x } else { off.y };
                    place == along && self.drawn.has_end_line(bar, along)
                });
                (holds && read == Some(along), rule::BAR_OFF)
            }
        };
        (!holds).then_some(id)
    }

    /// Whether a place of the sheet is beside x of a piece, on one of its tiles.
    fn stands_at(&self, piece: usize, x: Length, at: Point<OnSheet>) -> bool {
        let own = self.sheet.tiles.iter().filter(|t| t.piece == piece);
        own.filter(|t| t.stretch.has(x)).any(|t| {
            let on = t.placement.invert(at);
            on.x == x && t.across.has(on.y)
        })
    }

    /// Whether a place of the sheet is beside the mark at x of a piece; none that is a form
    /// lies between a line across the strap and its reading.
    fn is_beside(&self, index: usize, x: Length, at: Point<OnSheet>) -> bool {
        // On a nested print the readings of all sizes share the room that there is.
        if !self.rows.is_empty() {
            return true;
        }
        let own = self.pieces().filter(|(tile, _)| tile.piece == index);
        own.filter(|(tile, _)| tile.stretch.has(x)).any(|(tile, piece)| {
            let place = Extent::at(tile.placement.invert(at).x);
            let forms = || piece.marks.iter().filter(|m| m.path().is_some());
            let way = Extent::at(x).union(place);
            if forms().any(|m| m.at.x == x) {
                // No other form is as near, and it is near.
                let off = |m: &Mark| (m.at.x - place.from).abs();
                let own = forms().filter(|m| m.at.x == x).min_by_key(|m| off(m));
                let nearest = forms().map(off).min();
                return own.is_some_and(|m| {
                    Some(off(m)) == nearest && m.x_extent().grown(TO_FORM).holds(place)
                });
            }
            // Below the strap a line leads from it to its place.
            let on = tile.placement.invert(at);
            let bottom = piece.edges(tile.stretch).map(|edges| edges.from);
            if bottom.is_some_and(|bottom| on.y < bottom) {
                let foot = tile.placement.apply(Point::new(x, on.y));
                let mut lines = self.drawn.lines.iter();
                return lines.any(|(from, to)| {
                    let meets = |p: &Point<OnSheet>| p.x == foot.x && p.y >= at.y;
                    meets(from)
                        && to
                            .iter()
                            .any(|to| meets(to) && (to.y - at.y).abs() <= TO_LABEL)
                        && way.length() <= TO_LINE
                });
            }
            let is_between = |m: &Mark| way.from < m.at.x && m.at.x < way.to;
            way.length() <= TO_LINE && !forms().any(is_between)
        })
    }
}

/// Whether a place of the sheet lies on a tile, beside the match line through the two crosses
/// whose labels begin with `name`.
fn is_at_join(tile: &Tile, name: &str, at: Point<OnSheet>) -> bool {
    let own = tile.crosses.iter().filter(|cross| cross.label.starts_with(name));
    let [a, b] = own.map(|cross| cross.on_strap).collect::<Vec<_>>()[..] else {
        return false;
    };
    let on = tile.placement.invert(at);
    let is_on = tile.shows(on);
    let off = if a.x == b.x { on.x - a.x } else { on.y - a.y };
    is_on && off.abs() <= TO_LABEL
}

/// The middle of a text along its line.
fn middle_of(item: &Item) -> Point<OnSheet> {
    let Some([from, to]) = base_line(item) else { return Point::default() };
    from + Vector::new((to.x - from.x) / 2, (to.y - from.y) / 2)
}

/// Whether a text is a reading of `own`: millimetres to tenths, or inches to 1/32 where they
/// alone were chosen.
fn says(text: &str, units: Units, own: Length) -> bool {
    let (unit, most) = match units {
        Units::Inches => ("in", Length::from_inch_64ths(1)),
        Units::Millimetres | Units::Both => ("mm", Length::from_um(50)),
    };
    let read = Length::parse(&format!("{} {unit}", text.replace(',', ".")));
    read.is_ok_and(|read| (read - own).abs() <= most)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_reading_is_read_in_every_unit_and_language() {
        let (mm, inches) = (Units::Millimetres, Units::Inches);
        let own = Length::from_um(863_600);
        assert!(says("863.6", mm, own) && says("863,6", Units::Both, own));
        assert!(
            says("34", inches, own)
                && says("34 1/32", inches, own + Length::from_um(400))
        );
        for (text, units) in
            [("863.7", mm), ("34 1/16", inches), ("34", mm), ("863.6", inches), ("", mm)]
        {
            assert!(!says(text, units, own), "{text}");
        }
    }
}
