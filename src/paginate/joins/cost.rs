//! What should not lie in a join, and what it costs where it does.

use super::{CLEAR, HALF, JoinProblem, OVERLAP};
use crate::geom::{Extent, Length};
use crate::layout::{Mark, MarkKind, Shape};
use std::iter::Sum;
use std::ops::Add;

/// Round marks up to this diameter are pricked with an awl or an iron (common practice, no
/// source: the thinnest punches of the usual series are wider).
const PRICK: Length = Length::from_um(1_500);

/// What joins should keep clear of, the most important first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in super::super) enum ObstacleKind {
    /// What is punched, cut or folded, and the targets on a blank.
    Mark,
    /// A curve or corner of the outline.
    Curve,
    /// One of the many holes of a seam.
    Prick,
}

impl ObstacleKind {
    pub(super) const ALL: [Self; 3] = [Self::Mark, Self::Curve, Self::Prick];

    /// The kind of a mark. `None` for the ends of a piece: joins keep a distance from them
    /// anyway.
    pub(in super::super) fn from_mark(mark: &Mark) -> Option<Self> {
        match (mark.kind, mark.shape) {
            (MarkKind::End | MarkKind::Tip, _) => None,
            (MarkKind::Stitch, _) => Some(Self::Prick),
            (_, Shape::Round { diameter }) if diameter <= PRICK => Some(Self::Prick),
            _ => Some(Self::Mark),
        }
    }
}

/// A stretch of a piece that joins should keep clear of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in super::super) struct Obstacle {
    pub(in super::super) extent: Extent,
    pub(in super::super) kind: ObstacleKind,
}

impl Obstacle {
    /// Match lines inside this stretch, ends excluded, have the obstacle in their overlap.
    fn near(self) -> Extent {
        self.extent.grown(HALF + CLEAR)
    }

    /// Match lines inside this stretch, ends excluded, leave the obstacle whole on neither
    /// tile.
    fn breaking(self) -> Option<Extent> {
        (self.extent.length() > OVERLAP).then(|| self.extent.grown(-HALF))
    }
}

/// What lies in overlaps. Compared field by field: the first difference decides.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(in super::super) struct JoinCost {
    /// Marks in an overlap.
    pub(in super::super) marks: usize,
    /// Curves of the outline in an overlap.
    pub(in super::super) curves: usize,
    /// Holes of a seam in an overlap.
    pub(in super::super) pricks: usize,
    /// Any of them on a match line itself.
    pub(in super::super) on_line: usize,
}

impl JoinCost {
    /// Whether no mark and no curve lies in an overlap.
    pub(in super::super) fn is_clear(self) -> bool {
        self.marks == 0 && self.curves == 0
    }
}

impl Add for JoinCost {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            marks: self.marks + other.marks,
            curves: self.curves + other.curves,
            pricks: self.pricks + other.pricks,
            on_line: self.on_line + other.on_line,
        }
    }
}

impl Sum for JoinCost {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        all.fold(Self::default(), Add::add)
    }
}

/// Stretches in which no match line may lie. Their ends are allowed. Merged and in order.
#[derive(Clone, Debug)]
pub(super) struct ForbiddenRanges(Vec<Extent>);

impl ForbiddenRanges {
    /// Keeps every mark whole on some tile, and the overlaps clear of all obstacles of
    /// these kinds.
    ///
    /// Where no line breaks a mark, the mark is whole on the tile that begins at the last
    /// line before it.
    pub(super) fn new(problem: &JoinProblem<'_>, clear_of: &[ObstacleKind]) -> Self {
        let marks = problem.obstacles.iter().filter(|o| o.kind != ObstacleKind::Curve);
        let near = problem.obstacles.iter().filter(|o| clear_of.contains(&o.kind));
        let breaking = marks.filter_map(|o| o.breaking());
        let mut all: Vec<Extent> = breaking.chain(near.map(|o| o.near())).collect();
        all.sort_unstable();
        // Where two of them only touch, a line may lie between them.
        Self(merge_ranges(all, |end, start| start < end))
    }

    /// These, and another.
    pub(super) fn sparing(&self, other: Extent) -> Self {
        let mut all = [&self.0[..], &[other]].concat();
        all.sort_unstable();
        Self(merge_ranges(all, |end, start| start < end))
    }

    pub(super) fn contains(&self, x: Length) -> bool {
        let i = self.0.partition_point(|e| e.to <= x);
        self.0.get(i).is_some_and(|e| e.from < x)
    }

    /// The ends of the stretches.
    pub(super) fn ends(&self) -> impl Iterator<Item = Length> {
        self.0.iter().flat_map(|e| [e.from, e.to])
    }

    /// The stretches of `inner` in which lines may lie, ends included; some are a single
    /// place.
    pub(super) fn allowed(&self, inner: Extent) -> Vec<Extent> {
        let within = self.0.iter().filter(|r| r.to > inner.from && r.from < inner.to);
        let starts = [inner.from].into_iter().chain(within.clone().map(|r| r.to));
        let ends = within.map(|r| r.from).chain([inner.to]);
        let between = starts.zip(ends).map(|(from, to)| Extent { from, to });
        between.filter(|e| e.from <= e.to).collect()
    }
}

/// Ranges in order of their starts, with those made one that `meet`: called with the end of
/// one and the start of the next.
pub(super) fn merge_ranges(
    ranges: impl IntoIterator<Item = Extent>,
    meet: fn(Length, Length) -> bool,
) -> Vec<Extent> {
    let mut merged: Vec<Extent> = Vec::new();
    for range in ranges {
        match merged.last_mut() {
            Some(last) if meet(last.to, range.from) => *last = last.union(range),
            _ => merged.push(range),
        }
    }
    merged
}

/// Finds the cost of a match line in logarithmic time.
#[derive(Debug)]
pub(super) struct CostIndex {
    near: [RangeCounter; 3],
    on_line: RangeCounter,
}

/// Counts the ranges that contain a place.
#[derive(Debug)]
struct RangeCounter {
    starts: Vec<Length>,
    ends: Vec<Length>,
}

impl RangeCounter {
    fn new(ranges: impl Iterator<Item = Extent>) -> Self {
        let (mut starts, mut ends): (Vec<_>, Vec<_>) =
            ranges.map(|e| (e.from, e.to)).unzip();
        starts.sort_unstable();
        ends.sort_unstable();
        Self { starts, ends }
    }

    /// How many ranges contain `x`, ends excluded.
    fn count(&self, x: Length) -> usize {
        let started = self.starts.partition_point(|&s| s < x);
        let ended = self.ends.partition_point(|&e| e <= x);
        started.saturating_sub(ended)
    }
}

impl CostIndex {
    pub(super) fn new(obstacles: &[Obstacle]) -> Self {
        let near = ObstacleKind::ALL.map(|kind| {
            let own = obstacles.iter().filter(|o| o.kind == kind);
            RangeCounter::new(own.map(|o| o.near()))
        });
        // An obstacle without length is beside every line.
        let extents = obstacles.iter().map(|o| o.extent);
        Self { near, on_line: RangeCounter::new(extents.filter(|e| e.from < e.to)) }
    }

    /// The cost of a match line at `x`.
    pub(super) fn cost(&self, x: Length) -> JoinCost {
        let [marks, curves, pricks] = self.near.each_ref().map(|near| near.count(x));
        JoinCost { marks, curves, pricks, on_line: self.on_line.count(x) }
    }
}

/// The places at which the cost of a match line changes.
pub(super) fn cost_steps(obstacles: &[Obstacle]) -> impl Iterator<Item = Length> {
    let all = obstacles.iter().flat_map(|o| [o.near(), o.extent]);
    all.flat_map(|e| [e.from, e.to])
}
