//! Makes a good packing better: packs a few of its strips anew in the best way, again and
//! again, in a bounded number of steps (a large neighbourhood search: Shaw, 1998).
//!
//! The strip with the longest offcut always takes part. The best way gathers what is left in
//! one offcut, which so grows until its strip is empty or can be a shorter one.

use super::exact;
use super::problem::{Counts, Packing, Problem, Score};
use super::sequential::spread;
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// Steps for packing a few strips anew.
const MOST_STEPS: u64 = 60_000;
/// Sizes of strip that it may take from those not opened.
const MOST_STRIPS: usize = 6;
/// Pieces without a strip that it may bring in.
const MOST_LACKING: usize = 3;

/// Makes `packing` better, never worse, in at most about `work` steps.
pub(super) fn improve(problem: &Problem<'_>, packing: &mut Packing, mut work: u64) {
    let mut free: Vec<usize> = problem.strips.iter().map(|s| s.members.len()).collect();
    for pattern in &packing.patterns {
        free[pattern.strip] -= 1;
    }
    let mut in_vain = 0;
    let mut turn = Turn { next: 0, stride: 1 };
    loop {
        let count = packing.patterns.len();
        // When every strip has met the one with the longest offcut, the second longest leads.
        let (rank, limit) = (in_vain / count.max(1), 3 * count.max(1));
        if in_vain >= limit {
            return;
        }
        let chosen = choose(problem, packing, rank, &mut turn);
        let part = Neighbourhood::new(problem, packing, &chosen, &free);
        let steps = exact::work(&part.items, part.strips.len()).max(1_000);
        let looked_at = 8 * u64::try_from(count).unwrap_or(u64::MAX);
        let Some(rest) = work.checked_sub(steps.saturating_add(looked_at)) else {
            return;
        };
        work = rest;
        if steps > MOST_STEPS * 4 {
            in_vain += 1;
            continue;
        }
        let anew = exact::pack(problem, &part.items, &part.strips);
        if anew.score(problem) < part.score {
            in_vain = 0;
            part.replace(packing, anew, &chosen, &mut free);
        } else {
            in_vain += 1;
        }
    }
}

/// Which strip takes part next: every `stride`-th, and with another stride each time round.
struct Turn {
    next: usize,
    stride: usize,
}

impl Turn {
    fn advance(&mut self, count: usize) -> usize {
        self.next += self.stride;
        if self.next >= count {
            self.next %= count;
            self.stride = self.stride % count.max(2) + 1;
        }
        self.next
    }
}

/// Which patterns are packed anew, by falling place.
fn choose(
    problem: &Problem<'_>,
    packing: &Packing,
    rank: usize,
    turn: &mut Turn,
) -> Vec<usize> {
    let count = packing.patterns.len();
    let sizes = problem.strips.len().min(MOST_STRIPS + 1);
    let offcuts = packing.patterns.iter().map(|p| p.offcut(problem));
    let mut by_offcut: Vec<_> = offcuts.map(Reverse).zip(0..).collect();
    let mut chosen = Vec::new();
    let mut items: BTreeMap<usize, usize> = BTreeMap::new();
    let mut add = |at: usize| {
        for &item in packing.patterns[at].lanes.iter().flatten() {
            *items.entry(item).or_default() += 1;
        }
        let counts: Counts = items.iter().map(|(i, n)| (*i, *n)).collect();
        exact::work(&counts, sizes)
    };
    if rank < count {
        let lead = by_offcut.select_nth_unstable(rank).1.1;
        add(lead);
        chosen.push(lead);
    }
    for _ in 0..count.min(12) {
        let next = turn.advance(count);
        if chosen.contains(&next) {
            continue;
        }
        if add(next) > MOST_STEPS {
            break;
        }
        chosen.push(next);
    }
    chosen.sort_unstable_by(|a, b| b.cmp(a));
    chosen
}

/// A few patterns of a packing, with what may take part in packing them anew.
struct Neighbourhood {
    items: Counts,
    strips: Counts,
    lacking: usize,
    score: Score,
}

impl Neighbourhood {
    fn new(
        problem: &Problem<'_>,
        packing: &Packing,
        chosen: &[usize],
        free: &[usize],
    ) -> Self {
        let lacking = packing.lacking.len().min(MOST_LACKING);
        let now = Packing {
            patterns: chosen.iter().map(|&at| packing.patterns[at].clone()).collect(),
            lacking: packing.lacking[packing.lacking.len() - lacking..].to_vec(),
        };
        let mut items: BTreeMap<usize, usize> = BTreeMap::new();
        let mut strips: BTreeMap<usize, usize> = BTreeMap::new();
        for pattern in &now.patterns {
            *strips.entry(pattern.strip).or_default() += 1;
        }
        let cut = now.patterns.iter().flat_map(|p| p.lanes.iter().flatten());
        for &item in cut.chain(&now.lacking) {
            *items.entry(item).or_default() += 1;
        }
        let unopened: Vec<usize> = (0..free.len()).filter(|&s| free[s] > 0).collect();
        for strip in spread(&unopened, MOST_STRIPS) {
            strips.entry(strip).or_default();
        }
        let strips = strips.into_iter().map(|(s, n)| (s, n + free[s])).collect();
        let score = now.score(problem);
        Self { items: items.into_iter().collect(), strips, lacking, score }
    }

    fn replace(
        &self,
        packing: &mut Packing,
        anew: Packing,
        chosen: &[usize],
        free: &mut [usize],
    ) {
        for &at in chosen {
            free[packing.patterns.swap_remove(at).strip] += 1;
        }
        packing.lacking.truncate(packing.lacking.len() - self.lacking);
        packing.lacking.extend(anew.lacking);
        for pattern in anew.patterns {
            free[pattern.strip] -= 1;
            packing.patterns.push(pattern);
        }
    }
}
