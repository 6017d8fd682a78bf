//! What should not lie in a join, and how much it weighs.

use super::{CLEAR, HALF, OVERLAP};
use crate::geom::{Extent, Length};
use crate::layout::{Mark, MarkKind, Shape};
use std::iter::Sum;
use std::ops::Add;

/// Round marks up to this diameter are pricked with an awl or an iron (common practice, no
/// source: the thinnest punches of the usual series are wider).
const PRICK: Length = Length::from_um(1_500);

/// What may be in the way of a join, the worst first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in super::super) enum Class {
    /// What is punched, cut or folded, and the targets on a blank.
    Mark,
    /// Where the outline turns.
    Curve,
    /// One of the many holes of a seam.
    Prick,
}

impl Class {
    pub(super) const ALL: [Self; 3] = [Self::Mark, Self::Curve, Self::Prick];

    /// The class of a mark; `None` for the ends, from which joins keep a distance anyway.
    pub(in super::super) fn of(mark: &Mark) -> Option<Self> {
        match (mark.kind, mark.shape) {
            (MarkKind::End | MarkKind::Tip, _) => None,
            (MarkKind::Stitch, _) => Some(Self::Prick),
            (_, Shape::Round { diameter }) if diameter <= PRICK => Some(Self::Prick),
            _ => Some(Self::Mark),
        }
    }
}

/// Something that a join should keep off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in super::super) struct Obstacle {
    pub(in super::super) extent: Extent,
    pub(in super::super) class: Class,
}

impl Obstacle {
    /// Where a match line would have it in its overlap, ends aside.
    fn shadow(self) -> Extent {
        self.extent.grown(HALF + CLEAR)
    }

    /// Where a match line would leave it whole on neither side, ends aside.
    fn broken(self) -> Option<Extent> {
        (self.extent.length() > OVERLAP).then(|| self.extent.grown(-HALF))
    }
}

/// What lies in overlaps; less is better, the first difference decides.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(in super::super) struct Harm {
    /// Marks in an overlap.
    pub(in super::super) marks: usize,
    /// Curves of the outline in an overlap.
    pub(in super::super) curves: usize,
    /// Pricks in an overlap.
    pub(in super::super) pricks: usize,
    /// Any of them under a match line itself.
    pub(in super::super) struck: usize,
}

impl Harm {
    /// Whether no mark and no curve lies in an overlap.
    pub(in super::super) fn is_clear(self) -> bool {
        self.marks == 0 && self.curves == 0
    }
}

impl Add for Harm {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            marks: self.marks + other.marks,
            curves: self.curves + other.curves,
            pricks: self.pricks + other.pricks,
            struck: self.struck + other.struck,
        }
    }
}

impl Sum for Harm {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        all.fold(Self::default(), Add::add)
    }
}

/// Open stretches in which no match line may lie, merged and in order.
#[derive(Clone, Debug, Default)]
pub(super) struct Bars(Vec<Extent>);

impl Bars {
    /// Lines there would leave some mark whole on no tile. Where no line does that, every
    /// mark is whole on the tile after the last line that it begins beyond.
    pub(super) fn whole_marks(obstacles: &[Obstacle]) -> Self {
        let marks = obstacles.iter().filter(|o| o.class != Class::Curve);
        Self::merged(marks.filter_map(|o| o.broken()).collect())
    }

    /// These and the shadows of all obstacles of `classes`.
    pub(super) fn with(&self, obstacles: &[Obstacle], classes: &[Class]) -> Self {
        let in_way = obstacles.iter().filter(|o| classes.contains(&o.class));
        Self::merged(self.0.iter().copied().chain(in_way.map(|o| o.shadow())).collect())
    }

    fn merged(mut all: Vec<Extent>) -> Self {
        all.sort_unstable();
        let mut merged: Vec<Extent> = Vec::new();
        for e in all {
            match merged.last_mut() {
                Some(last) if e.from < last.to => last.to = last.to.max(e.to),
                _ => merged.push(e),
            }
        }
        Self(merged)
    }

    pub(super) fn bar(&self, x: Length) -> bool {
        let i = self.0.partition_point(|e| e.to <= x);
        self.0.get(i).is_some_and(|e| e.from < x)
    }

    /// The ends of the stretches.
    pub(super) fn ends(&self) -> impl Iterator<Item = Length> {
        self.0.iter().flat_map(|e| [e.from, e.to])
    }

    /// What is left of `inner`, ends included; a stretch may be a single place.
    pub(super) fn free(&self, inner: Extent) -> Vec<Extent> {
        let mut from = inner.from;
        let mut all = Vec::new();
        for bar in self.0.iter().filter(|b| b.to > inner.from && b.from < inner.to) {
            if bar.from >= from {
                all.push(Extent { from, to: bar.from });
            }
            from = from.max(bar.to);
        }
        if from <= inner.to {
            all.push(Extent { from, to: inner.to });
        }
        all
    }
}

/// Counts in logarithmic time what a match line would do.
#[derive(Debug)]
pub(super) struct Scale {
    shadows: [Edges; 3],
    bodies: Edges,
}

/// Ends of stretches, each list in order.
#[derive(Debug, Default)]
struct Edges {
    from: Vec<Length>,
    to: Vec<Length>,
}

impl Edges {
    fn of(extents: impl Iterator<Item = Extent>) -> Self {
        let (mut from, mut to): (Vec<_>, Vec<_>) =
            extents.map(|e| (e.from, e.to)).unzip();
        from.sort_unstable();
        to.sort_unstable();
        Self { from, to }
    }

    /// How many of the stretches have `x` within, ends aside.
    fn over(&self, x: Length) -> usize {
        let begun = self.from.partition_point(|&f| f < x);
        let done = self.to.partition_point(|&t| t <= x);
        begun.saturating_sub(done)
    }
}

impl Scale {
    pub(super) fn new(obstacles: &[Obstacle]) -> Self {
        let shadows = Class::ALL.map(|class| {
            let own = obstacles.iter().filter(|o| o.class == class);
            Edges::of(own.map(|o| o.shadow()))
        });
        let bodies = obstacles.iter().map(|o| o.extent);
        // What has no length is never under a line, only beside it.
        let bodies = Edges::of(bodies.filter(|e| e.from < e.to));
        Self { shadows, bodies }
    }

    /// What a match line at `x` does.
    pub(super) fn harm(&self, x: Length) -> Harm {
        let [marks, curves, pricks] = &self.shadows;
        Harm {
            marks: marks.over(x),
            curves: curves.over(x),
            pricks: pricks.over(x),
            struck: self.bodies.over(x),
        }
    }
}

/// Where the harm of a match line changes.
pub(super) fn edges(obstacles: &[Obstacle]) -> impl Iterator<Item = Length> {
    let all = obstacles.iter().flat_map(|o| [o.shadow(), o.extent]);
    all.flat_map(|e| [e.from, e.to])
}
