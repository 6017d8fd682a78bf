//! Rectangles of a sheet, and those that are taken already.

use crate::geom::{Extent, Length, Point, Sheet};
use std::ops::RangeInclusive;

/// An upright rectangle of the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Area {
    pub(super) x: Extent,
    pub(super) y: Extent,
}

impl Area {
    pub(super) fn new(x: Extent, y: Extent) -> Self {
        Self { x, y }
    }

    /// The rectangle with these two opposite corners.
    pub(super) fn between(a: Point<Sheet>, b: Point<Sheet>) -> Self {
        Self { x: Extent::new(a.x, b.x), y: Extent::new(a.y, b.y) }
    }

    /// The square around `middle` with sides of twice `reach`.
    pub(super) fn around(middle: Point<Sheet>, reach: Length) -> Self {
        Self { x: Extent::at(middle.x), y: Extent::at(middle.y) }.grown(reach)
    }

    /// Its lower left and its upper right corner.
    pub(super) fn corners(self) -> [Point<Sheet>; 2] {
        [Point::new(self.x.from, self.y.from), Point::new(self.x.to, self.y.to)]
    }

    pub(super) fn grown(self, margin: Length) -> Self {
        Self { x: self.x.grown(margin), y: self.y.grown(margin) }
    }

    pub(super) fn union(self, other: Self) -> Self {
        Self { x: self.x.union(other.x), y: self.y.union(other.y) }
    }

    pub(super) fn overlaps(self, other: Self) -> bool {
        self.x.overlaps(other.x) && self.y.overlaps(other.y)
    }

    pub(super) fn holds(self, other: Self) -> bool {
        self.x.holds(other.x) && self.y.holds(other.y)
    }
}

/// Occupied areas in bins along the width, so that only the areas near a place are compared.
#[derive(Debug)]
pub(super) struct AreaIndex {
    from: Length,
    bins: Vec<Vec<Area>>,
}

impl AreaIndex {
    const BIN: Length = Length::from_mm(5);

    pub(super) fn new(width: Extent) -> Self {
        let count = width.length().nm() / Self::BIN.nm() + 1;
        let count = usize::try_from(count).unwrap_or(1);
        Self { from: width.from, bins: vec![Vec::new(); count] }
    }

    /// The bins of the stretch `x`. The first and the last bin hold all that lies beyond.
    fn bins(&self, x: Extent) -> RangeInclusive<usize> {
        let bin = |at: Length| {
            let n = (at - self.from).nm().div_euclid(Self::BIN.nm());
            usize::try_from(n).unwrap_or(0).min(self.bins.len() - 1)
        };
        bin(x.from)..=bin(x.to)
    }

    pub(super) fn add(&mut self, area: Area) {
        for bin in self.bins(area.x) {
            self.bins[bin].push(area);
        }
    }

    /// All of them; one that spans several bins comes more than once.
    pub(super) fn iter(&self) -> impl Iterator<Item = &Area> {
        self.bins.iter().flatten()
    }

    pub(super) fn overlaps(&self, area: Area) -> bool {
        let mut near = self.bins[self.bins(area.x)].iter().flatten();
        near.any(|taken| taken.overlaps(area))
    }
}
