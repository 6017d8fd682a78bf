//! A good packing made better: a few strips are taken out and packed anew in the best way,
//! again and again, for a bounded amount of work.
//!
//! The strip with the longest offcut always takes part: the best way gathers what is left in
//! one offcut, which so grows until its strip is empty or can be a shorter one.

use super::exact;
use super::greedy::spread;
use super::problem::{Counts, Packing, Problem, Score};
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// Steps for one packing of a few strips.
const FEW: u64 = 60_000;
/// Lengths of strip that it may take from those not opened.
const MOST_RACKS: usize = 6;
/// Pieces without a strip that it may bring in.
const MOST_LACKING: usize = 3;

/// Makes `packing` better, never worse, in at most about `work` steps.
pub(super) fn improve(problem: &Problem<'_>, packing: &mut Packing, mut work: u64) {
    let mut free: Vec<usize> = problem.racks.iter().map(|r| r.strips.len()).collect();
    for strip in &packing.strips {
        free[strip.rack] -= 1;
    }
    let mut in_vain = 0;
    let mut next = 0;
    let mut round = 1;
    loop {
        let count = packing.strips.len();
        // When every strip has met the one with the longest offcut, the second longest leads.
        let (rank, limit) = (in_vain / count.max(1), 3 * count.max(1));
        if in_vain >= limit {
            return;
        }
        let chosen = choose(problem, packing, rank, &mut next, &mut round);
        let few = Few::take(problem, packing, &chosen, &free);
        let steps = exact::work(&few.lots, few.racks.len()).max(1_000);
        let looked_at = 8 * u64::try_from(count).unwrap_or(u64::MAX);
        let Some(rest) = work.checked_sub(steps.saturating_add(looked_at)) else {
            return;
        };
        work = rest;
        if steps > FEW * 4 {
            in_vain += 1;
            continue;
        }
        let anew = exact::pack(problem, &few.lots, &few.racks);
        if anew.score(problem) < few.score {
            in_vain = 0;
            few.put_back(packing, anew, &chosen, &mut free);
        } else {
            in_vain += 1;
        }
    }
}

/// Which strips are packed anew, by falling place.
fn choose(
    problem: &Problem<'_>,
    packing: &Packing,
    rank: usize,
    next: &mut usize,
    round: &mut usize,
) -> Vec<usize> {
    let count = packing.strips.len();
    let racks = problem.racks.len().min(MOST_RACKS + 1);
    let offcuts = packing.strips.iter().map(|s| s.offcut(problem));
    let mut by_offcut: Vec<_> = offcuts.map(Reverse).zip(0..).collect();
    let mut chosen = Vec::new();
    if rank < count {
        chosen.push(by_offcut.select_nth_unstable(rank).1.1);
    }
    let mut lots: BTreeMap<usize, usize> = BTreeMap::new();
    let add = |strip: usize, lots: &mut BTreeMap<usize, usize>| {
        for &lot in &packing.strips[strip].lots {
            *lots.entry(lot).or_default() += 1;
        }
        let counts: Counts = lots.iter().map(|(l, n)| (*l, *n)).collect();
        exact::work(&counts, racks)
    };
    if let Some(&lead) = chosen.first() {
        add(lead, &mut lots);
    }
    for _ in 0..count.min(12) {
        *next += *round;
        if *next >= count {
            *next %= count;
            *round = *round % count.max(2) + 1;
        }
        if chosen.contains(next) {
            continue;
        }
        if add(*next, &mut lots) > FEW {
            break;
        }
        chosen.push(*next);
    }
    chosen.sort_unstable_by(|a, b| b.cmp(a));
    chosen
}

/// A few strips of a packing, with what may take part in packing them anew.
struct Few {
    lots: Counts,
    racks: Counts,
    lacking: usize,
    score: Score,
}

impl Few {
    fn take(
        problem: &Problem<'_>,
        packing: &Packing,
        chosen: &[usize],
        free: &[usize],
    ) -> Self {
        let lacking = packing.lacking.len().min(MOST_LACKING);
        let now = Packing {
            strips: chosen.iter().map(|&s| packing.strips[s].clone()).collect(),
            lacking: packing.lacking[packing.lacking.len() - lacking..].to_vec(),
        };
        let mut lots: BTreeMap<usize, usize> = BTreeMap::new();
        let mut racks: BTreeMap<usize, usize> = BTreeMap::new();
        for strip in &now.strips {
            *racks.entry(strip.rack).or_default() += 1;
        }
        for &lot in now.strips.iter().flat_map(|s| &s.lots).chain(&now.lacking) {
            *lots.entry(lot).or_default() += 1;
        }
        let unopened: Vec<usize> = (0..free.len()).filter(|&r| free[r] > 0).collect();
        for rack in spread(&unopened, MOST_RACKS) {
            racks.entry(rack).or_default();
        }
        let racks = racks.into_iter().map(|(r, n)| (r, n + free[r])).collect();
        let score = now.score(problem);
        Self { lots: lots.into_iter().collect(), racks, lacking, score }
    }

    fn put_back(
        &self,
        packing: &mut Packing,
        anew: Packing,
        chosen: &[usize],
        free: &mut [usize],
    ) {
        for &strip in chosen {
            free[packing.strips.swap_remove(strip).rack] += 1;
        }
        packing.lacking.truncate(packing.lacking.len() - self.lacking);
        packing.lacking.extend(anew.lacking);
        for strip in anew.strips {
            free[strip.rack] -= 1;
            packing.strips.push(strip);
        }
    }
}
