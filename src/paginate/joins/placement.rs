//! The best placement, by going through the places that a best one can have.
//!
//! What a line does changes only at the edges of what is in its way, and is least at the
//! edges themselves; its distance from the ideal place is linear between ideal places; and
//! every bound is on a line or on the distance of two neighbours. So there is a best
//! placement in which each line is at an ideal place or an edge, or whole steps and least
//! distances away from one, all to the same side.

use super::harm::{self, Bars, Harm, Scale};
use super::{HALF, Joins, LEAST, OVERLAP, Run};
use crate::geom::Length;
use std::collections::VecDeque;

/// With more lines than this only edges, ideal places and a placement that is known to do
/// are gone through.
pub(super) const EXACT: usize = 12;

/// What a placement costs, and from which place before it was reached.
type Cost = Option<((Harm, i64), usize)>;

pub(super) struct Placing<'a> {
    run: &'a Run<'a>,
    bars: Bars,
    scale: Scale,
}

impl<'a> Placing<'a> {
    pub(super) fn new(run: &'a Run<'_>, bars: Bars) -> Self {
        Self { run, bars, scale: Scale::new(run.obstacles) }
    }

    /// The match lines of `n + 1` tiles of equal length, those that are kept aside.
    pub(super) fn ideal(&self, n: usize) -> Vec<Length> {
        let kept = self.run.kept;
        let rest = count(n.saturating_sub(kept.len()));
        let from = kept.last().map_or(self.run.whole.from, |&line| line - HALF);
        let total = self.run.whole.to - from + OVERLAP * rest;
        let equal =
            (1..=rest).map(|i| from + total.times(i, rest + 1) - OVERLAP * i + HALF);
        kept.iter().copied().take(n).chain(equal).collect()
    }

    /// Of all placements of as many lines as `known` has, the one with the least harm that
    /// is, in sum, nearest to equal tiles.
    pub(super) fn most_even(&self, known: &[Length]) -> Option<Joins> {
        let n = known.len();
        let ideal = self.ideal(n);
        let edges = harm::edges(self.run.obstacles).chain(ideal.iter().copied());
        let places = self.places(edges.collect(), known, n);
        let layers = self.layers(&places, n, |layer, x| {
            (self.scale.harm(x), (x - ideal[layer]).abs().nm())
        });
        let (_, lines) = self.cheapest(&places, &layers)?;
        let harm = lines.iter().map(|&x| self.scale.harm(x)).sum();
        Some(Joins { lines, harm })
    }

    /// Of all placements of any number of lines one with the fewest marks, then the fewest
    /// curves in its overlaps, then the fewest lines.
    pub(super) fn least_harm(&self, known: &[Length]) -> Option<Vec<Length>> {
        let coarse: Vec<_> = self
            .run
            .obstacles
            .iter()
            .copied()
            .filter(|o| o.class != super::Class::Prick)
            .collect();
        let most = if known.len() > EXACT { known.len() + 2 } else { self.run.most() };
        let places = self.places(harm::edges(&coarse).collect(), known, most);
        let layers = self.layers(&places, most, |_, x| {
            let harm = self.scale.harm(x);
            (Harm { pricks: 0, struck: 0, ..harm }, 0)
        });
        let fewest = known.len()..=most;
        let found = fewest.filter_map(|n| self.cheapest(&places, &layers[..n]));
        found.min_by_key(|(cost, lines)| (*cost, lines.len())).map(|(_, lines)| lines)
    }

    /// Where lines can lie in a best placement of up to `n`.
    fn places(&self, seeds: Vec<Length>, known: &[Length], n: usize) -> Vec<Length> {
        let run = self.run;
        let inner = run.inner();
        let mut seeds: Vec<Length> = seeds.into_iter().chain(self.bars.ends()).collect();
        seeds.extend([run.first_reach(), run.last_reach(), inner.from, inner.to]);
        seeds.extend_from_slice(run.kept);
        seeds.sort_unstable();
        seeds.dedup();
        let far = if n > EXACT { 0 } else { count(n) };
        let mut places = known.to_vec();
        for steps in 0..=far {
            for least in 0..=(far - steps) {
                let away = run.step() * steps + LEAST * least;
                places.extend(seeds.iter().flat_map(|&x| [x - away, x + away]));
            }
        }
        places.retain(|&x| inner.from <= x && x <= inner.to && !self.bars.bar(x));
        places.sort_unstable();
        places.dedup();
        places
    }

    /// For each line in turn what the placements up to it cost at least, by place.
    fn layers(
        &self,
        places: &[Length],
        n: usize,
        cost: impl Fn(usize, Length) -> (Harm, i64),
    ) -> Vec<Vec<Cost>> {
        let mut layers: Vec<Vec<Cost>> = Vec::with_capacity(n);
        for layer in 0..n {
            let given = self.run.kept.get(layer);
            let allowed = |x: &Length| given.is_none_or(|k| k == x);
            let costs = match layers.last() {
                None => places
                    .iter()
                    .map(|&x| (x <= self.run.first_reach()).then(|| (cost(layer, x), 0)))
                    .collect(),
                Some(before) => self.next(places, before, |x| cost(layer, x)),
            };
            let costs = costs.into_iter().zip(places);
            layers.push(costs.map(|(c, x)| c.filter(|_| allowed(x))).collect());
        }
        layers
    }

    /// One line further: for each place the best place before it, by a sliding minimum.
    fn next(
        &self,
        places: &[Length],
        before: &[Cost],
        cost: impl Fn(Length) -> (Harm, i64),
    ) -> Vec<Cost> {
        let step = self.run.step();
        let mut best: VecDeque<((Harm, i64), usize)> = VecDeque::new();
        let mut costs = Vec::with_capacity(places.len());
        let mut entered = 0;
        for &x in places {
            while entered < places.len() && places[entered] + LEAST <= x {
                if let Some((cost, _)) = before[entered] {
                    while best.back().is_some_and(|(c, _)| *c > cost) {
                        best.pop_back();
                    }
                    best.push_back((cost, entered));
                }
                entered += 1;
            }
            while best.front().is_some_and(|(_, p)| x - places[*p] > step) {
                best.pop_front();
            }
            costs.push(best.front().map(|((harm, off), p)| {
                let (own, away) = cost(x);
                ((*harm + own, off + away), *p)
            }));
        }
        costs
    }

    /// The cheapest placement that ends in the last layer, and what it costs.
    fn cheapest(
        &self,
        places: &[Length],
        layers: &[Vec<Cost>],
    ) -> Option<((Harm, i64), Vec<Length>)> {
        if layers.len() < self.run.kept.len() {
            return None;
        }
        let reach = self.run.last_reach();
        let ends = layers.last()?.iter().enumerate();
        let ends = ends.filter(|(i, _)| places[*i] >= reach);
        let (cost, mut at) = ends.filter_map(|(i, c)| c.map(|(c, _)| (c, i))).min()?;
        let mut lines = Vec::with_capacity(layers.len());
        for costs in layers.iter().rev() {
            lines.push(places[at]);
            at = costs[at]?.1;
        }
        lines.reverse();
        Some((cost, lines))
    }
}

fn count(n: usize) -> i64 {
    i64::try_from(n).unwrap_or(i64::MAX)
}
