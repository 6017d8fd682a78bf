//! The least leather that any packing opens: what no cleverness can beat.
//!
//! A function f with f(a) + f(b) <= f(a + b) keeps a full strip full: what is cut from it sums
//! to at most f(room). So strips must be opened until their f(room) cover the sum of f(size)
//! of all pieces. With f(x) = x that is the length; with f(x) = floor(x / k) it counts pieces of
//! at least k; for strips all alike a third rounds what is nearly a strip up to one (Martello
//! and Toth, Knapsack Problems, 1990, ch. 8; the general form by Fekete and Schepers, 2001).
//! The cover is bounded by its linear relaxation, and up to the next area that strips can sum
//! to, a multiple of the areas' greatest common divisor; and by the fewest strips that cover at
//! all, each as small as there are.

use super::problem::Problem;
use std::cmp::Reverse;
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
    /// A blank is for one piece, whatever their lengths.
    One,
}

impl Measure {
    fn of(self, x: i64) -> i64 {
        match self {
            Self::Pieces { k } => x / k,
            Self::Rounded { k, room } if x > room - k => room,
            Self::Rounded { k, .. } if x < k => 0,
            Self::Length | Self::Rounded { .. } => x,
            Self::One => 1,
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
        of_blanks(problem, &racks).max(cover(problem, &racks, Measure::One))
    } else {
        let measures = measures(problem, &racks);
        let covers = measures.into_iter().map(|m| cover(problem, &racks, m));
        covers.max().unwrap_or(0)
    };
    if divisor == 0 { least } else { (least + divisor - 1) / divisor * divisor }
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

/// What strips cost at least that cover all pieces.
fn cover(problem: &Problem<'_>, racks: &[usize], measure: Measure) -> i128 {
    let counts = problem.all_lots().into_iter();
    let worth = |(lot, n)| i128::from(measure.of(problem.size(lot))) * wide(n);
    let wanted: i128 = counts.map(worth).sum();
    let offer = |&r: &usize| Offer {
        area: problem.racks[r].area(),
        worth: i128::from(measure.of(problem.room(r))),
        count: wide(problem.racks[r].strips.len()),
    };
    let all = racks.iter().map(offer);
    let mut offers: Vec<Offer> = all.filter(|o| o.worth > 0).collect();
    let relaxed = relaxed(&mut offers, wanted);
    relaxed.max(fewest(&mut offers, wanted))
}

/// Strips alike: the area and the worth of one, and how many there are.
struct Offer {
    area: i128,
    worth: i128,
    count: i128,
}

/// With parts of strips too, the cheapest for its worth first.
fn relaxed(offers: &mut [Offer], mut wanted: i128) -> i128 {
    offers.sort_by(|a, b| (a.area * b.worth).cmp(&(b.area * a.worth)));
    let mut area = 0;
    for offer in offers.iter() {
        let whole = offer.count.min(wanted / offer.worth);
        area += offer.area * whole;
        wanted -= offer.worth * whole;
        if whole < offer.count {
            return area + (offer.area * wanted + offer.worth - 1) / offer.worth;
        }
    }
    area
}

/// As many strips as of the largest are needed, of the smallest.
fn fewest(offers: &mut [Offer], mut wanted: i128) -> i128 {
    offers.sort_by_key(|o| Reverse(o.worth));
    let mut strips = 0;
    for offer in offers.iter() {
        let taken = offer.count.min((wanted + offer.worth - 1) / offer.worth);
        strips += taken;
        wanted -= (taken * offer.worth).min(wanted);
    }
    offers.sort_by_key(|o| o.area);
    let mut area = 0;
    for offer in offers.iter() {
        let taken = offer.count.min(strips);
        area += taken * offer.area;
        strips -= taken;
    }
    area
}

fn wide(n: usize) -> i128 {
    i128::try_from(n).unwrap_or(i128::MAX)
}

fn gcd(a: i128, b: i128) -> i128 {
    let (mut a, mut b) = (a, b);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}
