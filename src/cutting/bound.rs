//! The least leather that any packing opens: what no cleverness can beat.
//!
//! A function f with f(a) + f(b) <= f(a + b) keeps a full strip full: what is cut from it sums
//! to at most f(room). So strips must be opened until their f(room) cover the sum of f(size)
//! of all pieces. With f(x) = x that is the length; with f(x) = floor(x / k) it counts pieces of
//! at least k; for strips all alike a third rounds what is nearly a strip up to one (Martello
//! and Toth, Knapsack Problems, 1990, ch. 8; the general form by Fekete and Schepers, 2001).
//! Where pieces lie side by side, each counts f(size) g(width), and a strip f(room) g(width):
//! with another such g that holds for all pieces that lie along the strip, in lanes or not
//! (Fekete and Schepers, 2004).
//! The cover is bounded by its linear relaxation, and up to the next area that strips can sum
//! to, a multiple of the areas' greatest common divisor; and by the fewest strips that cover at
//! all, each as small as there are.

use super::problem::Problem;
use crate::geom::Length;
use std::cmp::Reverse;
use std::collections::BTreeSet;

/// Functions of lengths that are tried of each form, by so many functions of widths.
const MOST: usize = 48;
const MOST_WIDTHS: usize = 4;
/// Largest worth of a strip. Larger ones are counted in larger units, so that its product
/// with an area, up to 10^24, fits 128 bits.
const LARGEST: i128 = 1 << 46;

/// One way to measure sizes and rooms, or widths.
#[derive(Clone, Copy, Debug)]
enum Measure {
    /// As it is.
    Length,
    /// How often `k` goes into it.
    Pieces { k: i64 },
    /// More than `room - k` is all of `room`, less than `k` nothing.
    Rounded { k: i64, room: i64 },
    /// A blank is for one piece, whatever their lengths; pieces side by side are counted.
    One,
}

impl Measure {
    fn apply(self, x: i64) -> i64 {
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
    let suits =
        |&strip: &usize| (0..problem.items.len()).any(|item| problem.fits(item, strip));
    let strips: Vec<usize> = (0..problem.strips.len()).filter(suits).collect();
    let divisor = strips.iter().fold(0, |d, &s| gcd(d, problem.strips[s].area()));
    let least = if strips.iter().all(|&s| problem.is_blank(s)) {
        least_blanks(problem).max(cover(problem, &strips, Measure::One, Measure::One))
    } else {
        let widths = width_measures(problem);
        let lengths = length_measures(problem, &strips, MOST / widths.len());
        let pairs = lengths.into_iter().flat_map(|l| widths.iter().map(move |w| (l, *w)));
        pairs.map(|(l, w)| cover(problem, &strips, l, w)).max().unwrap_or(0)
    };
    if divisor == 0 { least } else { (least + divisor - 1) / divisor * divisor }
}

/// Each piece takes a blank of its own, at least the smallest that it fits on.
fn least_blanks(problem: &Problem<'_>) -> i128 {
    let smallest = |item: usize| {
        let fitting = (0..problem.strips.len()).filter(|&s| problem.fits(item, s));
        fitting.map(|s| problem.strips[s].area()).min().unwrap_or(0)
    };
    let counts = problem.all_items().into_iter();
    counts.map(|(item, n)| smallest(item) * wide(n)).sum()
}

fn length_measures(problem: &Problem<'_>, strips: &[usize], most: usize) -> Vec<Measure> {
    let sizes = (0..problem.items.len()).map(|i| problem.size(i)).filter(|s| *s > 0);
    let some = some(sizes.collect(), most);
    let rooms: BTreeSet<i64> = strips.iter().map(|&s| problem.room(s)).collect();
    let mut all = vec![Measure::Length];
    all.extend(some.iter().map(|&k| Measure::Pieces { k }));
    if let (Some(&room), 1) = (rooms.first(), rooms.len()) {
        let halves = some.iter().filter(|&&k| k <= room / 2);
        all.extend(halves.map(|&k| Measure::Rounded { k, room }));
    }
    all
}

fn width_measures(problem: &Problem<'_>) -> Vec<Measure> {
    let mut all = vec![Measure::One];
    if problem.any_lanes() {
        let widths = (0..problem.items.len()).map(|i| problem.width(i).nm());
        all.push(Measure::Length);
        let some = some(widths.collect(), MOST_WIDTHS);
        all.extend(some.into_iter().map(|k| Measure::Pieces { k }));
    }
    all
}

/// At most `most` of all values, evenly spread.
fn some(all: BTreeSet<i64>, most: usize) -> Vec<i64> {
    let step = all.len().div_ceil(most).max(1);
    all.into_iter().step_by(step).collect()
}

/// What strips cost at least that cover all pieces, by a measure of lengths and one of widths.
fn cover(
    problem: &Problem<'_>,
    strips: &[usize],
    lengths: Measure,
    widths: Measure,
) -> i128 {
    let all: BTreeSet<Length> =
        (0..problem.items.len()).map(|i| problem.width(i)).collect();
    let narrowest = all.first().copied().unwrap_or_default();
    let product = |length, width| i128::from(length) * i128::from(width);
    let counts = problem.all_items().into_iter();
    let worth = |(item, n): (usize, usize)| {
        let width = widths.apply(problem.width(item).nm());
        product(lengths.apply(problem.size(item)), width) * wide(n)
    };
    let wanted: i128 = counts.map(worth).sum();
    let worth = |&strip: &usize| {
        let own = problem.strips[strip].class.width;
        // A piece that the strip suits may be a little wider.
        let widest = all.range(..=own + problem.allowances.width).next_back();
        let width = if let Measure::One = widths {
            problem.most_lanes(strip, narrowest)
        } else {
            widths.apply(own.max(widest.copied().unwrap_or_default()).nm())
        };
        product(lengths.apply(problem.room(strip)), width)
    };
    let unit = strips.iter().map(worth).max().unwrap_or(0) / LARGEST + 1;
    let offer = |strip: &usize| Offer {
        area: problem.strips[*strip].area(),
        worth: (worth(strip) + unit - 1) / unit,
        count: wide(problem.strips[*strip].members.len()),
    };
    let all = strips.iter().map(offer);
    let mut offers: Vec<Offer> = all.filter(|o| o.worth > 0).collect();
    let wanted = wanted / unit;
    relaxed(&mut offers, wanted).max(fewest(&mut offers, wanted))
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
