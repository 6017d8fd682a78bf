//! The least leather that any packing opens: what no cleverness can beat.
//!
//! A function f with f(a) + f(b) <= f(a + b) keeps a full strip full: what is cut from it sums
//! to at most f(room). So strips must be opened until their f(room) cover the sum of f(size)
//! of all pieces. With f(x) = x that is the length; with f(x) = floor(x / k) it counts pieces of
//! at least k; for strips all alike a third rounds what is nearly a strip up to one (Martello
//! and Toth, Knapsack Problems, 1990, ch. 8; the general form by Fekete and Schepers, 2001).
//! The cover is bounded by its linear relaxation, and then up to the next area that strips can
//! sum to, a multiple of the areas' greatest common divisor.

use super::problem::Problem;
use std::collections::BTreeSet;

/// Functions that are tried of each form.
const MOST: usize = 48;

/// One way to measure sizes and rooms.
#[derive(Clone, Copy, Debug)]
enum Measure {
    /// As it is.
    Length,
    /// How often `k` goes into it.
    Pieces { k: i64 },
    /// More than `room - k` is all of `room`, less than `k` nothing.
    Rounded { k: i64, room: i64 },
}

impl Measure {
    fn of(self, x: i64) -> i64 {
        match self {
            Self::Length => x,
            Self::Pieces { k } => x / k,
            Self::Rounded { k, room } if x > room - k => room,
            Self::Rounded { k, .. } if x < k => 0,
            Self::Rounded { .. } => x,
        }
    }
}

/// Square nanometres that every packing of all pieces opens at least.
pub(super) fn least_area(problem: &Problem<'_>) -> i128 {
    let racks: Vec<usize> = (0..problem.racks.len())
        .filter(|&r| (0..problem.lots.len()).any(|l| problem.fits(l, r)))
        .collect();
    let divisor = racks.iter().fold(0, |d, &r| gcd(d, problem.racks[r].area()));
    let least = if racks.iter().all(|&r| problem.is_single(r)) {
        of_blanks(problem, &racks)
    } else {
        let measures = measures(problem, &racks);
        let covers = measures.into_iter().map(|m| cover(problem, &racks, m));
        covers.max().unwrap_or(0)
    };
    if divisor == 0 {
        least
    } else {
        least.div_euclid(divisor) * divisor
            + if least % divisor == 0 { 0 } else { divisor }
    }
}

/// Each piece takes a blank of its own, at least the smallest that it fits on.
fn of_blanks(problem: &Problem<'_>, racks: &[usize]) -> i128 {
    let smallest = |lot: usize| {
        let fitting = racks.iter().filter(|&&r| problem.fits(lot, r));
        fitting.map(|&r| problem.racks[r].area()).min().unwrap_or(0)
    };
    let counts = problem.all_lots().into_iter();
    counts.map(|(lot, n)| smallest(lot) * i128::try_from(n).unwrap_or(0)).sum()
}

fn measures(problem: &Problem<'_>, racks: &[usize]) -> Vec<Measure> {
    let sizes: BTreeSet<i64> =
        (0..problem.lots.len()).map(|l| problem.size(l)).filter(|s| *s > 0).collect();
    let step = sizes.len().div_ceil(MOST).max(1);
    let some: Vec<i64> = sizes.into_iter().step_by(step).collect();
    let rooms: BTreeSet<i64> = racks.iter().map(|&r| problem.room(r)).collect();
    let mut all = vec![Measure::Length];
    all.extend(some.iter().map(|&k| Measure::Pieces { k }));
    if let (Some(&room), 1) = (rooms.first(), rooms.len()) {
        let halves = some.iter().filter(|&&k| k <= room / 2);
        all.extend(halves.map(|&k| Measure::Rounded { k, room }));
    }
    all
}

/// The linear relaxation of covering all pieces by strips, the cheapest for its worth first.
fn cover(problem: &Problem<'_>, racks: &[usize], measure: Measure) -> i128 {
    let counts = problem.all_lots().into_iter();
    let worth_of = |(lot, n): (usize, usize)| {
        i128::from(measure.of(problem.size(lot))) * i128::try_from(n).unwrap_or(0)
    };
    let mut wanted: i128 = counts.map(worth_of).sum();
    let mut offers: Vec<(i128, i128, usize)> = racks
        .iter()
        .map(|&r| {
            let rack = &problem.racks[r];
            (rack.area(), i128::from(measure.of(problem.room(r))), rack.strips.len())
        })
        .filter(|(_, worth, _)| *worth > 0)
        .collect();
    offers.sort_by(|a, b| (a.0 * b.1).cmp(&(b.0 * a.1)));
    let mut area = 0;
    for (each, worth, count) in offers {
        let count = i128::try_from(count).unwrap_or(0);
        if wanted <= worth * count {
            let (whole, rest) = (wanted / worth, wanted % worth);
            return area + each * whole + (each * rest + worth - 1) / worth;
        }
        wanted -= worth * count;
        area += each * count;
    }
    area
}

fn gcd(a: i128, b: i128) -> i128 {
    let (mut a, mut b) = (a, b);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}
