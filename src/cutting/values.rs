//! Packings by values: what is hard to place is worth more the next time.
//!
//! Strip after strip takes the pieces that are worth most together for its leather. A piece
//! is worth its length at first; when it is cut from a strip of which much is left, it gets
//! worth more, so that the next packing places it sooner (sequential value correction: Belov
//! and Scheithauer, 2007; their powers of lengths are a straight line here, in whole
//! numbers).

use super::greedy::spread;
use super::problem::{Counts, Filled, Packing, Problem};
use std::cmp::Reverse;

/// Lengths of strip that are compared when one is opened.
const MOST_RACKS: usize = 8;
/// Steps for one strip at least and at most; between them so many that there is work for
/// so many packings.
const LEAST_STEPS: u64 = 100;
const MOST_STEPS: u64 = 3_000;
const PACKINGS: u64 = 8;
/// Lots that one strip's pieces are chosen from, one below the other; what room is left then
/// is filled as it comes.
const DEEPEST: usize = 32;

/// The best of as many packings as `work` steps allow; `None` where they allow for none, or
/// where the group is of blanks, on which nothing is put together. Ends early with one that opens no more than `least`.
pub(super) fn by_values(
    problem: &Problem<'_>,
    least: i128,
    mut work: u64,
) -> Option<Packing> {
    let mut values: Vec<i64> =
        (0..problem.lots.len()).map(|lot| problem.size(lot)).collect();
    if (0..problem.racks.len()).any(|rack| problem.is_single(rack)) {
        return None;
    }
    let steps = steps(problem, work);
    let mut best: Option<Packing> = None;
    while let Some(packing) = one(problem, &mut values, steps, &mut work) {
        let score = packing.score(problem);
        if best.as_ref().is_none_or(|b| score < b.score(problem)) {
            best = Some(packing);
        }
        if score.lacking == 0 && score.area <= least {
            break;
        }
    }
    best
}

/// Steps for one strip, by how many strips and lengths of them there are about.
fn steps(problem: &Problem<'_>, work: u64) -> u64 {
    let all = problem.all_lots().into_iter();
    let size = |(lot, n): (usize, usize)| {
        i128::from(problem.size(lot)) * i128::try_from(n).unwrap_or(0)
    };
    let sizes: i128 = all.map(size).sum();
    let racks = problem.racks.len();
    let longest = (0..racks).map(|r| problem.room(r)).max().unwrap_or(1).max(1);
    let strips = u64::try_from(sizes / i128::from(longest) + 1).unwrap_or(u64::MAX);
    let searches = strips.saturating_mul(racks.clamp(1, MOST_RACKS) as u64);
    (work / PACKINGS / searches).clamp(LEAST_STEPS, MOST_STEPS)
}

/// One packing, which changes the values; `None` when the work is used up.
fn one(
    problem: &Problem<'_>,
    values: &mut [i64],
    steps: u64,
    work: &mut u64,
) -> Option<Packing> {
    let mut left: Vec<usize> = problem.lots.iter().map(|l| l.cuts.len()).collect();
    let mut supply: Vec<usize> = problem.racks.iter().map(|r| r.strips.len()).collect();
    // Worth for length in millionths, about.
    let grain: Vec<i64> =
        (0..left.len()).map(|lot| (problem.size(lot) / 1_000_000).max(1)).collect();
    let mut packing = Packing::default();
    let mut active: Vec<usize> = (0..left.len()).collect();
    while !active.is_empty() {
        // Few values changed since the last time, which a stable sort is quick with.
        active.sort_by_key(|&lot| (Reverse(values[lot] / grain[lot]), lot));
        let open: Vec<usize> = (0..supply.len()).filter(|&r| supply[r] > 0).collect();
        let mut best: Option<(i128, i128, usize, Counts)> = None;
        let looked_at = u64::try_from(active.len() + open.len()).unwrap_or(u64::MAX);
        *work = work.checked_sub(looked_at)?;
        for rack in spread(&open, MOST_RACKS) {
            let mut knapsack = Knapsack {
                problem,
                rack,
                active: &active,
                left: &left,
                values,
                steps: steps.min(*work),
                now: Vec::new(),
                most: 0,
                best: Vec::new(),
            };
            knapsack.descend(0, problem.room(rack), 0);
            *work = work.checked_sub(steps.min(*work) - knapsack.steps + 1)?;
            let (area, worth) = (problem.racks[rack].area(), i128::from(knapsack.most));
            let better = best.as_ref().is_none_or(|b| area * b.1 < b.0 * worth);
            if better && worth > 0 {
                best = Some((area, worth, rack, knapsack.best));
            }
        }
        let Some((_, _, rack, pattern)) = best else { break };
        // Many alike are cut in one go, but not all: their values change with every go.
        let times = pattern.iter().map(|(lot, n)| left[*lot] / n).min().unwrap_or(1);
        let times = times.div_ceil(2).min(supply[rack]);
        let lots: Vec<usize> =
            pattern.iter().flat_map(|&(lot, n)| std::iter::repeat_n(lot, n)).collect();
        revalue(problem, values, rack, &pattern, times, &left);
        packing.strips.extend(std::iter::repeat_n(Filled { rack, lots }, times));
        supply[rack] -= times;
        for (lot, n) in pattern {
            left[lot] -= n * times;
        }
        active.retain(|&lot| left[lot] > 0);
    }
    for lot in active {
        packing.lacking.extend(std::iter::repeat_n(lot, left[lot]));
    }
    Some(packing)
}

/// Moves the values of what was cut toward what it took of the strip, waste and all.
fn revalue(
    problem: &Problem<'_>,
    values: &mut [i64],
    rack: usize,
    pattern: &Counts,
    times: usize,
    left: &[usize],
) {
    let wide = |n: usize| i128::try_from(n).unwrap_or(i128::MAX);
    let room = i128::from(problem.room(rack));
    let used = |(lot, n): &(usize, usize)| i128::from(problem.size(*lot)) * wide(*n);
    let used: i128 = pattern.iter().map(used).sum();
    for &(lot, n) in pattern {
        let size = i128::from(problem.size(lot));
        // Longer pieces are harder to place: up to a fiftieth more for one as long as the
        // strip.
        let target = size * room / used;
        let target = target + target * size / (50 * room);
        let all = 2 * wide(problem.lots[lot].cuts.len() + left[lot]);
        let part = wide(n * times);
        let value = (i128::from(values[lot]) * (all - part) + target * part) / all;
        values[lot] = i64::try_from(value).unwrap_or(i64::MAX);
    }
}

/// The search for the pieces that are worth most on one strip.
struct Knapsack<'a> {
    problem: &'a Problem<'a>,
    rack: usize,
    /// Lots by falling worth for their length.
    active: &'a [usize],
    left: &'a [usize],
    values: &'a [i64],
    steps: u64,
    now: Counts,
    most: i64,
    best: Counts,
}

impl Knapsack<'_> {
    fn descend(&mut self, from: usize, room: i64, worth: i64) {
        if worth > self.most {
            self.most = worth;
            self.best = self.now.clone();
        }
        if self.now.len() == DEEPEST {
            self.finish(from, room, worth);
            return;
        }
        for at in from..self.active.len() {
            if self.steps == 0 {
                return;
            }
            self.steps -= 1;
            let lot = self.active[at];
            let (size, value) = (self.problem.size(lot), self.values[lot]);
            // What comes after is worth no more for its length.
            let lacking = i128::from(self.most - worth) * i128::from(size);
            if i128::from(room) * i128::from(value) <= lacking {
                return;
            }
            let fit = usize::try_from(room / size).unwrap_or(0).min(self.left[lot]);
            if fit == 0 || !self.problem.fits(lot, self.rack) {
                continue;
            }
            for count in (1..=fit).rev() {
                let (room, worth) = less(room, worth, size, value, count);
                self.now.push((lot, count));
                self.descend(at + 1, room, worth);
                self.now.pop();
            }
        }
    }

    /// Fills what is left as it comes.
    fn finish(&mut self, from: usize, mut room: i64, mut worth: i64) {
        let chosen = self.now.len();
        for &lot in self.active.iter().skip(from) {
            self.steps = self.steps.saturating_sub(1);
            let (size, value) = (self.problem.size(lot), self.values[lot]);
            let fit = usize::try_from(room / size).unwrap_or(0).min(self.left[lot]);
            if fit > 0 && self.problem.fits(lot, self.rack) {
                (room, worth) = less(room, worth, size, value, fit);
                self.now.push((lot, fit));
            }
        }
        if worth > self.most {
            self.most = worth;
            self.best = self.now.clone();
        }
        self.now.truncate(chosen);
    }
}

/// The room that is left by `count` more pieces, and what all are worth then.
fn less(room: i64, worth: i64, size: i64, value: i64, count: usize) -> (i64, i64) {
    let n = i64::try_from(count).unwrap_or(0);
    (room - size * n, worth.saturating_add(value.saturating_mul(n)))
}
