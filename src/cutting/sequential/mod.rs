//! Good packings of many pieces, by sequential value correction.
//!
//! Strip after strip takes the pattern whose pieces are worth most for its leather. A piece is
//! worth its leather at first. When it is cut from a strip of which much is left, it gets worth
//! more, so that the next packing places it sooner (Belov and Scheithauer, 2007; their powers
//! of lengths are a straight line here, in whole numbers). The lanes of a strip are chosen in
//! the same way, one after another.

mod knapsack;

use super::problem::{Counts, Packing, Pattern, Problem};
use crate::geom::Length;
use knapsack::Knapsack;
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// Sizes of strip that are compared when one is opened.
const MOST_STRIPS: usize = 24;
/// Widths of lane that are compared for the next lane of a strip.
const MOST_WIDTHS: usize = 5;
/// Lanes that are looked ahead when one is chosen.
const LANES_AHEAD: usize = 4;
/// Steps for one lane at least and at most; between them so many that a packing takes this
/// part of the work that is left.
const LEAST_STEPS: u64 = 300;
const MOST_STEPS: u64 = 6_000;
const PART_OF_WORK: u64 = 2;

/// The best of as many packings as `work` steps allow, one at least. Ends early with one that
/// opens no more than `least` square nanometres.
pub(super) fn pack(problem: &Problem<'_>, least: i128, mut work: u64) -> Packing {
    if (0..problem.strips.len()).all(|strip| problem.is_blank(strip)) {
        return on_blanks(problem);
    }
    let mut search = Search::new(problem);
    let mut best: Option<(_, Packing)> = None;
    while let Some(packing) = search.next_packing(&mut work, best.is_none()) {
        let score = packing.score(problem);
        if best.as_ref().is_none_or(|(least, _)| score < *least) {
            best = Some((score, packing));
        }
        if score.lacking == 0 && score.area <= least {
            break;
        }
    }
    best.map(|(_, packing)| packing).unwrap_or_default()
}

/// The longest piece first, each on the smallest blank that it fits.
fn on_blanks(problem: &Problem<'_>) -> Packing {
    let mut supply = problem.all_strips();
    supply.sort_by_key(|&(strip, _)| problem.strips[strip].area());
    let mut packing = Packing::default();
    for (item, count) in problem.all_items() {
        for _ in 0..count {
            let fits = |s: &&mut (usize, usize)| s.1 > 0 && problem.fits(item, s.0);
            if let Some((strip, left)) = supply.iter_mut().find(fits) {
                *left -= 1;
                let lanes = vec![vec![item]];
                packing.patterns.push(Pattern { strip: *strip, lanes });
            } else {
                packing.lacking.push(item);
            }
        }
    }
    packing
}

/// At most `most` of `all`, evenly spread, the first and the last among them.
pub(super) fn spread(all: &[usize], most: usize) -> Vec<usize> {
    if all.len() <= most {
        return all.to_vec();
    }
    (0..most).map(|i| all[i * (all.len() - 1) / (most - 1)]).collect()
}

/// What is known from one packing to the next.
struct Search<'a> {
    problem: &'a Problem<'a>,
    /// Width in nanometres that counts as one: a thousandth of the widest strip's where lanes
    /// lie side by side.
    unit: i64,
    /// What a nanometre of each item is worth at first: its width in such units where lanes
    /// lie side by side, else 1.
    weights: Vec<i64>,
    /// The same for each strip.
    strip_weights: Vec<i64>,
    /// All widths of items, rising, and the place of each item's in them.
    widths: Vec<Length>,
    width_of: Vec<usize>,
    /// What one piece of each item is worth.
    values: Vec<i64>,
    /// Steps for one lane.
    steps: u64,
}

/// Lanes, and what their pieces are worth.
type Lanes = (i64, Vec<Counts>);

impl<'a> Search<'a> {
    fn new(problem: &'a Problem<'a>) -> Self {
        let (items, strips) = (0..problem.items.len(), 0..problem.strips.len());
        let strip_width = |strip: usize| problem.strips[strip].class.width;
        let widest = strips.clone().map(strip_width).max().unwrap_or_default();
        let unit = if problem.any_lanes() { (widest.nm() / 1_000).max(1) } else { 0 };
        let weight = |w: Length| w.nm().checked_div(unit).map_or(1, |w| w.max(1));
        let weights: Vec<i64> = items.clone().map(|i| weight(problem.width(i))).collect();
        let mut widths: Vec<Length> = items.clone().map(|i| problem.width(i)).collect();
        widths.sort_unstable();
        widths.dedup();
        let place = |i| widths.partition_point(|w| *w < problem.width(i));
        let width_of = items.clone().map(place).collect();
        let values = items.map(|i| problem.size(i) * weights[i]).collect();
        let strip_weights = strips.map(|s| weight(strip_width(s))).collect();
        let (unit, steps) = (unit.max(1), 0);
        Self { problem, unit, weights, strip_weights, widths, width_of, values, steps }
    }

    /// Steps for one lane, by how many strips and sizes of them there are about.
    fn steps_for(&self, work: u64) -> u64 {
        let all = self.problem.all_items().into_iter();
        let worth = |(item, n): (usize, usize)| i128::from(self.values[item]) * wide(n);
        let needed: i128 = all.map(worth).sum();
        let strips = self.strip_weights.len();
        let rooms = (0..strips).map(|s| self.problem.room(s) * self.strip_weights[s]);
        let most = i128::from(rooms.max().unwrap_or(1).max(1));
        let opened = u64::try_from(needed / most + 1).unwrap_or(u64::MAX);
        let searches = opened.saturating_mul(strips.clamp(1, MOST_STRIPS) as u64);
        (work / PART_OF_WORK / searches).clamp(LEAST_STEPS, MOST_STEPS)
    }

    /// What a nanometre of a piece is worth, in millionths.
    fn density(&self, item: usize) -> i64 {
        self.values[item] / (self.problem.size(item) / 1_000_000).max(1)
    }

    /// One packing, which changes the values; `None` when the work is used up, unless it
    /// must be.
    fn next_packing(&mut self, work: &mut u64, must_be: bool) -> Option<Packing> {
        let problem = self.problem;
        self.steps = self.steps_for(*work);
        let mut left: Vec<usize> =
            problem.items.iter().map(|i| i.members.len()).collect();
        let mut supply: Vec<usize> =
            problem.strips.iter().map(|s| s.members.len()).collect();
        let mut density: Vec<i64> =
            (0..left.len()).map(|item| self.density(item)).collect();
        let mut packing = Packing::default();
        let mut active: Vec<usize> = (0..left.len()).collect();
        while !active.is_empty() {
            // Few values changed since the last time, which a stable sort is quick with.
            active.sort_by_key(|&item| (Reverse(density[item]), item));
            let open: Vec<usize> = (0..supply.len()).filter(|&s| supply[s] > 0).collect();
            *work = work.saturating_sub((active.len() + open.len()) as u64);
            if *work == 0 && !must_be {
                return None;
            }
            let mut best = self.best_pattern(&open, &active, &left, work);
            if best.is_none() {
                // Those that were compared suit nothing that is left; others may.
                let suits = |s: &usize| active.iter().any(|&i| problem.fits(i, *s));
                let open: Vec<usize> = open.into_iter().filter(suits).collect();
                best = self.best_pattern(&open, &active, &left, work);
            }
            let Some((strip, lanes)) = best else { break };
            let mut counts: BTreeMap<usize, usize> = BTreeMap::new();
            for &(item, n) in lanes.iter().flatten() {
                *counts.entry(item).or_default() += n;
            }
            // Many alike are cut in one go, but not all: their values change with every go.
            let times = counts.iter().map(|(item, n)| left[*item] / n).min().unwrap_or(1);
            let times = times.div_ceil(2).min(supply[strip]);
            self.correct(strip, &counts, times, &left);
            for (item, n) in counts {
                left[item] -= n * times;
                density[item] = self.density(item);
            }
            supply[strip] -= times;
            let expand = |lane: Counts| {
                lane.into_iter().flat_map(|(item, n)| std::iter::repeat_n(item, n))
            };
            let lanes = lanes.into_iter().map(|lane| expand(lane).collect()).collect();
            let pattern = Pattern { strip, lanes };
            packing.patterns.extend(std::iter::repeat_n(pattern, times));
            active.retain(|&item| left[item] > 0);
        }
        for item in active {
            packing.lacking.extend(std::iter::repeat_n(item, left[item]));
        }
        Some(packing)
    }

    /// The pattern worth most for its leather, on one of several sizes of strip.
    fn best_pattern(
        &self,
        strips: &[usize],
        active: &[usize],
        left: &[usize],
        work: &mut u64,
    ) -> Option<(usize, Vec<Counts>)> {
        let begins = self.begins(active);
        let mut best: Option<(i128, i128, usize, Vec<Counts>)> = None;
        for strip in spread(strips, MOST_STRIPS) {
            let (worth, lanes) = self.lanes(strip, active, &begins, left, work);
            // In the units of weights, lest the products be too large.
            let area = self.problem.strips[strip].area() / i128::from(self.unit);
            let worth = i128::from(worth);
            let better = best.as_ref().is_none_or(|b| area * b.1 < b.0 * worth);
            if better && worth > 0 {
                best = Some((area, worth, strip, lanes));
            }
        }
        best.map(|(_, _, strip, lanes)| (strip, lanes))
    }

    /// For each width the place of the first active item that is no wider.
    fn begins(&self, active: &[usize]) -> Vec<usize> {
        let mut begins = vec![active.len(); self.widths.len()];
        for (at, &item) in active.iter().enumerate().rev() {
            begins[self.width_of[item]] = at;
        }
        for w in 1..begins.len() {
            begins[w] = begins[w].min(begins[w - 1]);
        }
        begins
    }

    /// What is worth most on one strip, about.
    fn lanes(
        &self,
        strip: usize,
        active: &[usize],
        begins: &[usize],
        left: &[usize],
        work: &mut u64,
    ) -> Lanes {
        let problem = self.problem;
        let mut fill = |width: usize, left: &[usize]| {
            let knapsack = Knapsack::new(self, [strip, width], active, left);
            let (worth, lane, steps) = knapsack.solve(begins[width]);
            *work = work.saturating_sub(steps + 1);
            (worth, lane)
        };
        let narrowest = self.widths[begins.partition_point(|at| *at == active.len())];
        if problem.most_lanes(strip, narrowest) == 1 {
            let (worth, lane) = fill(self.widths.len() - 1, left);
            return (worth, vec![lane]);
        }
        let mut left = left.to_vec();
        let mut free = problem.strips[strip].class.width;
        let (mut worth, mut lanes) = (0, Vec::new());
        loop {
            // The first lane may be a little wider than the strip.
            let most =
                if lanes.is_empty() { free + problem.allowances.width } else { free };
            let narrower = self.widths.partition_point(|w| *w <= most);
            let some: Vec<usize> =
                (0..narrower).filter(|&w| begins[w] < active.len()).collect();
            let tried = spread(&some, MOST_WIDTHS).into_iter().filter_map(|width| {
                let (worth, lane) = fill(width, &left);
                let widths = lane.iter().map(|&(item, _)| problem.width(item));
                Some((widths.max()?, worth, lane))
            });
            let tried: Vec<(Length, i64, Counts)> = tried.collect();
            let Some((_, at)) = ahead(&tried, most, LANES_AHEAD) else { break };
            let (width, more, lane) = tried[at].clone();
            for &(item, n) in &lane {
                left[item] -= n;
            }
            free -= width;
            worth += more;
            lanes.push(lane);
        }
        (worth, lanes)
    }

    /// Moves the values of what was cut toward what it took of the strip, waste and all.
    fn correct(
        &mut self,
        strip: usize,
        counts: &BTreeMap<usize, usize>,
        times: usize,
        left: &[usize],
    ) {
        let leather =
            |i: usize| i128::from(self.problem.size(i)) * i128::from(self.weights[i]);
        let room = i128::from(self.problem.room(strip));
        let whole = room * i128::from(self.strip_weights[strip]);
        let used: i128 = counts.iter().map(|(&i, &n)| leather(i) * wide(n)).sum();
        for (&item, &n) in counts {
            // Longer pieces are harder to place: up to a fiftieth more for one as long as
            // the strip.
            let target = leather(item) * whole / used;
            let size = i128::from(self.problem.size(item));
            let target = target + target * size / (50 * room);
            let all = 2 * wide(self.problem.items[item].members.len() + left[item]);
            let part = wide(n * times);
            let value = i128::from(self.values[item]) * (all - part) + target * part;
            self.values[item] = i64::try_from(value / all).unwrap_or(i64::MAX);
        }
    }
}

/// What lanes such as these are worth at most side by side, and which is to be the first.
/// `None` where none is left room for.
fn ahead(
    lanes: &[(Length, i64, Counts)],
    free: Length,
    depth: usize,
) -> Option<(i64, usize)> {
    let after = |lane: &(Length, i64, Counts)| {
        let left = free - lane.0;
        let more = if depth > 1 { ahead(lanes, left, depth - 1) } else { None };
        lane.1.saturating_add(more.map_or(0, |(worth, _)| worth))
    };
    let fits = |at: &usize| lanes[*at].0 <= free;
    (0..lanes.len()).filter(fits).map(|at| (after(&lanes[at]), at)).max()
}

fn wide(n: usize) -> i128 {
    i128::try_from(n).unwrap_or(i128::MAX)
}
