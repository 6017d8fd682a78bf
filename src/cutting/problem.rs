//! The bare problem: equal pieces as lots, equal strips as racks, and how good a packing is.
//!
//! Pieces lie on a strip end to end with an allowance between neighbours. A piece is reckoned
//! as its length and one allowance, a strip as its length without its ends and with one
//! allowance more; then pieces fit when their sum does.

use super::{Allowances, Kind};
use crate::geom::Length;
use std::cmp::Reverse;

/// A blank with its tip cut is the length that was asked for when it is within this
/// (common practice, no source).
const SAME_LENGTH: Length = Length::from_mm(1);

/// Equal pieces.
#[derive(Clone, Debug)]
pub(super) struct Lot {
    pub(super) kind: Kind,
    pub(super) length: Length,
    pub(super) width: Length,
    pub(super) thickness: Length,
    /// Which cuts they are.
    pub(super) cuts: Vec<usize>,
}

/// Equal strips or blanks.
#[derive(Clone, Debug)]
pub(super) struct Rack {
    pub(super) kind: Kind,
    pub(super) length: Length,
    pub(super) width: Length,
    pub(super) thickness: Length,
    /// Which they are: the entry of the stock, and which one of it, from 1.
    pub(super) strips: Vec<(usize, u32)>,
}

impl Rack {
    /// What opening one costs: its area in square nanometres.
    pub(super) fn area(&self) -> i128 {
        i128::from(self.length.nm()) * i128::from(self.width.nm())
    }
}

/// Lots and racks, the longest first, with the allowances.
#[derive(Clone, Debug)]
pub(super) struct Problem<'a> {
    pub(super) lots: Vec<Lot>,
    pub(super) racks: Vec<Rack>,
    pub(super) allowances: &'a Allowances,
}

/// Whether width, thickness and kind allow the one to be cut from the other.
pub(super) fn matches(lot: &Lot, rack: &Rack, allowances: &Allowances) -> bool {
    let near = |a: Length, b: Length, by: Length| (a - b).abs() <= by;
    let wide = allowances.rip && rack.kind == Kind::Strip && rack.width > lot.width;
    lot.kind == rack.kind
        && near(lot.thickness, rack.thickness, allowances.thickness)
        && (wide || near(lot.width, rack.width, allowances.width))
}

/// Some of each of some lots, or of some racks.
pub(super) type Counts = Vec<(usize, usize)>;

impl Problem<'_> {
    pub(super) fn size(&self, lot: usize) -> i64 {
        (self.lots[lot].length + self.allowances.between).nm()
    }

    pub(super) fn room(&self, rack: usize) -> i64 {
        let Allowances { between, ends, .. } = *self.allowances;
        (self.racks[rack].length - ends * 2 + between).nm()
    }

    pub(super) fn is_single(&self, rack: usize) -> bool {
        self.racks[rack].kind != Kind::Strip
    }

    /// Whether one piece of the lot can be cut from one strip of the rack.
    pub(super) fn fits(&self, lot: usize, rack: usize) -> bool {
        let (l, r) = (&self.lots[lot], &self.racks[rack]);
        let long_enough = match l.kind {
            Kind::Strip => self.size(lot) <= self.room(rack),
            Kind::Blank => l.length <= r.length,
            Kind::CutBlank => (l.length - r.length).abs() <= SAME_LENGTH,
        };
        long_enough && matches(l, r, self.allowances)
    }

    /// What is left of a strip past pieces whose sizes sum to `sizes`.
    pub(super) fn offcut(&self, rack: usize, sizes: i64) -> i64 {
        let Allowances { between, ends, .. } = *self.allowances;
        let ends = if self.is_single(rack) { Length::ZERO } else { ends };
        (self.racks[rack].length - ends + between).nm() - sizes
    }

    pub(super) fn all_lots(&self) -> Counts {
        self.lots.iter().map(|l| l.cuts.len()).enumerate().collect()
    }

    pub(super) fn all_racks(&self) -> Counts {
        self.racks.iter().map(|r| r.strips.len()).enumerate().collect()
    }
}

/// One strip of a rack with what is cut from it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Filled {
    pub(super) rack: usize,
    /// The lots, one entry a piece, the longest first.
    pub(super) lots: Vec<usize>,
}

/// Strips with what is cut from them, and what is cut from none.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Packing {
    pub(super) strips: Vec<Filled>,
    /// Lots that have no strip, one entry a piece.
    pub(super) lacking: Vec<usize>,
}

/// How good a packing is: the less, the better, and what comes first weighs most.
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
        let nm = |lot: &usize| i128::from(problem.lots[*lot].length.nm());
        let offcuts = self.strips.iter().map(|s| s.offcut(problem));
        Score {
            lacking: self.lacking.len(),
            lacking_nm: self.lacking.iter().map(nm).sum(),
            area: self.strips.iter().map(|s| problem.racks[s.rack].area()).sum(),
            strips: self.strips.len(),
            offcut: Reverse(offcuts.max().unwrap_or(0)),
        }
    }
}

impl Filled {
    pub(super) fn sizes(&self, problem: &Problem<'_>) -> i64 {
        self.lots.iter().map(|&lot| problem.size(lot)).sum()
    }

    pub(super) fn offcut(&self, problem: &Problem<'_>) -> i64 {
        problem.offcut(self.rack, self.sizes(problem))
    }
}
