//! How far match lines can go: exact sets of places, as stretches with their ends.

use super::harm::Bars;
use super::{LEAST, Run};
use crate::geom::{Extent, Length};

/// The places that the `n`th line can have, for each `n` from 1 on.
struct Reach<'a> {
    run: &'a Run<'a>,
    free: Vec<Extent>,
    layers: Vec<Vec<Extent>>,
}

impl<'a> Reach<'a> {
    fn new(run: &'a Run<'_>, bars: &Bars) -> Self {
        Self { run, free: bars.free(run.inner()), layers: Vec::new() }
    }

    /// One line further; whether there is a place for it.
    fn go_on(&mut self) -> bool {
        let run = self.run;
        let n = self.layers.len();
        let asked: Vec<Extent> = match self.layers.last() {
            None => vec![Extent { from: run.inner().from, to: run.first_reach() }],
            Some(_) if run.step(n) < LEAST => Vec::new(),
            Some(before) => joined(
                before
                    .iter()
                    .map(|e| Extent { from: e.from + LEAST, to: e.to + run.step(n) }),
            ),
        };
        let mut layer = common(&asked, &self.free);
        if let Some(&line) = run.kept.get(n) {
            let place = Extent { from: line, to: line };
            layer =
                if layer.iter().any(|e| e.holds(place)) { vec![place] } else { vec![] };
        }
        self.layers.push(layer);
        self.layers.last().is_some_and(|l| !l.is_empty())
    }

    /// The furthest place from which the rest fits on one tile.
    fn end(&self) -> Option<Length> {
        let last = self.layers.last()?.last()?;
        let enough = self.layers.len() >= self.run.kept.len();
        let reach = self.run.last_reach(self.layers.len());
        (enough && last.to >= reach).then_some(last.to)
    }
}

/// A placement with the fewest lines that keeps off the bars; the lines as far on as they
/// can be. `None` when there is none.
pub(super) fn fewest(run: &Run<'_>, bars: &Bars) -> Option<Vec<Length>> {
    let mut reach = Reach::new(run, bars);
    for _ in 0..run.most().max(run.kept.len()) {
        if !reach.go_on() {
            return None;
        }
        if let Some(end) = reach.end() {
            return Some(back(&reach, end));
        }
    }
    None
}

/// The lines that lead to `end`.
fn back(reach: &Reach<'_>, end: Length) -> Vec<Length> {
    let mut lines = vec![end];
    let mut after = end;
    for (k, layer) in reach.layers.iter().enumerate().rev().skip(1) {
        let near = Extent { from: after - reach.run.step(k + 1), to: after - LEAST };
        let within = common(layer, &[near]);
        after = within.last().map_or(near.to, |e| e.to);
        lines.push(after);
    }
    lines.reverse();
    lines
}

/// Stretches in order of their beginnings, merged where they meet.
fn joined(all: impl Iterator<Item = Extent>) -> Vec<Extent> {
    let mut merged: Vec<Extent> = Vec::new();
    for e in all {
        match merged.last_mut() {
            Some(last) if e.from <= last.to => last.to = last.to.max(e.to),
            _ => merged.push(e),
        }
    }
    merged
}

/// What two lists of stretches in order have in common, single places too.
fn common(a: &[Extent], b: &[Extent]) -> Vec<Extent> {
    let (mut i, mut j) = (0, 0);
    let mut all = Vec::new();
    while let (Some(one), Some(other)) = (a.get(i), b.get(j)) {
        let both = Extent { from: one.from.max(other.from), to: one.to.min(other.to) };
        if both.from <= both.to {
            all.push(both);
        }
        if one.to < other.to {
            i += 1;
        } else {
            j += 1;
        }
    }
    all
}
