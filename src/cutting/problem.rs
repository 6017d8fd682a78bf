//! The cutting stock problem without names: items of one size, strips of one size, cutting
//! patterns, and how good a packing is.
//!
//! Pieces lie on a strip end to end, with an allowance between neighbours. The planner takes a
//! piece as its length and one allowance, and a strip as its length without its ends and one
//! allowance more. Pieces then fit on a strip if their sum does.
//!
//! A wide strip may be ripped along its length into lanes side by side. A lane is as wide as
//! its widest piece, and pieces lie on it as on a strip. Ripping loses no leather.

use super::{Allowances, Kind};
use crate::geom::Length;
use std::cmp::Reverse;

/// Largest difference in length between a blank with its tip cut and the piece (common
/// practice, no source).
const SAME_LENGTH: Length = Length::from_mm(1);

/// What must agree between a piece and a strip before lengths count.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Class {
    pub(super) width: Length,
    pub(super) thickness: Length,
    pub(super) kind: Kind,
}

/// Pieces or strips of one class and length.
#[derive(Clone, Debug)]
pub(super) struct SameSize<T> {
    pub(super) class: Class,
    pub(super) length: Length,
    pub(super) members: Vec<T>,
}

impl<T> SameSize<T> {
    /// Its area in square nanometres.
    pub(super) fn area(&self) -> i128 {
        i128::from(self.length.nm()) * i128::from(self.class.width.nm())
    }
}

/// Items and strips, the longest first, with the allowances.
#[derive(Clone, Debug)]
pub(super) struct Problem<'a> {
    /// Pieces; a member is an index into the cuts.
    pub(super) items: Vec<SameSize<usize>>,
    /// Strips; a member is an index into the stock and a number within that entry, from 1.
    pub(super) strips: Vec<SameSize<(usize, u32)>>,
    pub(super) allowances: &'a Allowances,
}

/// Whether width, thickness and kind allow a piece to be cut from a strip.
pub(super) fn matches(item: Class, strip: Class, allowances: &Allowances) -> bool {
    let near = |a: Length, b: Length, by: Length| (a - b).abs() <= by;
    let wide = allowances.rip && strip.kind == Kind::Strip && strip.width > item.width;
    item.kind == strip.kind
        && near(item.thickness, strip.thickness, allowances.thickness)
        && (wide || near(item.width, strip.width, allowances.width))
}

/// Indices of items or strips, each with a number of them.
pub(super) type Counts = Vec<(usize, usize)>;

impl Problem<'_> {
    pub(super) fn size(&self, item: usize) -> i64 {
        (self.items[item].length + self.allowances.between).nm()
    }

    pub(super) fn width(&self, item: usize) -> Length {
        self.items[item].class.width
    }

    pub(super) fn room(&self, strip: usize) -> i64 {
        let Allowances { between, ends, .. } = *self.allowances;
        (self.strips[strip].length - ends * 2 + between).nm()
    }

    /// Whether only one piece can be cut from the strip, since it is a blank.
    pub(super) fn is_blank(&self, strip: usize) -> bool {
        self.strips[strip].class.kind != Kind::Strip
    }

    /// The width of the narrowest of some items.
    pub(super) fn narrowest(&self, items: impl Iterator<Item = usize>) -> Length {
        items.map(|item| self.width(item)).min().unwrap_or_default()
    }

    /// Into how many lanes the strip can be ripped for pieces of at least this width; one if
    /// the strip is not ripped.
    pub(super) fn most_lanes(&self, strip: usize, narrowest: Length) -> i64 {
        let can_rip = self.allowances.rip && !self.is_blank(strip);
        let lanes = self.strips[strip].class.width.nm() / narrowest.nm().max(1);
        if can_rip { lanes.max(1) } else { 1 }
    }

    /// Whether any strip can be ripped into lanes for two pieces.
    pub(super) fn any_lanes(&self) -> bool {
        let narrowest = self.narrowest(0..self.items.len());
        (0..self.strips.len()).any(|strip| self.most_lanes(strip, narrowest) > 1)
    }

    /// Whether one piece of the item can be cut from one such strip.
    pub(super) fn fits(&self, item: usize, strip: usize) -> bool {
        let (i, s) = (&self.items[item], &self.strips[strip]);
        let long_enough = match i.class.kind {
            Kind::Strip => self.size(item) <= self.room(strip),
            Kind::Blank => i.length <= s.length,
            Kind::CutBlank => (i.length - s.length).abs() <= SAME_LENGTH,
        };
        long_enough && matches(i.class, s.class, self.allowances)
    }

    /// Whether any strip suits the item.
    pub(super) fn fits_somewhere(&self, item: usize) -> bool {
        (0..self.strips.len()).any(|strip| self.fits(item, strip))
    }

    /// Whether all pieces without a strip are such as no strip suits, so that they are lacking
    /// in every packing.
    pub(super) fn is_fewest_lacking(&self, packing: &Packing) -> bool {
        packing.lacking.iter().all(|&item| !self.fits_somewhere(item))
    }

    /// What is left of a strip, or of a lane, past pieces whose sizes sum to `sizes`.
    pub(super) fn offcut(&self, strip: usize, sizes: i64) -> i64 {
        let Allowances { between, ends, .. } = *self.allowances;
        let ends = if self.is_blank(strip) { Length::ZERO } else { ends };
        (self.strips[strip].length - ends + between).nm() - sizes
    }

    pub(super) fn all_items(&self) -> Counts {
        self.items.iter().map(|i| i.members.len()).enumerate().collect()
    }

    pub(super) fn all_strips(&self) -> Counts {
        self.strips.iter().map(|s| s.members.len()).enumerate().collect()
    }
}

/// One strip with what is cut from it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Pattern {
    pub(super) strip: usize,
    /// For each lane its items, one entry a piece. A strip that is not ripped into lanes has
    /// one.
    pub(super) lanes: Vec<Vec<usize>>,
}

/// Strips with what is cut from them, and what is cut from none.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Packing {
    pub(super) patterns: Vec<Pattern>,
    /// Items without a strip, one entry a piece.
    pub(super) lacking: Vec<usize>,
}

/// How good a packing is: less is better, and the first field weighs most.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Score {
    /// Pieces without a strip.
    pub(super) lacking: usize,
    /// Their length.
    pub(super) lacking_nm: i128,
    /// Leather opened.
    pub(super) area: i128,
    /// Strips opened.
    pub(super) strips: usize,
    /// The longest offcut.
    pub(super) offcut: Reverse<i64>,
}

impl Packing {
    pub(super) fn score(&self, problem: &Problem<'_>) -> Score {
        let nm = |item: &usize| i128::from(problem.items[*item].length.nm());
        let offcuts = self.patterns.iter().map(|p| p.offcut(problem));
        Score {
            lacking: self.lacking.len(),
            lacking_nm: self.lacking.iter().map(nm).sum(),
            area: self.patterns.iter().map(|p| problem.strips[p.strip].area()).sum(),
            strips: self.patterns.len(),
            offcut: Reverse(offcuts.max().unwrap_or(0)),
        }
    }
}

impl Pattern {
    /// The longest offcut of its lanes.
    pub(super) fn offcut(&self, problem: &Problem<'_>) -> i64 {
        let sizes = |lane: &Vec<usize>| lane.iter().map(|&i| problem.size(i)).sum();
        let offcuts = self.lanes.iter().map(|l| problem.offcut(self.strip, sizes(l)));
        offcuts.max().unwrap_or(0)
    }
}
