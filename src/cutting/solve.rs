//! From a group to its packing: the best where that can be afforded, a good one with a bound
//! on what is lost otherwise. All is bounded by steps of work, never by the clock.

use super::problem::{Packing, Problem};
use super::{bound, exact, improve, sequential};

/// Steps that the best packing of one group may take: 14 pieces of as many lengths on four
/// lengths of strip.
const MOST_EXACT: u64 = 20_000_000;
/// Steps for the best packings of all groups together.
const MOST_EXACT_IN_ALL: u64 = 30_000_000;
/// Steps for finding good packings, and for making them better; all groups together.
const MOST_SEQUENTIAL: u64 = 20_000_000;
const MOST_IMPROVING: u64 = 12_000_000;

/// A group with its packing.
#[derive(Debug)]
pub(super) struct Solved<'a> {
    pub(super) problem: Problem<'a>,
    pub(super) packing: Packing,
    /// Square nanometres that every packing opens at least; of the packing itself where it
    /// is known to be the best.
    pub(super) least: i128,
    /// Whether `least` is proven only for packings that rip strips into lanes from end to
    /// end, and not for such as rip a part of a strip otherwise than the next.
    pub(super) in_lanes: bool,
    /// Whether no packing leaves fewer pieces without a strip.
    pub(super) is_fewest_lacking: bool,
}

/// Solves every group, the small ones first, so that many of them are solved in the best
/// way.
pub(super) fn solve(problems: Vec<Problem<'_>>) -> Vec<Solved<'_>> {
    let work = |p: &Problem<'_>| {
        let sizes = p.strips.len();
        if sizes == 0 { 0 } else { exact::work(&p.all_items(), sizes) }
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
    let large = u64::try_from(large.max(1)).unwrap_or(1);
    let (finding, improving) = (MOST_SEQUENTIAL / large, MOST_IMPROVING / large);
    let solved = problems.into_iter().zip(is_small).map(|(problem, small)| {
        match (problem.strips.is_empty(), small) {
            (true, _) => without_strips(problem),
            (false, true) => best(problem),
            (false, false) => good(problem, finding, improving),
        }
    });
    solved.collect()
}

/// Pieces that no strip suits: all of them lack leather.
fn without_strips(problem: Problem<'_>) -> Solved<'_> {
    let items = problem.all_items().into_iter();
    let lacking = items.flat_map(|(item, count)| std::iter::repeat_n(item, count));
    let packing = Packing { patterns: Vec::new(), lacking: lacking.collect() };
    Solved { problem, packing, least: 0, in_lanes: false, is_fewest_lacking: true }
}

/// The best packing of a small group.
pub(super) fn best(problem: Problem<'_>) -> Solved<'_> {
    let packing = exact::pack(&problem, &problem.all_items(), &problem.all_strips());
    let least = packing.score(&problem).area;
    let in_lanes = problem.any_lanes() && bound::least_area(&problem) < least;
    let is_fewest_lacking = problem.is_fewest_lacking(&packing) || !problem.any_lanes();
    Solved { problem, packing, least, in_lanes, is_fewest_lacking }
}

/// A good packing of a large group: the best that is found in `finding` steps, made better in
/// `improving` steps.
pub(super) fn good(problem: Problem<'_>, finding: u64, improving: u64) -> Solved<'_> {
    let least = bound::least_area(&problem);
    let mut packing = sequential::pack(&problem, least, finding);
    improve::improve(&problem, &mut packing, improving);
    let is_fewest_lacking = problem.is_fewest_lacking(&packing);
    Solved { problem, packing, least, in_lanes: false, is_fewest_lacking }
}
