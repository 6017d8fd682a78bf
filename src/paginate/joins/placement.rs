//! The best placement of match lines, by dynamic programming over candidate places.
//!
//! The cost of a line changes only at the ends of ranges around obstacles, and is least at
//! those ends. Its distance from the line of equal tiles is linear in between. Every other
//! limit is on one line or on the distance of two neighbours. So some best placement has
//! each line at the end of a range, at the line of equal tiles, or at a greatest or least
//! distance from a neighbour for which that holds, directly or through further neighbours.

use super::cost::{self, CostIndex, ForbiddenRanges, JoinCost};
use super::{HALF, JoinProblem, LEAST, MatchLines, OVERLAP, Obstacle, ObstacleKind};
use crate::geom::{Extent, Length};
use std::collections::VecDeque;

/// With more lines than this, no candidates are added for distances from neighbours, and the
/// least cost is sought among placements of the fewest lines only.
pub(super) const EXACT: usize = 12;

/// The cost of a placement: its joins, then nanometres off the lines of equal tiles.
type Cost = (JoinCost, i64);

/// A place that a line may have.
struct Candidate {
    place: Length,
    /// The least cost of the lines up to this one, and the candidate of the line before that
    /// leads to it. `None` when no placement reaches this place.
    best: Option<(Cost, usize)>,
}

pub(super) struct PlacementSearch<'a> {
    problem: &'a JoinProblem<'a>,
    forbidden: ForbiddenRanges,
    index: CostIndex,
}

impl<'a> PlacementSearch<'a> {
    pub(super) fn new(problem: &'a JoinProblem<'_>, forbidden: ForbiddenRanges) -> Self {
        Self { problem, forbidden, index: CostIndex::new(problem.obstacles) }
    }

    /// The match lines of `n + 1` tiles of equal length, after those that are fixed.
    fn equal_lines(&self, n: usize) -> Vec<Length> {
        let fixed = self.problem.fixed;
        let rest = i64::try_from(n.saturating_sub(fixed.len())).unwrap_or(i64::MAX);
        let from = fixed.last().map_or(self.problem.whole.from, |&line| line - HALF);
        let total = self.problem.whole.to - from + OVERLAP * rest;
        let equal =
            (1..=rest).map(|i| from + total.times(i, rest + 1) - OVERLAP * i + HALF);
        fixed.iter().copied().take(n).chain(equal).collect()
    }

    /// Of all placements of as many lines as `known`, the one with the least cost; of those,
    /// the one nearest to equal tiles.
    pub(super) fn most_even(&self, known: &[Length]) -> Option<MatchLines> {
        let n = known.len();
        let equal = self.equal_lines(n);
        let ranges = self.problem.line_ranges(n, true);
        let steps = cost::cost_steps(self.problem.obstacles);
        let places = self.places(steps.chain(equal.iter().copied()), known, &ranges);
        let off = |k: usize, x: Length| (x - equal[k]).abs().nm();
        let layers = self.reach_all(places, |k, x| (self.index.cost(x), off(k, x)));
        let (_, places) = self.cheapest(&layers)?;
        let cost = places.iter().map(|&x| self.index.cost(x)).sum();
        Some(MatchLines { places, cost })
    }

    /// Of placements of any number of lines, one with the fewest marks, then the fewest
    /// curves in its overlaps, then the fewest lines. `known` has the fewest lines of all.
    pub(super) fn least_cost(&self, known: &[Length]) -> Option<Vec<Length>> {
        if known.len() > EXACT {
            return Some(known.to_vec());
        }
        let obstacles = self.problem.obstacles.iter();
        let counted: Vec<Obstacle> =
            obstacles.filter(|o| o.kind != ObstacleKind::Prick).copied().collect();
        // The number of lines is not known yet.
        let ranges = self.problem.line_ranges(self.problem.max_joins(), false);
        let places = self.places(cost::cost_steps(&counted), known, &ranges);
        let layers = self.reach_all(places, |_, x| {
            (JoinCost { pricks: 0, on_line: 0, ..self.index.cost(x) }, 0)
        });
        let counts = known.len()..=layers.len();
        let found = counts.filter_map(|n| self.cheapest(&layers[..n]));
        found.min_by_key(|(cost, lines)| (*cost, lines.len())).map(|(_, lines)| lines)
    }

    /// The candidate places of each line, in order, within the range of the line.
    fn places(
        &self,
        cost_steps: impl Iterator<Item = Length>,
        known: &[Length],
        ranges: &[Extent],
    ) -> Vec<Vec<Length>> {
        let (problem, inner) = (self.problem, self.problem.inner());
        let limits = [problem.max_first(), inner.from, inner.to];
        let limits = limits.into_iter().chain(self.forbidden.ends());
        let lasts = (1..=ranges.len()).map(|n| problem.min_last(n));
        let mut common: Vec<Length> = cost_steps.chain(limits).chain(lasts).collect();
        sort_unique(&mut common);
        common.retain(|&x| !self.forbidden.contains(x));
        let own = |(k, range): (usize, &Extent)| -> Vec<Length> {
            if let Some(&line) = problem.fixed.get(k) {
                return vec![line];
            }
            let from = common.partition_point(|&x| x < range.from);
            let to = common.partition_point(|&x| x <= range.to).max(from);
            common[from..to].iter().chain(known.get(k)).copied().collect()
        };
        let mut places: Vec<Vec<Length>> = ranges.iter().enumerate().map(own).collect();
        if known.len() <= EXACT {
            let n = places.len();
            let forward = self.tied(&places, ranges, (0..n).map(|k| (k, k)), 1);
            let back = (0..n).rev().map(|k| (k, k + 1));
            let backward = self.tied(&places, ranges, back, -1);
            let tied = forward.into_iter().zip(backward.into_iter().rev());
            let free = places.iter_mut().zip(tied).skip(problem.fixed.len());
            for (places, (forward, backward)) in free {
                places.extend(forward.into_iter().chain(backward));
            }
        }
        places.iter_mut().for_each(sort_unique);
        places
    }

    /// For each line in turn, the places at a greatest or least distance from a candidate of
    /// the line before, or from a place so found. `order` gives each line with the tile
    /// between it and the one before; `sign` is the direction.
    fn tied(
        &self,
        places: &[Vec<Length>],
        ranges: &[Extent],
        order: impl Iterator<Item = (usize, usize)>,
        sign: i64,
    ) -> Vec<Vec<Length>> {
        let mut before: Vec<Length> = Vec::new();
        let mut all = Vec::new();
        for (k, tile) in order {
            let steps = [self.problem.max_step(tile) * sign, LEAST * sign];
            let mut tied: Vec<Length> =
                before.iter().flat_map(|&x| steps.map(|by| x + by)).collect();
            tied.retain(|&x| ranges[k].has(x) && !self.forbidden.contains(x));
            before = tied.iter().chain(&places[k]).copied().collect();
            sort_unique(&mut before);
            all.push(tied);
        }
        all
    }

    /// Finds the least cost of the lines up to each place of each line.
    fn reach_all(
        &self,
        places: Vec<Vec<Length>>,
        cost: impl Fn(usize, Length) -> Cost,
    ) -> Vec<Vec<Candidate>> {
        let mut layers: Vec<Vec<Candidate>> = Vec::with_capacity(places.len());
        for (k, places) in places.into_iter().enumerate() {
            let layer = match layers.last() {
                None => {
                    let max = self.problem.max_first();
                    let best = |x| (x <= max).then(|| (cost(k, x), 0));
                    let places = places.into_iter();
                    places.map(|place| Candidate { place, best: best(place) }).collect()
                }
                Some(before) => self.reach_next(k, &places, before, |x| cost(k, x)),
            };
            layers.push(layer);
        }
        layers
    }

    /// One line further: for each place the best candidate before it, by a sliding minimum.
    fn reach_next(
        &self,
        k: usize,
        places: &[Length],
        before: &[Candidate],
        cost: impl Fn(Length) -> Cost,
    ) -> Vec<Candidate> {
        let max_step = self.problem.max_step(k);
        let mut near: VecDeque<(Cost, usize)> = VecDeque::new();
        let mut entered = 0;
        let mut reach = |place: Length| {
            while let Some(candidate) = before.get(entered)
                && candidate.place + LEAST <= place
            {
                if let Some((cost, _)) = candidate.best {
                    while near.back().is_some_and(|(c, _)| *c > cost) {
                        near.pop_back();
                    }
                    near.push_back((cost, entered));
                }
                entered += 1;
            }
            while near.front().is_some_and(|(_, i)| place - before[*i].place > max_step) {
                near.pop_front();
            }
            let best = near.front().map(|&((joins, off), i)| {
                let (own, own_off) = cost(place);
                ((joins + own, off + own_off), i)
            });
            Candidate { place, best }
        };
        places.iter().map(|&place| reach(place)).collect()
    }

    /// The cheapest placement that ends in the last layer, and its cost.
    fn cheapest(&self, layers: &[Vec<Candidate>]) -> Option<(Cost, Vec<Length>)> {
        if layers.len() < self.problem.fixed.len() {
            return None;
        }
        let min_last = self.problem.min_last(layers.len());
        let last = layers.last()?.iter().enumerate();
        let costs = last.filter(|(_, c)| c.place >= min_last);
        let (cost, mut at) = costs.filter_map(|(i, c)| Some((c.best?.0, i))).min()?;
        let mut lines = Vec::with_capacity(layers.len());
        for layer in layers.iter().rev() {
            lines.push(layer[at].place);
            at = layer[at].best?.1;
        }
        lines.reverse();
        Some((cost, lines))
    }
}

fn sort_unique(places: &mut Vec<Length>) {
    places.sort_unstable();
    places.dedup();
}
