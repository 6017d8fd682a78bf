//! The best placement, by going through the places that a best one can have.
//!
//! What a line does changes only at the edges of what is in its way, and is least at the
//! edges themselves; its distance from the ideal place is linear between ideal places; and
//! every bound is on a line or on the distance of two neighbours. So there is a best
//! placement in which each line is at an ideal place or an edge, or is tied by whole steps
//! and least distances, line by line, to a neighbour that is.

use super::harm::{self, Bars, Harm, Scale};
use super::{Class, HALF, Joins, LEAST, OVERLAP, Obstacle, Run};
use crate::geom::{Extent, Length};
use std::collections::VecDeque;

/// With more lines than this no line is tied to a neighbour, and least harm is looked for
/// among placements of the fewest lines only.
pub(super) const EXACT: usize = 12;

/// What a placement up to a line costs: harm, and nanometres off the ideal places.
type Cost = (Harm, i64);

/// The places of one line, in order; each with the least cost up to it, if it can be
/// reached, and from which place of the line before.
type Layer = Vec<(Length, Option<(Cost, usize)>)>;

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
    fn ideal(&self, n: usize) -> Vec<Length> {
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
        let windows = self.run.windows(n);
        let edges = harm::edges(self.run.obstacles).chain(ideal.iter().copied());
        let places = self.places(edges.collect(), known, &windows);
        let layers =
            self.layers(places, |k, x| (self.scale.harm(x), (x - ideal[k]).abs().nm()));
        let (_, lines) = self.cheapest(&layers)?;
        let harm = lines.iter().map(|&x| self.scale.harm(x)).sum();
        Some(Joins { lines, harm })
    }

    /// Of all placements of any number of lines one with the fewest marks, then the fewest
    /// curves in its overlaps, then the fewest lines, `known` having the fewest of all.
    pub(super) fn least_harm(&self, known: &[Length]) -> Option<Vec<Length>> {
        if known.len() > EXACT {
            return Some(known.to_vec());
        }
        let is_coarse = |o: &&Obstacle| o.class != Class::Prick;
        let coarse: Vec<Obstacle> =
            self.run.obstacles.iter().filter(is_coarse).copied().collect();
        // How many lines there will be is not known yet.
        let run = self.run;
        let mut windows = vec![run.inner(); run.most()];
        let mut to = run.first_reach();
        for (k, window) in windows.iter_mut().enumerate() {
            window.to = window.to.min(to);
            to += run.step(k + 1);
        }
        let places = self.places(harm::edges(&coarse).collect(), known, &windows);
        let layers = self.layers(places, |_, x| {
            (Harm { pricks: 0, struck: 0, ..self.scale.harm(x) }, 0)
        });
        let fewest = known.len()..=layers.len();
        let found = fewest.filter_map(|n| self.cheapest(&layers[..n]));
        found.min_by_key(|(cost, lines)| (*cost, lines.len())).map(|(_, lines)| lines)
    }

    /// Where each line can lie in a best placement within `windows`.
    fn places(
        &self,
        seeds: Vec<Length>,
        known: &[Length],
        windows: &[Extent],
    ) -> Vec<Vec<Length>> {
        let (run, inner) = (self.run, self.run.inner());
        let mut seeds: Vec<Length> = seeds.into_iter().chain(self.bars.ends()).collect();
        seeds.extend([run.first_reach(), inner.from, inner.to]);
        seeds.extend((1..=windows.len()).map(|n| run.last_reach(n)));
        seeds.sort_unstable();
        seeds.dedup();
        seeds.retain(|&x| !self.bars.bar(x));
        let own = |k: usize| -> Vec<Length> {
            if let Some(&line) = run.kept.get(k) {
                return vec![line];
            }
            let window = self.window(windows, k);
            let from = seeds.partition_point(|&x| x < window.from);
            let to = seeds.partition_point(|&x| x <= window.to).max(from);
            let mut own = seeds[from..to].to_vec();
            own.extend(known.get(k));
            own
        };
        let mut layers: Vec<Vec<Length>> = (0..windows.len()).map(own).collect();
        if known.len() <= EXACT {
            let n = layers.len();
            let onward = self.tied(&layers, windows, (0..n).map(|k| (k, k)), 1);
            let back = self.tied(&layers, windows, (0..n).rev().map(|k| (k, k + 1)), -1);
            for (k, layer) in layers.iter_mut().enumerate().skip(run.kept.len()) {
                layer.extend_from_slice(&onward[k]);
                layer.extend_from_slice(&back[n - 1 - k]);
            }
        }
        for layer in &mut layers {
            layer.sort_unstable();
            layer.dedup();
        }
        layers
    }

    /// Where the line `k` can lie at all.
    fn window(&self, windows: &[Extent], k: usize) -> Extent {
        let (window, inner) = (windows[k], self.run.inner());
        Extent { from: window.from.max(inner.from), to: window.to.min(inner.to) }
    }

    /// For each line in turn, with the tile between it and the one before, the places that
    /// are a step or a least distance on `way` from one of the line before, or from one that
    /// is itself tied.
    fn tied(
        &self,
        layers: &[Vec<Length>],
        windows: &[Extent],
        order: impl Iterator<Item = (usize, usize)>,
        way: i64,
    ) -> Vec<Vec<Length>> {
        let mut before: Vec<Length> = Vec::new();
        let mut all = Vec::new();
        for (k, tile) in order {
            let window = self.window(windows, k);
            let steps = [self.run.step(tile) * way, LEAST * way];
            let mut tied: Vec<Length> =
                before.iter().flat_map(|&x| steps.map(|by| x + by)).collect();
            tied.retain(|&x| window.from <= x && x <= window.to && !self.bars.bar(x));
            before = tied.iter().chain(&layers[k]).copied().collect();
            before.sort_unstable();
            before.dedup();
            all.push(tied);
        }
        all
    }

    /// The costs of the placements up to each place of each line.
    fn layers(
        &self,
        places: Vec<Vec<Length>>,
        cost: impl Fn(usize, Length) -> Cost,
    ) -> Vec<Layer> {
        let mut layers: Vec<Layer> = Vec::with_capacity(places.len());
        for (k, places) in places.into_iter().enumerate() {
            let layer = match layers.last() {
                None => places
                    .into_iter()
                    .map(|x| (x, (x <= self.run.first_reach()).then(|| (cost(k, x), 0))))
                    .collect(),
                Some(before) => self.next(k, &places, before, |x| cost(k, x)),
            };
            layers.push(layer);
        }
        layers
    }

    /// One line further: for each place the best place before it, by a sliding minimum.
    fn next(
        &self,
        k: usize,
        places: &[Length],
        before: &Layer,
        cost: impl Fn(Length) -> Cost,
    ) -> Layer {
        let step = self.run.step(k);
        let mut best: VecDeque<(Cost, usize)> = VecDeque::new();
        let mut layer = Vec::with_capacity(places.len());
        let mut entered = 0;
        for &x in places {
            while let Some((place, reached)) = before.get(entered)
                && *place + LEAST <= x
            {
                if let Some((cost, _)) = reached {
                    while best.back().is_some_and(|(c, _)| c > cost) {
                        best.pop_back();
                    }
                    best.push_back((*cost, entered));
                }
                entered += 1;
            }
            while best.front().is_some_and(|(_, p)| x - before[*p].0 > step) {
                best.pop_front();
            }
            let reached = best.front().map(|((harm, off), p)| {
                let (own, away) = cost(x);
                ((*harm + own, off + away), *p)
            });
            layer.push((x, reached));
        }
        layer
    }

    /// The cheapest placement that ends in the last layer, and what it costs.
    fn cheapest(&self, layers: &[Layer]) -> Option<(Cost, Vec<Length>)> {
        if layers.len() < self.run.kept.len() {
            return None;
        }
        let reach = self.run.last_reach(layers.len());
        let ends = layers.last()?.iter().enumerate().filter(|(_, (x, _))| *x >= reach);
        let costs = ends.filter_map(|(i, (_, reached))| Some((reached.as_ref()?.0, i)));
        let (cost, mut at) = costs.min()?;
        let mut lines = Vec::with_capacity(layers.len());
        for layer in layers.iter().rev() {
            let (x, reached) = &layer[at];
            lines.push(*x);
            at = reached.as_ref()?.1;
        }
        lines.reverse();
        Some((cost, lines))
    }
}

fn count(n: usize) -> i64 {
    i64::try_from(n).unwrap_or(i64::MAX)
}
