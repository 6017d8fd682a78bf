//! Where the joins go.
//!
//! A tile shows its stretch from half an overlap before its left match line to half an
//! overlap after its right one, and is at most one window long. Match lines keep clear of
//! marks; of all placements with the fewest tiles the one is taken whose match lines are,
//! in sum, nearest to those of equal tiles.

use crate::geom::{Extent, Length};
use std::collections::VecDeque;

/// What must stay clear on both sides of the overlap.
const CLEAR: Length = Length::from_mm(2);
/// How much longer than the longest mark an overlap is that cannot avoid marks.
const SPARE: Length = Length::from_mm(4);
/// Least advance from tile to tile for which a paper is of use.
const LEAST_STEP: Length = Length::from_mm(20);
/// More tiles than this are not solved for.
const MOST_TILES: i64 = 1_000;

/// The match lines of one piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Joins {
    /// Along x, in order.
    pub(super) lines: Vec<Length>,
    /// How much two neighbours both show.
    pub(super) overlap: Length,
    /// Whether every match line is free of marks.
    pub(super) clear: bool,
}

impl Joins {
    /// The stretches of `whole` that the tiles show.
    pub(super) fn stretches(&self, whole: Extent) -> Vec<Extent> {
        let half = self.overlap / 2;
        let mut from = whole.from;
        let mut all = Vec::with_capacity(self.lines.len() + 1);
        for &line in &self.lines {
            all.push(Extent { from, to: line + half });
            from = line - half;
        }
        all.push(Extent { from, to: whole.to });
        all
    }
}

/// Places the joins of `whole` in windows of `window`, clear of `marks` and, if that can
/// be, of the curved `zones` too. `None` when the window is too short for any join.
pub(super) fn solve(
    whole: Extent,
    window: Length,
    overlap: Length,
    marks: &[Extent],
    zones: &[Extent],
) -> Option<Joins> {
    if whole.length() <= window {
        return Some(Joins { lines: Vec::new(), overlap, clear: true });
    }
    if window - overlap < LEAST_STEP {
        return None;
    }
    let both: Vec<Extent> = marks.iter().chain(zones).copied().collect();
    for avoid in [both.as_slice(), marks] {
        let problem = Problem { whole, window, overlap, barred: barred(avoid, overlap) };
        if let Some(lines) = problem.fewest().and_then(|n| problem.most_even(n)) {
            return Some(Joins { lines, overlap, clear: true });
        }
    }
    let longest = marks.iter().map(|m| m.length()).max().unwrap_or(Length::ZERO);
    let overlap = overlap.max(longest + SPARE);
    if window - overlap < LEAST_STEP {
        return None;
    }
    let problem = Problem { whole, window, overlap, barred: Vec::new() };
    let lines = problem.ideal(problem.fewest()?);
    Some(Joins { lines, overlap, clear: false })
}

/// The open stretches in which no match line may lie, merged and in order.
fn barred(avoid: &[Extent], overlap: Length) -> Vec<Extent> {
    let mut all: Vec<Extent> =
        avoid.iter().map(|e| e.grown(overlap / 2 + CLEAR)).collect();
    all.sort_unstable();
    let mut merged: Vec<Extent> = Vec::new();
    for e in all {
        match merged.last_mut() {
            Some(last) if e.from < last.to => last.to = last.to.max(e.to),
            _ => merged.push(e),
        }
    }
    merged
}

struct Problem {
    whole: Extent,
    window: Length,
    overlap: Length,
    barred: Vec<Extent>,
}

impl Problem {
    fn step(&self) -> Length {
        self.window - self.overlap
    }

    /// The furthest place of the first match line.
    fn first_reach(&self) -> Length {
        self.whole.from + self.window - self.overlap / 2
    }

    /// The nearest place of the last match line.
    fn last_reach(&self) -> Length {
        self.whole.to - self.window + self.overlap / 2
    }

    fn in_bar(&self, x: Length) -> Option<Extent> {
        let i = self.barred.partition_point(|e| e.to <= x);
        self.barred.get(i).copied().filter(|e| e.from < x)
    }

    /// How many joins are needed at least: always going as far as may be is best, as
    /// whatever can be reached from a nearer line can be reached from a further one.
    fn fewest(&self) -> Option<usize> {
        let mut last = self.whole.from;
        let mut reach = self.first_reach();
        for n in 1..=MOST_TILES {
            let line = self.in_bar(reach).map_or(reach, |bar| bar.from);
            if line <= last {
                return None;
            }
            if line >= self.last_reach() {
                return usize::try_from(n).ok();
            }
            last = line;
            reach = line + self.step();
        }
        None
    }

    /// The match lines of `n + 1` tiles of equal length.
    fn ideal(&self, n: usize) -> Vec<Length> {
        let n = count(n);
        let total = self.whole.length() + self.overlap * n;
        let half = self.overlap / 2;
        (1..=n)
            .map(|i| self.whole.from + total.times(i, n + 1) - self.overlap * i + half)
            .collect()
    }

    /// Of all placements of `n` lines the one nearest to the ideal, in sum.
    ///
    /// The sum is linear between ideal places, and every bound is on a line or on the
    /// distance of two neighbours; so a best placement exists in which each line is at an
    /// ideal place or at an end of a barred stretch, or full steps from one.
    fn most_even(&self, n: usize) -> Option<Vec<Length>> {
        let ideal = self.ideal(n);
        let places = self.places(&ideal);
        let mut layers: Vec<Vec<Option<(i64, usize)>>> = Vec::with_capacity(n);
        for (layer, &wish) in ideal.iter().enumerate() {
            let costs = match layers.last() {
                None => places
                    .iter()
                    .map(|&x| (x <= self.first_reach()).then_some((off(x, wish), 0)))
                    .collect(),
                Some(before) => self.next_layer(&places, before, wish),
            };
            debug_assert_eq!(layers.len(), layer, "one layer a join");
            layers.push(costs);
        }
        let last = layers.last()?;
        let reach = self.last_reach();
        let (_, mut at) = last
            .iter()
            .enumerate()
            .filter(|(i, _)| places[*i] >= reach)
            .filter_map(|(i, cost)| cost.map(|(c, _)| (c, i)))
            .min()?;
        let mut lines = Vec::with_capacity(n);
        for costs in layers.iter().rev() {
            lines.push(places[at]);
            at = costs[at]?.1;
        }
        lines.reverse();
        Some(lines)
    }

    /// One line further: for each place the best place before it within a step, by a
    /// sliding minimum.
    fn next_layer(
        &self,
        places: &[Length],
        before: &[Option<(i64, usize)>],
        wish: Length,
    ) -> Vec<Option<(i64, usize)>> {
        let mut best: VecDeque<(i64, usize)> = VecDeque::new();
        let mut costs = Vec::with_capacity(places.len());
        for (i, &x) in places.iter().enumerate() {
            if let Some((cost, _)) = before[i] {
                while best.back().is_some_and(|(c, _)| *c > cost) {
                    best.pop_back();
                }
                best.push_back((cost, i));
            }
            while best.front().is_some_and(|(_, p)| x - places[*p] > self.step()) {
                best.pop_front();
            }
            costs.push(best.front().map(|(c, p)| (c + off(x, wish), *p)));
        }
        costs
    }

    fn places(&self, ideal: &[Length]) -> Vec<Length> {
        let mut seeds = ideal.to_vec();
        seeds.extend([self.first_reach(), self.last_reach()]);
        seeds.extend(self.barred.iter().flat_map(|e| [e.from, e.to]));
        let n = count(ideal.len());
        let mut places: Vec<Length> = seeds
            .iter()
            .flat_map(|&seed| (-n..=n).map(move |k| seed + self.step() * k))
            .filter(|&x| self.whole.from < x && x < self.whole.to)
            .filter(|&x| self.in_bar(x).is_none())
            .collect();
        places.sort_unstable();
        places.dedup();
        places
    }
}

fn off(x: Length, wish: Length) -> i64 {
    (x - wish).abs().nm()
}

fn count(n: usize) -> i64 {
    i64::try_from(n).unwrap_or(i64::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(n: i64) -> Length {
        Length::from_mm(n)
    }

    fn extent(a: i64, b: i64) -> Extent {
        Extent::new(mm(a), mm(b))
    }

    /// Fewest lines and least sum of offsets over every whole millimetre, by recursion.
    fn brute(
        problem: &Problem,
        n: usize,
        wish: &[Length],
        done: &[Length],
    ) -> Option<i64> {
        let from = done.last().copied();
        if done.len() == n {
            return (from? >= problem.last_reach())
                .then(|| done.iter().zip(wish).map(|(x, w)| off(*x, *w)).sum());
        }
        let (low, high) = match from {
            None => (problem.whole.from + mm(1), problem.first_reach()),
            Some(x) => (x, x + problem.step()),
        };
        let mut best = None;
        let mut x = low;
        while x <= high && x < problem.whole.to {
            if problem.in_bar(x).is_none() {
                let mut more = done.to_vec();
                more.push(x);
                let found = brute(problem, n, wish, &more);
                best = match (best, found) {
                    (Some(old), Some(new)) => Some(std::cmp::min(old, new)),
                    (old, new) => old.or(new),
                };
            }
            x += mm(1);
        }
        best
    }

    #[test]
    fn small_cases_agree_with_brute_force() {
        // Numbers that keep every best place on a whole millimetre.
        let cases: [&[(i64, i64)]; 6] = [
            &[],
            &[(40, 44)],
            &[(30, 60)],
            &[(28, 32), (60, 64), (90, 90)],
            &[(20, 40), (62, 70), (80, 81)],
            &[(10, 12), (34, 35), (57, 58), (79, 80)],
        ];
        for marks in cases {
            for length in [86, 98, 113, 122] {
                let avoid: Vec<Extent> =
                    marks.iter().map(|(a, b)| extent(*a, *b)).collect();
                let p = Problem {
                    whole: extent(0, length),
                    window: mm(50),
                    overlap: mm(4),
                    barred: barred(&avoid, mm(4)),
                };
                let by_force =
                    (1..=3).find_map(|n| Some((n, brute(&p, n, &p.ideal(n), &[])?)));
                let Some(n) = p.fewest().filter(|n| *n <= 3) else {
                    assert_eq!(by_force, None, "{marks:?} {length}");
                    continue;
                };
                let lines = p.most_even(n).expect("as many as are needed");
                let wish = p.ideal(n);
                let cost: i64 = lines.iter().zip(&wish).map(|(x, w)| off(*x, *w)).sum();
                let (fewest, least) = by_force.expect("as the solver found one");
                assert_eq!(n, fewest, "{marks:?} {length}");
                // Ideal places may lie between the millimetres that are tried by force.
                assert!(cost <= least, "{marks:?} {length}: {cost} > {least}");
                assert!(cost + 1_500_000 > least, "{marks:?} {length}");
            }
        }
    }

    #[test]
    fn marks_too_dense_to_avoid_are_whole_on_some_tile() {
        let marks: Vec<Extent> = (0..40).map(|i| extent(i * 10, i * 10 + 6)).collect();
        let whole = extent(-3, 409);
        let joins = solve(whole, mm(150), mm(16), &marks, &[]).expect("fits");
        assert!(!joins.clear);
        let tiles = joins.stretches(whole);
        for m in marks {
            assert!(tiles.iter().any(|t| t.holds(m)), "{m:?}");
        }
        assert!(tiles.iter().all(|t| t.length() <= mm(150)));
    }

    #[test]
    fn what_fits_needs_no_join() {
        assert!(solve(extent(0, 50), mm(50), mm(16), &[], &[]).unwrap().lines.is_empty());
        assert_eq!(solve(extent(0, 60), mm(30), mm(16), &[], &[]), None);
    }
}
