//! The fewest match lines: exact sets of the places that each line can have.

use super::cost::{ForbiddenRanges, merge_ranges};
use super::{JoinProblem, LEAST};
use crate::geom::{Extent, Length};

/// Finds a placement with the fewest lines outside the forbidden ranges, each line as far on
/// as it can be. `None` when there is no placement.
pub(super) fn fewest_lines(
    problem: &JoinProblem<'_>,
    forbidden: &ForbiddenRanges,
) -> Option<Vec<Length>> {
    let allowed = forbidden.allowed(problem.inner());
    // Where each line can lie.
    let mut reachable: Vec<Vec<Extent>> = Vec::new();
    for n in 0..problem.max_joins().max(problem.fixed.len()) {
        let mut places = match reachable.last() {
            None => {
                let from = problem.inner().from;
                vec![Extent { from, to: problem.max_first() }]
            }
            Some(_) if problem.max_step(n) < LEAST => return None,
            Some(before) => {
                let step = problem.max_step(n);
                let next = |e: &Extent| Extent { from: e.from + LEAST, to: e.to + step };
                merge_ranges(before.iter().map(next), |end, start| start <= end)
            }
        };
        places = intersect(&places, &allowed);
        if let Some(&line) = problem.fixed.get(n) {
            places = intersect(&places, &[Extent::at(line)]);
        }
        let furthest = places.last()?.to;
        reachable.push(places);
        if n + 1 >= problem.fixed.len() && furthest >= problem.min_last(n + 1) {
            return Some(trace_back(problem, &reachable, furthest));
        }
    }
    None
}

/// The lines that lead to a last line at `end`.
fn trace_back(
    problem: &JoinProblem<'_>,
    reachable: &[Vec<Extent>],
    end: Length,
) -> Vec<Length> {
    let mut lines = vec![end];
    let mut after = end;
    for (k, places) in reachable.iter().enumerate().rev().skip(1) {
        let near = Extent { from: after - problem.max_step(k + 1), to: after - LEAST };
        after = intersect(places, &[near]).last().map_or(near.to, |e| e.to);
        lines.push(after);
    }
    lines.reverse();
    lines
}

/// What two lists of ranges in order have in common, single places too.
fn intersect(a: &[Extent], b: &[Extent]) -> Vec<Extent> {
    let (mut i, mut j) = (0, 0);
    let mut all = Vec::new();
    while let (Some(&one), Some(&other)) = (a.get(i), b.get(j)) {
        let both = one.intersection(other);
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
