//! Rules over the rulers of one sheet: a tick at every place that a tape marks, as long as its
//! number asks, and a numeral where one belongs.

use super::{Judge, ROUNDING};
use crate::geom::clip::intersections_at;
use crate::geom::{Bend, Extent, Length};
use crate::layout::{Mark, MarkKind, Piece};
use crate::paginate::{Claim, Item, TickRow, Tile};
use crate::verify::rule;
use crate::words::Units;
use std::collections::{BTreeMap, BTreeSet};

/// What a ruler keeps clear of: a match line, the end of a piece, a bend; and beside the strap
/// the crosses of joins and the signs of a long check.
const JOIN: Length = Length::from_mm(6);
const END: Length = Length::from_um(600);
const BEND: Length = Length::from_mm(8);
const SIGN: Length = Length::from_um(7_500);
/// How near to an end of a row of ticks a numeral may give way to what stands there.
const NUMERAL: Length = Length::from_mm(8);
/// From this width on a strap has rulers for both of two units.
const BOTH: Length = Length::from_mm(44);

/// One of the rulers of a tile.
struct Ruler<'a> {
    tile: &'a Tile,
    piece: &'a Piece,
    /// Whether it runs along the upper edge.
    is_upper: bool,
    is_inches: bool,
}

impl Ruler<'_> {
    /// From tick to tick: a millimetre or an eighth of an inch.
    fn pitch(&self) -> Length {
        if self.is_inches { Length::from_inch_64ths(8) } else { Length::from_mm(1) }
    }

    /// How many ticks to one of each length, the longest first.
    fn classes(&self) -> [i64; 3] {
        if self.is_inches { [8, 4, 1] } else { [10, 5, 1] }
    }

    /// How many ticks to a numeral.
    fn numbered(&self) -> i64 {
        if self.is_inches { 8 } else { 20 }
    }

    /// The part of the piece that the tile shows.
    fn shown(&self) -> Extent {
        self.tile.stretch.intersection(self.piece.extent)
    }

    /// Whether the edge of the piece that the ruler runs along is on the tile.
    fn is_there(&self) -> bool {
        let across = self.tile.across;
        self.piece.edges(self.shown()).is_some_and(|edges| {
            if self.is_upper { across.to > edges.to } else { across.from < edges.from }
        })
    }

    /// Every `class`th place that a tape marks there, counted on through the bend.
    fn places(&self, class: i64) -> Vec<Length> {
        let bend = self.piece.bend;
        let add = bend.map_or(Length::ZERO, Bend::from_fold_to_outside);
        let (shown, step) = (self.shown(), self.pitch() * class);
        let farthest = shown.to.abs().max(shown.from.abs()) + add;
        let counts = 0..=farthest.nm() / step.nm();
        let off = counts.map(|count| step * count - add).filter(|o| *o >= Length::ZERO);
        let both: BTreeSet<Length> = off.flat_map(|off| [off, -off]).collect();
        both.into_iter().filter(|x| shown.has(*x)).collect()
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

    /// Whether the outline is as wide there as where the piece is narrowest.
    fn has_edge(&self, x: Length) -> bool {
        let half = self.piece.narrowest() / 2 - Length::from_um(1);
        intersections_at(&self.piece.outline, x)
            .into_iter()
            .any(|y| if self.is_upper { y >= half } else { -y >= half })
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
        let units = self.set.settings.wording.units;
        for (tile, piece) in self.pieces() {
            for is_upper in [true, false] {
                let is_inches = units == Units::Inches || !is_upper;
                let ruler = Ruler { tile, piece, is_upper, is_inches };
                let (own, others): (Vec<&TickRow>, _) =
                    left.into_iter().partition(|row| {
                        let from = tile.placement.invert(row.from);
                        tile.shows(from) && (from.y > Length::ZERO) == is_upper
                    });
                left = others;
                if let Some(what) = self.wrong_ticks(&ruler, &own) {
                    let wanted = "ticks where a tape has them, the round ones longer";
                    let unit = if is_inches { "in" } else { "mm" };
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
            let class =
                count.and_then(|n| ruler.classes().into_iter().find(|c| n % c == 0));
            let same = |class: i64| *lengths.entry(class).or_insert(*length) == *length;
            if !class.is_some_and(same) {
                return Some(format!("one of {length} at x {x} of `{}`", piece.name));
            }
        }
        // The most ticks to one, the longer it is.
        if !lengths.values().is_sorted_by(|short, long| short < long) {
            return Some("round ones that are no longer than the others".to_owned());
        }
        let foots: BTreeSet<Length> =
            rows.iter().map(|row| tile.placement.invert(row.from).y).collect();
        if foots.len() > 1 {
            return Some("ticks that do not stand on one line".to_owned());
        }
        let Some(foot) = foots.first() else {
            return self.lacks_ruler(ruler).then(|| format!("none on `{}`", piece.name));
        };
        let points_up = rows.iter().any(|row| row.tick.y > Length::ZERO);
        let is_beside = points_up == ruler.is_upper;
        if is_beside && piece.edges(ruler.shown()).is_some_and(|edges| edges.to >= *foot)
        {
            return Some(format!("a ruler on the edge of `{}`", piece.name));
        }
        let nested = self.rows.iter().filter(|row| row.piece == tile.piece);
        let nested = nested.flat_map(|row| row.holes.iter().map(|(x, _)| *x)).min();
        let inner = Self::inner(tile, piece);
        let bends = || piece.marks.iter().filter(|m| m.kind == MarkKind::Bend);
        let signs = || {
            let checks = self.check_ends(tile).map(|end| (end.on_strap.x, SIGN));
            let crosses = tile.crosses.iter().map(|c| (c.on_strap.x, JOIN));
            checks.chain(crosses)
        };
        // What a ruler hangs from may run across the piece at its ends.
        let hung = if is_beside { END } else { piece.narrowest() / 2 - foot.abs() };
        let end = hung.max(END);
        let gives_way = |x: Length| {
            let near = |at: Length, room: Length| (at - x).abs() <= room;
            let from = if inner.from > piece.extent.from { JOIN } else { end };
            let to = if inner.to < piece.extent.to { JOIN } else { end };
            x < inner.from + from
                || x > inner.to - to
                || bends().any(|m| near(m.at.x, BEND))
                || nested.is_some_and(|first| x >= first - SIGN * 2)
                || is_beside && signs().any(|(at, room)| near(at, room))
                || !is_beside && !ruler.has_edge(x)
        };
        let missing = ruler
            .places(1)
            .into_iter()
            .find(|x| !ticks.contains_key(x) && !gives_way(*x));
        if let Some(x) = missing {
            return Some(format!("none at x {x} of `{}`", piece.name));
        }
        let numerals = self.sheet.items.iter().filter_map(|item| match item {
            Item::Text { claim: Claim::Numeral { piece, x, unit }, at, .. } => {
                let is_inches = *unit != Length::from_mm(1);
                let y = tile.placement.invert(*at).y;
                let is_own = is_inches == ruler.is_inches && tile.across.has(y);
                (*piece == tile.piece && is_own).then_some(*x)
            }
            _ => None,
        });
        let numerals: BTreeSet<Length> = numerals.collect();
        let near_end =
            |x: Length| [-NUMERAL, NUMERAL].into_iter().any(|by| gives_way(x + by));
        let unnumbered = ruler
            .places(ruler.numbered())
            .into_iter()
            .filter(|x| ticks.contains_key(x))
            .find(|x| !numerals.contains(x) && !near_end(*x));
        unnumbered.map(|x| format!("one without a numeral at x {x} of `{}`", piece.name))
    }

    /// Whether another tile shows what lies above the tile, or below it, on its piece.
    fn goes_on(&self, tile: &Tile, is_upper: bool) -> bool {
        let tiles = self.set.sheets.iter().flat_map(|sheet| &sheet.tiles);
        let mut beside =
            tiles.filter(|t| t.piece == tile.piece && t.stretch == tile.stretch);
        beside.any(|t| {
            if is_upper {
                t.across.to > tile.across.to
            } else {
                t.across.from < tile.across.from
            }
        })
    }

    /// Whether a ruler should be there at all: along the upper edge of what has something to
    /// read, along the lower one with both units where a ruler is within a wide strap.
    fn lacks_ruler(&self, ruler: &Ruler<'_>) -> bool {
        let Ruler { tile, piece, .. } = *ruler;
        if !ruler.is_there() || self.goes_on(tile, ruler.is_upper) {
            return false;
        }
        if !ruler.is_upper {
            let is_both = self.set.settings.wording.units == Units::Both;
            // It is there where the upper one is within the strap.
            let upper = self.sheet.items.iter().any(|item| {
                let Item::TickRows { tick_rows, .. } = item else { return false };
                tick_rows.iter().any(|row| {
                    let from = tile.placement.invert(row.from);
                    tile.shows(from) && from.y > Length::ZERO && row.tick.y < Length::ZERO
                })
            });
            return is_both && upper && piece.narrowest() >= BOTH;
        }
        let is_read = |m: &Mark| {
            let is_bare = matches!(
                m.kind,
                MarkKind::End | MarkKind::Tip | MarkKind::Stitch | MarkKind::Slit
            );
            !is_bare
        };
        let is_joined = self.set.joins.iter().any(|(piece, _)| *piece == tile.piece);
        let is_nested = self.rows.iter().any(|row| row.piece == tile.piece);
        // A tile that shows little more than a tip has no edge for a ruler.
        let inner = Self::inner(tile, piece).grown(-(JOIN + BEND));
        let has_room =
            ruler.places(1).into_iter().any(|x| inner.has(x) && ruler.has_edge(x));
        let shows_read = piece.marks.iter().any(is_read);
        (is_joined || shows_read) && !is_nested && has_room
    }
}
