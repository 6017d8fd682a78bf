//! Places the joins of one piece along one axis.
//!
//! A tile shows its piece from half an overlap before its left match line to half an overlap
//! after its right one, and has a greatest length. What counts, most important first:
//!
//! 1. every mark is whole on some tile;
//! 2. the fewest marks, then the fewest curves of the outline, lie in an overlap or within
//!    [`CLEAR`] of one;
//! 3. no hole of a seam does, if that is possible;
//! 4. the fewest joins;
//! 5. no match line lies in an end that is folded back;
//! 6. the fewest holes of seams in overlaps;
//! 7. tiles of equal length: the least sum of the distances of the match lines from those
//!    of equal tiles.
//!
//! So another join is better than a mark in a join: a hole punched through two taped papers
//! is only as exact as the join. Seams are different. If some hole of a seam must lie in a
//! join anyway, no join is added for the others: the neighbours of a seam's hole show where
//! it belongs.

mod cost;
mod placement;
mod reach;
#[cfg(test)]
mod tests;

pub(super) use cost::{JoinCost, Obstacle, ObstacleKind};

use crate::geom::{Extent, Length};
use cost::ForbiddenRanges;
use placement::PlacementSearch;

/// What two neighbouring tiles both show.
pub(super) const OVERLAP: Length = Length::from_mm(16);
/// Half of the overlap lies on either side of the match line.
const HALF: Length = Length::from_mm(8);
/// What must stay clear on both sides of the overlap.
pub(super) const CLEAR: Length = Length::from_mm(2);
/// Least distance between two match lines, and between one and an end of the piece: overlaps
/// do not meet, and no tile is too short to be taped.
const LEAST: Length = Length::from_mm(24);

/// The joins to find.
#[derive(Clone, Copy, Debug)]
pub(super) struct JoinProblem<'a> {
    /// The piece from end to end, with the margin shown beyond the ends.
    pub(super) whole: Extent,
    /// The greatest length of a tile.
    pub(super) max_tile: Length,
    /// One tile, counted from 0, with a greatest length of its own.
    pub(super) short: Option<(usize, Length)>,
    /// What the overlaps should keep clear of.
    pub(super) obstacles: &'a [Obstacle],
    /// Stretches in which a match line lies only where that saves a join: ends that are folded
    /// back. A strip that begins or ends within one is a scrap that is easily lost.
    pub(super) folded: &'a [Extent],
    /// The first match lines, which are given.
    pub(super) fixed: &'a [Length],
}

impl JoinProblem<'_> {
    /// The greatest length of a tile, counted from 0.
    fn max_length(&self, tile: usize) -> Length {
        let short = self.short.filter(|(t, _)| *t == tile);
        short.map_or(self.max_tile, |(_, length)| length.min(self.max_tile))
    }

    /// The greatest distance between the match lines at the two ends of a tile.
    fn max_step(&self, tile: usize) -> Length {
        self.max_length(tile) - OVERLAP
    }

    /// The furthest place of the first match line.
    fn max_first(&self) -> Length {
        self.whole.from + self.max_length(0) - HALF
    }

    /// The nearest place of the last of `n` match lines.
    fn min_last(&self, n: usize) -> Length {
        self.whole.to - self.max_length(n) + HALF
    }

    /// Where each of the first `n` lines can lie by the lengths of the tiles alone. With
    /// `are_all`, they are all the lines, so that the last tile must reach the end.
    fn line_ranges(&self, n: usize, are_all: bool) -> Vec<Extent> {
        let inner = self.inner();
        let mut ranges = Vec::with_capacity(n);
        let mut to = self.max_first();
        for k in 0..n {
            ranges.push(Extent { from: inner.from, to: to.min(inner.to) });
            to += self.max_step(k + 1);
        }
        if are_all {
            let mut from = self.min_last(n);
            for (k, range) in ranges.iter_mut().enumerate().rev() {
                range.from = range.from.max(from);
                from -= self.max_step(k);
            }
        }
        ranges
    }

    /// Where match lines may lie at all.
    fn inner(&self) -> Extent {
        self.whole.grown(-LEAST)
    }

    /// The greatest useful number of joins. If two neighbouring tiles could be one, the line
    /// between them is of no use.
    fn max_joins(&self) -> usize {
        let steps = self.whole.length().nm() / (self.max_tile - OVERLAP).nm() + 1;
        usize::try_from(2 * steps + 1).unwrap_or(usize::MAX)
    }
}

/// The match lines of one piece along one axis.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct MatchLines {
    /// Their places, in order.
    pub(super) places: Vec<Length>,
    /// What lies in their overlaps.
    pub(super) cost: JoinCost,
}

impl MatchLines {
    /// The stretches of `whole` that the tiles show.
    pub(super) fn stretches(&self, whole: Extent) -> Vec<Extent> {
        let starts = self.places.iter().map(|&line| line - HALF);
        let ends = self.places.iter().map(|&line| line + HALF);
        let tiles = [whole.from].into_iter().chain(starts).zip(ends.chain([whole.to]));
        tiles.map(|(from, to)| Extent { from, to }).collect()
    }
}

/// What a join at `line` should keep clear.
pub(super) fn zone_around(line: Length) -> Extent {
    Extent::at(line).grown(HALF + CLEAR)
}

/// Places the joins. `None` when tiles are too short for a join or a mark, or when no
/// placement begins with the fixed lines.
pub(super) fn solve(problem: &JoinProblem<'_>) -> Option<MatchLines> {
    let fits_one = problem.whole.length() <= problem.max_length(0);
    if fits_one && problem.fixed.is_empty() {
        return Some(MatchLines::default());
    }
    if problem.max_tile - OVERLAP < LEAST {
        return None;
    }
    for kinds in [&ObstacleKind::ALL[..], &[ObstacleKind::Mark, ObstacleKind::Curve]] {
        let mut forbidden = ForbiddenRanges::new(problem, kinds);
        if let Some(mut fewest) = reach::fewest_lines(problem, &forbidden) {
            for end in problem.folded {
                let sparing = forbidden.sparing(*end);
                let lines = reach::fewest_lines(problem, &sparing);
                if let Some(lines) = lines.filter(|lines| lines.len() == fewest.len()) {
                    (forbidden, fewest) = (sparing, lines);
                }
            }
            return PlacementSearch::new(problem, forbidden).most_even(&fewest);
        }
    }
    // Every placement has a mark or a curve in a join.
    let tries = [&[ObstacleKind::Prick][..], &[]].into_iter().filter_map(|kinds| {
        let forbidden = ForbiddenRanges::new(problem, kinds);
        let fewest = reach::fewest_lines(problem, &forbidden)?;
        let search = PlacementSearch::new(problem, forbidden);
        search.most_even(&search.least_cost(&fewest)?)
    });
    tries.min_by_key(|found| (found.cost.marks, found.cost.curves))
}

/// Finds the tile that can be the shortest, and its least length to the micrometre, with as
/// many joins as `lines` and nothing more in their overlaps. `None` where marks or curves
/// lie in overlaps: then it is not looked for.
pub(super) fn shortest_tile(
    problem: &JoinProblem<'_>,
    lines: &MatchLines,
) -> Option<(usize, Length)> {
    let kinds: &[ObstacleKind] = match lines.cost {
        cost if cost == JoinCost::default() => &ObstacleKind::ALL,
        cost if cost.is_clear() => &[ObstacleKind::Mark, ObstacleKind::Curve],
        _ => return None,
    };
    let mut forbidden = ForbiddenRanges::new(problem, kinds);
    for end in problem.folded {
        let is_spared = |line: &Length| *line <= end.from || *line >= end.to;
        if lines.places.iter().all(is_spared) {
            forbidden = forbidden.sparing(*end);
        }
    }
    let n = lines.places.len();
    let is_possible = |tile: usize, um: i64| {
        let short = Some((tile, Length::from_um(um)));
        reach::fewest_lines(&JoinProblem { short, ..*problem }, &forbidden)
            .is_some_and(|lines| lines.len() == n)
    };
    let mut best: Option<(usize, i64)> = None;
    for tile in (0..=n).rev() {
        let mut enough =
            best.map_or(problem.max_tile.nm() / 1_000, |(_, least)| least - 1);
        if !is_possible(tile, enough) {
            continue;
        }
        let mut too_short = 0;
        while enough - too_short > 1 {
            let middle = i64::midpoint(too_short, enough);
            if is_possible(tile, middle) { enough = middle } else { too_short = middle }
        }
        best = Some((tile, enough));
    }
    best.map(|(tile, um)| (tile, Length::from_um(um)))
}
