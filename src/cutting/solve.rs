//! From a group to its packing: the best where that can be afforded, a good one with a bound
//! on what is lost otherwise. All is bounded by steps of work, never by the clock.

use super::problem::{Packing, Problem};
use super::{bound, exact, greedy, improve, values};

/// Steps that the best packing of one group may take: 14 pieces of as many lengths on four
/// lengths of strip.
const MOST_EXACT: u64 = 20_000_000;
/// Steps for the best packings of all groups together.
const MOST_EXACT_IN_ALL: u64 = 30_000_000;
/// Steps for making good packings better, all groups together.
const MOST_IMPROVING: u64 = 24_000_000;

/// A group with its packing.
#[derive(Debug)]
pub(super) struct Solved<'a> {
    pub(super) problem: Problem<'a>,
    pub(super) packing: Packing,
    /// Square nanometres that every packing opens at least; of the packing itself where it
    /// is known to be the best.
    pub(super) least: i128,
    /// Whether no packing leaves fewer pieces without a strip.
    pub(super) certain: bool,
}

/// Solves every group, the small ones first, so that many of them are solved in the best
/// way.
pub(super) fn solve(problems: Vec<Problem<'_>>) -> Vec<Solved<'_>> {
    let work = |p: &Problem<'_>| {
        if p.racks.is_empty() { 0 } else { exact::work(&p.all_lots(), p.racks.len()) }
    };
    let mut order: Vec<(u64, usize)> = problems.iter().map(work).zip(0..).collect();
    order.sort_unstable();
    let mut affordable = MOST_EXACT_IN_ALL;
    let mut is_small = vec![false; problems.len()];
    for (work, i) in order {
        if work <= MOST_EXACT
            && let Some(rest) = affordable.checked_sub(work)
        {
            affordable = rest;
            is_small[i] = true;
        }
    }
    let large = is_small.iter().filter(|small| !**small).count();
    let improving = MOST_IMPROVING / u64::try_from(large.max(1)).unwrap_or(1);
    let solved = problems.into_iter().zip(is_small).map(|(problem, small)| {
        match (problem.racks.is_empty(), small) {
            (true, _) => without_strips(problem),
            (false, true) => best(problem),
            (false, false) => good(problem, improving),
        }
    });
    solved.collect()
}

/// Pieces that no strip suits: all of them lack leather.
fn without_strips(problem: Problem<'_>) -> Solved<'_> {
    let lots = problem.all_lots().into_iter();
    let lacking = lots.flat_map(|(lot, count)| std::iter::repeat_n(lot, count)).collect();
    let packing = Packing { strips: Vec::new(), lacking };
    Solved { problem, packing, least: 0, certain: true }
}

/// The best packing of a small group.
pub(super) fn best(problem: Problem<'_>) -> Solved<'_> {
    let packing = exact::pack(&problem, &problem.all_lots(), &problem.all_racks());
    let least = packing.score(&problem).area;
    Solved { problem, packing, least, certain: true }
}

/// A good packing of a large group.
pub(super) fn good(problem: Problem<'_>, improving: u64) -> Solved<'_> {
    let least = bound::least_area(&problem);
    let enough = |p: &Packing| {
        let score = p.score(&problem);
        score.lacking == 0 && score.area <= least
    };
    let begun = [
        greedy::fill(&problem),
        greedy::best_fit(&problem, greedy::Open::Smallest),
        greedy::best_fit(&problem, greedy::Open::Largest),
    ];
    let best = begun.into_iter().min_by_key(|p| p.score(&problem));
    let mut packing = best.unwrap_or_default();
    if !enough(&packing) {
        let valued = values::by_values(&problem, least, improving);
        packing = valued.into_iter().fold(packing, |a, b| {
            if b.score(&problem) < a.score(&problem) { b } else { a }
        });
    }
    improve::improve(&problem, &mut packing, improving / 2);
    let certain = packing.lacking.is_empty() || {
        // Those that fit on nothing are lacking in every packing.
        let fits = |lot: usize| (0..problem.racks.len()).any(|r| problem.fits(lot, r));
        packing.lacking.iter().all(|&lot| !fits(lot))
    };
    Solved { problem, packing, least, certain }
}
