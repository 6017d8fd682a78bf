//! Rules over the rulers of one sheet: a tick at every place that a tape marks, as long as its
//! number asks, and a numeral where one belongs.

use super::{Judge, ROUNDING};
use crate::geom::{Bend, Extent, Length};
use crate::layout::Piece;
use crate::paginate::{Claim, Item, TickRow, Tile};
use crate::verify::rule;
use std::collections::{BTreeMap, BTreeSet};

/// How near to a cross ticks may give way to it, and numerals.
const TICKS_GIVE_WAY: Length = Length::from_um(3_500);
const NUMERALS_GIVE_WAY: Length = Length::from_mm(15);

/// One of the two rulers of a tile.
struct Ruler<'a> {
    tile: &'a Tile,
    piece: &'a Piece,
    is_above: bool,
}

impl Ruler<'_> {
    /// From tick to tick: millimetres above the strap, eighths of an inch below.
    fn pitch(&self) -> Length {
        if self.is_above { Length::from_mm(1) } else { Length::from_inch_64ths(8) }
    }

    /// How many ticks to one of each length, the longest first; numerals stand at those.
    fn classes(&self) -> &'static [i64] {
        if self.is_above { &[10, 5, 1] } else { &[8, 4, 2, 1] }
    }

    /// The part of the piece that the tile shows.
    fn shown(&self) -> Extent {
        self.tile.stretch.intersection(self.piece.extent)
    }

    /// Whether the edge of the piece that the ruler runs along is on the tile.
    fn is_there(&self) -> bool {
        let across = self.tile.across;
        self.piece.edges(self.shown()).is_some_and(|edges| {
            if self.is_above { across.to > edges.to } else { across.from < edges.from }
        })
    }

    /// Every `class`th place that a tape marks there, counted on through the bend. The bend
    /// itself has none.
    fn places(&self, class: i64) -> Vec<Length> {
        let bend = self.piece.bend;
        let inner = bend.map(|bend| bend.take_up / 2);
        let add = bend.map_or(Length::ZERO, Bend::from_fold_to_outside);
        let (shown, step) = (self.shown(), self.pitch() * class);
        let farthest = shown.to.abs().max(shown.from.abs()) + add;
        let counts = 0..=farthest.nm() / step.nm();
        let off = counts.map(|count| step * count - add);
        let off =
            off.filter(|off| inner.map_or(*off >= Length::ZERO, |inner| *off > inner));
        let both: BTreeSet<Length> = off.flat_map(|off| [off, -off]).collect();
        both.into_iter().filter(|x| shown.holds(Extent::at(*x))).collect()
    }

    /// The number of the tick at `x`; `None` where a tape has none.
    fn count(&self, x: Length) -> Option<i64> {
        let reading = ruler_reading(self.piece, x);
        let pitch = self.pitch();
        let count = (reading + pitch / 2).nm().div_euclid(pitch.nm());
        let is_beyond = self.piece.bend.is_none_or(|bend| x.abs() > bend.take_up / 2);
        let is_there = (pitch * count - reading).abs() <= ROUNDING;
        (is_there && is_beyond).then_some(count)
    }
}

/// What a tape reads at `x`, counted on through the bend as a ruler is.
pub(super) fn ruler_reading(piece: &Piece, x: Length) -> Length {
    x.abs() + piece.bend.map_or(Length::ZERO, Bend::from_fold_to_outside)
}

impl Judge<'_> {
    pub(super) fn rulers(&mut self) {
        let items = self.sheet.items.iter().skip(self.sheet.head);
        let rows = items.filter_map(|item| match item {
            Item::TickRows { tick_rows, .. } => Some(tick_rows),
            _ => None,
        });
        let mut left: Vec<&TickRow> = rows.flatten().collect();
        for (tile, piece) in self.pieces() {
            for is_above in [true, false] {
                let ruler = Ruler { tile, piece, is_above };
                let (own, others): (Vec<&TickRow>, _) =
                    left.into_iter().partition(|row| {
                        let from = tile.placement.invert(row.from);
                        tile.stretch.holds(Extent::at(from.x))
                            && tile.across.holds(Extent::at(from.y))
                            && (row.tick.y > Length::ZERO) == is_above
                    });
                left = others;
                if let Some(what) = self.wrong_ticks(&ruler, &own) {
                    let wanted = "ticks where a tape has them, the round ones longer";
                    let unit = if is_above { "mm" } else { "in" };
                    let message = format!("the ruler in {unit} has a wrong tick");
                    self.find(rule::RULER_WRONG, &message, what, wanted);
                }
            }
        }
        if !left.is_empty() {
            let found = format!("{} rows of ticks beside all strips", left.len());
            let message = "ticks stand where no ruler is";
            self.find(rule::RULER_WRONG, message, found, "rulers along the strips alone");
        }
    }

    /// What is wrong with the ticks of a ruler, or missing of it.
    fn wrong_ticks(&self, ruler: &Ruler<'_>, rows: &[&TickRow]) -> Option<String> {
        let Ruler { tile, piece, .. } = ruler;
        // A long tick is drawn over the short ones.
        let mut ticks: BTreeMap<Length, Length> = BTreeMap::new();
        for row in rows {
            for n in 0..row.count {
                let x = tile.placement.invert(row.base(n)).x;
                let longest = ticks.entry(x).or_default();
                *longest = row.tick.norm().max(*longest);
            }
        }
        let mut lengths: BTreeMap<i64, Length> = BTreeMap::new();
        for (x, length) in &ticks {
            let count = ruler.count(*x);
            let class = count.and_then(|n| ruler.classes().iter().find(|c| n % **c == 0));
            let same = |class: &i64| *lengths.entry(*class).or_insert(*length) == *length;
            if !class.is_some_and(same) {
                return Some(format!("one of {length} at x {x} of `{}`", piece.name));
            }
        }
        // The most ticks to one, the longer it is.
        if !lengths.values().is_sorted_by(|short, long| short < long) {
            return Some("round ones that are no longer than the others".to_owned());
        }
        if !ruler.is_there() {
            return None;
        }
        let gives_way = |x: Length, room: Length| {
            let checks = self.check_ends(tile).map(|cross| cross.on_strap.x);
            let crosses = tile.crosses.iter().map(|c| c.on_strap.x);
            crosses.chain(checks).any(|cross| (cross - x).abs() <= room)
        };
        let missing = ruler
            .places(1)
            .into_iter()
            .find(|x| !ticks.contains_key(x) && !gives_way(*x, TICKS_GIVE_WAY));
        if let Some(x) = missing {
            return Some(format!("none at x {x} of `{}`", piece.name));
        }
        let numerals = self.sheet.items.iter().filter_map(|item| match item {
            Item::Text { claim: Claim::Numeral { piece, x, unit }, .. } => {
                let is_above = *unit == Length::from_mm(1);
                (*piece == tile.piece && is_above == ruler.is_above).then_some(*x)
            }
            _ => None,
        });
        let numerals: BTreeSet<Length> = numerals.collect();
        let unnumbered = ruler
            .places(ruler.classes()[0])
            .into_iter()
            .find(|x| !numerals.contains(x) && !gives_way(*x, NUMERALS_GIVE_WAY));
        unnumbered.map(|x| format!("one without a numeral at x {x} of `{}`", piece.name))
    }
}
