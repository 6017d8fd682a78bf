//! Good packings of many pieces, to begin with.
//!
//! Two ways, each deterministic: best fit by falling length (Johnson, 1974), and filling one
//! strip after another as full as can be (minimum bin slack: Gupta and Ho, 1999), where of
//! several lengths of strip that is opened whose leather is used best.

use super::problem::{Counts, Filled, Packing, Problem};

/// Which strip is opened when none that is open has room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Open {
    /// The smallest that the piece fits on.
    Smallest,
    /// The largest.
    Largest,
}

/// Every piece, the longest first, on the open strip that it fills best.
pub(super) fn best_fit(problem: &Problem<'_>, open: Open) -> Packing {
    let mut supply = problem.all_racks();
    let mut packing = Packing::default();
    // Strips that still have room, with what is left.
    let mut roomy: Vec<(usize, i64)> = Vec::new();
    let least = (0..problem.lots.len()).map(|l| problem.size(l)).min().unwrap_or(0);
    for (lot, count) in problem.all_lots() {
        let size = problem.size(lot);
        let fitting: Vec<bool> =
            (0..problem.racks.len()).map(|r| problem.fits(lot, r)).collect();
        for piece in 0..count {
            let fits = |at: &(usize, &(usize, i64))| {
                let (strip, left) = *at.1;
                left >= size && fitting[packing.strips[strip].rack]
            };
            let fullest = roomy.iter().enumerate().filter(fits).min_by_key(|at| at.1.1);
            if let Some((at, &(strip, left))) = fullest {
                packing.strips[strip].lots.push(lot);
                roomy[at].1 = left - size;
                if left - size < least {
                    roomy.swap_remove(at);
                }
                continue;
            }
            let there = supply.iter().filter(|(r, n)| *n > 0 && fitting[*r]);
            let area = |s: &&(usize, usize)| problem.racks[s.0].area();
            let opened = match open {
                Open::Smallest => there.min_by_key(area),
                Open::Largest => there.max_by_key(area),
            };
            let Some(&(rack, _)) = opened else {
                packing.lacking.extend(std::iter::repeat_n(lot, count - piece));
                break;
            };
            supply[rack].1 -= 1;
            packing.strips.push(Filled { rack, lots: vec![lot] });
            let left = problem.room(rack) - size;
            if !problem.is_single(rack) && left >= least {
                roomy.push((packing.strips.len() - 1, left));
            }
        }
    }
    packing
}

/// Lengths of strip that are compared when one is opened.
const MOST_RACKS: usize = 12;
/// Steps for all strips together; for one filling at least and at most.
const WORK: usize = 8_000_000;
const LEAST_STEPS: usize = 20;
const MOST_STEPS: usize = 2_000;
/// Lots among which a filling tries, one below the other.
const DEEPEST: usize = 24;

/// The longest piece left, with what fills its strip best, again and again.
pub(super) fn fill(problem: &Problem<'_>) -> Packing {
    let mut left: Vec<usize> = problem.lots.iter().map(|l| l.cuts.len()).collect();
    let mut supply: Vec<usize> = problem.racks.iter().map(|r| r.strips.len()).collect();
    let mut packing = Packing::default();
    let longest = (0..supply.len()).map(|r| problem.room(r)).max().unwrap_or(1).max(1);
    let mut work = WORK;
    let mut active: Vec<usize> = (0..left.len()).collect();
    while let Some(&first) = active.first() {
        let racks: Vec<usize> = (0..supply.len())
            .filter(|&r| supply[r] > 0 && problem.fits(first, r))
            .collect();
        // What work there is, for as many strips as there may be still.
        let sizes = active.iter().map(|&l| i128::from(problem.size(l)) * wide(left[l]));
        let strips = sizes.sum::<i128>() / i128::from(longest) + 1;
        let steps = wide(work) / strips / wide(racks.len().clamp(1, MOST_RACKS));
        let steps = usize::try_from(steps).unwrap_or(MOST_STEPS);
        let steps = steps.clamp(LEAST_STEPS, MOST_STEPS);
        let mut best: Option<(i128, i128, usize, Counts)> = None;
        for rack in spread(&racks, MOST_RACKS) {
            let filling = Filling::of(problem, rack, &active, &left, steps);
            work = work.saturating_sub(steps - filling.steps);
            let (area, used) = (problem.racks[rack].area(), i128::from(filling.most));
            let better = best.as_ref().is_none_or(|b| area * b.1 < b.0 * used);
            if better {
                best = Some((area, used, rack, filling.best));
            }
        }
        let Some((_, _, rack, pattern)) = best else {
            packing.lacking.extend(std::iter::repeat_n(first, left[first]));
            left[first] = 0;
            active.remove(0);
            continue;
        };
        // What was best stays best as long as there is enough of it.
        let times = pattern.iter().map(|(lot, n)| left[*lot] / n);
        let times = times.min().unwrap_or(1).min(supply[rack]);
        let lots: Vec<usize> =
            pattern.iter().flat_map(|&(lot, n)| std::iter::repeat_n(lot, n)).collect();
        for _ in 0..times {
            packing.strips.push(Filled { rack, lots: lots.clone() });
        }
        supply[rack] -= times;
        for (lot, n) in pattern {
            left[lot] -= n * times;
        }
        active.retain(|&lot| left[lot] > 0);
    }
    packing
}

fn wide(n: usize) -> i128 {
    i128::try_from(n).unwrap_or(i128::MAX)
}

/// At most `most` of `all`, evenly spread, the first and the last among them.
pub(super) fn spread(all: &[usize], most: usize) -> Vec<usize> {
    if all.len() <= most {
        return all.to_vec();
    }
    (0..most).map(|i| all[i * (all.len() - 1) / (most - 1)]).collect()
}

/// The search for the fullest strip, in a bounded number of steps.
struct Filling<'a> {
    problem: &'a Problem<'a>,
    rack: usize,
    active: &'a [usize],
    left: &'a [usize],
    steps: usize,
    now: Counts,
    sum: i64,
    most: i64,
    best: Counts,
}

impl<'a> Filling<'a> {
    /// One of the first lot, then what fills the rest best.
    fn of(
        problem: &'a Problem<'a>,
        rack: usize,
        active: &'a [usize],
        left: &'a [usize],
        steps: usize,
    ) -> Self {
        let first = active[0];
        let size = problem.size(first);
        let (now, best) = (vec![(first, 1)], vec![(first, 1)]);
        let mut filling =
            Self { problem, rack, active, left, steps, now, sum: size, most: size, best };
        if !problem.is_single(rack) {
            filling.descend(0, problem.room(rack) - size, 0);
            filling.now.clear();
        }
        filling
    }

    fn descend(&mut self, from: usize, room: i64, depth: usize) {
        self.keep();
        if depth == DEEPEST {
            self.finish(from, room);
            return;
        }
        let at = self.longest_within(room).max(from);
        for i in at..self.active.len() {
            let fit = self.fit(i, room);
            let size = self.problem.size(self.active[i]);
            for count in (1..=fit).rev() {
                let length = size * i64::try_from(count).unwrap_or(0);
                self.take(i, count);
                self.sum += length;
                self.descend(i + 1, room - length, depth + 1);
                self.sum -= length;
                self.untake(i, count);
                if self.is_done() {
                    return;
                }
            }
            if self.is_done() {
                return;
            }
            self.steps -= 1;
        }
    }

    /// Fills the room as it comes, the longest first.
    fn finish(&mut self, from: usize, mut room: i64) {
        let (chosen, sum) = (self.now.len(), self.sum);
        let at = self.longest_within(room).max(from);
        for i in at..self.active.len() {
            self.steps = self.steps.saturating_sub(1);
            let fit = self.fit(i, room);
            if fit > 0 {
                let size = self.problem.size(self.active[i]);
                let length = size * i64::try_from(fit).unwrap_or(0);
                self.now.push((self.active[i], fit));
                self.sum += length;
                room -= length;
            }
        }
        self.keep();
        self.now.truncate(chosen);
        self.sum = sum;
    }

    fn keep(&mut self) {
        if self.sum > self.most {
            self.most = self.sum;
            self.best = self.now.clone();
        }
    }

    fn is_done(&self) -> bool {
        self.steps == 0 || self.most == self.problem.room(self.rack)
    }

    /// Lots lie by falling size, so what is too long for the room comes first.
    fn longest_within(&self, room: i64) -> usize {
        self.active.partition_point(|&lot| self.problem.size(lot) > room)
    }

    /// How many of a lot there are room for.
    fn fit(&self, i: usize, room: i64) -> usize {
        let lot = self.active[i];
        let there = self.left[lot] - usize::from(i == 0);
        let fit = usize::try_from(room / self.problem.size(lot)).unwrap_or(0).min(there);
        if fit > 0 && self.problem.fits(lot, self.rack) { fit } else { 0 }
    }

    /// More of the first lot are counted with the one that is there.
    fn take(&mut self, i: usize, count: usize) {
        if i == 0 {
            self.now[0].1 += count;
        } else {
            self.now.push((self.active[i], count));
        }
    }

    fn untake(&mut self, i: usize, count: usize) {
        if i == 0 {
            self.now[0].1 -= count;
        } else {
            self.now.pop();
        }
    }
}
