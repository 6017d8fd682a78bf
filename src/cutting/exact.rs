//! The best packing of few pieces.
//!
//! Dynamic programming over all choices of pieces; equal pieces are told apart by number only.
//! For one size of strip, a choice is cut from one strip, or from the strip with its last piece
//! and the best of the rest. The lanes of a strip are found in the same way. The sizes of strip
//! are then taken one after another, and each serves some part of the choice. All parts of all
//! choices are looked at, so the work is known before.

use super::problem::{Counts, Packing, Pattern, Problem};
use crate::geom::Length;
use std::cmp::Reverse;

/// Steps that [`pack`] would take with so many sizes of strip. Saturates. Never less than for
/// one size, since the memory depends on the items alone.
pub(super) fn work(items: &Counts, strips: usize) -> u64 {
    let pairs = items.iter().fold(1_u64, |product, (_, count)| {
        let n = u64::try_from(*count).unwrap_or(u64::MAX).min(u64::from(u32::MAX));
        product.saturating_mul((n + 1).saturating_mul(n + 2) / 2)
    });
    pairs.saturating_mul(u64::try_from(strips.max(1)).unwrap_or(u64::MAX))
}

/// Items as digits: a choice of pieces is a number whose digits say how many of each item.
struct Choices<'a> {
    items: &'a [(usize, usize)],
    strides: Vec<usize>,
    all: usize,
}

impl<'a> Choices<'a> {
    fn new(items: &'a [(usize, usize)]) -> Self {
        let mut all = 1;
        let strides = items
            .iter()
            .map(|(_, count)| {
                let stride = all;
                all *= count + 1;
                stride
            })
            .collect();
        Self { items, strides, all }
    }

    /// How many of each item that has any: digit and stride.
    fn digits(&self, choice: usize, into: &mut Vec<(usize, usize)>) {
        into.clear();
        for ((_, count), stride) in self.items.iter().zip(&self.strides) {
            let digit = choice / stride % (count + 1);
            if digit > 0 {
                into.push((digit, *stride));
            }
        }
    }

    /// The last item that has any: its place in `items`.
    fn last(&self, choice: usize) -> usize {
        self.strides.iter().rposition(|stride| choice >= *stride).unwrap_or(0)
    }

    /// The items of a choice, one entry a piece.
    fn expand(&self, choice: usize) -> Vec<usize> {
        let digit = |((item, count), stride): (&(usize, usize), &usize)| {
            std::iter::repeat_n(*item, choice / stride % (count + 1))
        };
        self.items.iter().zip(&self.strides).flat_map(digit).collect()
    }
}

/// Calls `visit` for every choice within the digits.
fn each_part(
    digits: &[(usize, usize)],
    taken: &mut Vec<usize>,
    mut visit: impl FnMut(usize),
) {
    taken.clear();
    taken.resize(digits.len(), 0);
    let mut part = 0;
    loop {
        visit(part);
        let mut at = 0;
        loop {
            let Some(&(digit, stride)) = digits.get(at) else { return };
            if taken[at] < digit {
                taken[at] += 1;
                part += stride;
                break;
            }
            part -= taken[at] * stride;
            taken[at] = 0;
            at += 1;
        }
    }
}

/// A choice on one lane: the sum of its sizes, and the width of its widest piece.
type Lane = Option<(i64, Length)>;

/// A choice on one strip: the width of its lanes together, the longest offcut, and which part
/// of the choice is the first lane.
type OneStrip = Option<(Length, Reverse<i64>, usize)>;

/// A choice on strips of one size: how many they are, the longest offcut, and which part of the
/// choice lies on the first of them.
type SomeStrips = Option<(usize, Reverse<i64>, usize)>;

/// The best so far for a choice: area, strips, longest offcut.
type Best = (i128, usize, Reverse<i64>);

/// What one size of strip can give.
struct Step {
    strip: usize,
    one: Vec<OneStrip>,
    some: Vec<SomeStrips>,
    /// For every choice the part that is cut from this size.
    parts: Vec<usize>,
}

/// The best packing of these items on these strips: no other opens less leather, or of those
/// fewer strips; and none of one lane a strip has a longer offcut then.
pub(super) fn pack(problem: &Problem<'_>, items: &Counts, strips: &Counts) -> Packing {
    let choices = Choices::new(items);
    let mut best: Vec<Option<Best>> = vec![None; choices.all];
    best[0] = Some((0, 0, Reverse(i64::MIN)));
    let mut steps: Vec<Step> = Vec::new();
    let (mut digits, mut taken) = (Vec::new(), Vec::new());
    for &(strip, supply) in strips {
        if supply == 0 || !items.iter().any(|&(item, _)| problem.fits(item, strip)) {
            continue;
        }
        let (one, some) = fewest_strips(problem, &choices, strip, supply);
        let area = problem.strips[strip].area();
        let mut parts = vec![0; choices.all];
        for choice in (1..choices.all).rev() {
            choices.digits(choice, &mut digits);
            let mut found = best[choice];
            each_part(&digits, &mut taken, |part| {
                let (Some((cost, count, offcut)), Some((n, here, _))) =
                    (best[choice - part], some[part])
                else {
                    return;
                };
                if part == 0 || n > supply {
                    return;
                }
                let area = area * i128::try_from(n).unwrap_or(i128::MAX);
                let now = (cost + area, count + n, offcut.min(here));
                if found.is_none_or(|found| now < found) {
                    found = Some(now);
                    parts[choice] = part;
                }
            });
            best[choice] = found;
        }
        steps.push(Step { strip, one, some, parts });
    }
    read_back(problem, &choices, &best, &steps)
}

/// For every choice how it lies on one strip, and on the fewest strips of one size; of those
/// the one with the longest offcut.
fn fewest_strips(
    problem: &Problem<'_>,
    choices: &Choices<'_>,
    strip: usize,
    supply: usize,
) -> (Vec<OneStrip>, Vec<SomeStrips>) {
    let is_blank = problem.is_blank(strip);
    let room = problem.room(strip);
    let width = problem.strips[strip].class.width;
    let narrowest = problem.narrowest(choices.items.iter().map(|(item, _)| *item));
    let has_lanes = problem.most_lanes(strip, narrowest) > 1;
    let mut lanes: Vec<Lane> = vec![None; choices.all];
    lanes[0] = Some((0, Length::ZERO));
    let mut one: Vec<OneStrip> = vec![None; choices.all];
    let mut some: Vec<SomeStrips> = vec![None; choices.all];
    some[0] = Some((0, Reverse(i64::MIN), 0));
    let (mut digits, mut taken) = (Vec::new(), Vec::new());
    for choice in 1..choices.all {
        let last = choices.last(choice);
        let (item, stride) = (choices.items[last].0, choices.strides[last]);
        if !problem.fits(item, strip) {
            continue;
        }
        let rest = choice - stride;
        lanes[choice] = lanes[rest]
            .map(|(sizes, widest)| {
                (sizes + problem.size(item), widest.max(problem.width(item)))
            })
            .filter(|(sizes, _)| if is_blank { rest == 0 } else { *sizes <= room });
        if let Some((sizes, widest)) = lanes[choice] {
            let offcut = Reverse(problem.offcut(strip, sizes));
            one[choice] = Some((widest, offcut, choice));
            some[choice] = Some((1, offcut, choice));
            continue;
        }
        choices.digits(rest, &mut digits);
        let (mut together, mut apart) = (None, None);
        each_part(&digits, &mut taken, |with| {
            let (first, left) = (with + stride, rest - with);
            if has_lanes
                && let (Some((sizes, widest)), Some((others, offcut, _))) =
                    (lanes[first], one[left])
                && widest + others <= width
            {
                let offcut = offcut.min(Reverse(problem.offcut(strip, sizes)));
                let now = (widest + others, offcut, first);
                together = Some(together.map_or(now, |t| now.min(t)));
            }
            if let (Some((_, offcut, _)), Some((count, others, _))) =
                (one[first], some[left])
                && count < supply
            {
                let now = (count + 1, offcut.min(others), first);
                apart = Some(apart.map_or(now, |a| now.min(a)));
            }
        });
        one[choice] = together;
        some[choice] = together.map(|(_, offcut, _)| (1, offcut, choice)).or(apart);
    }
    (one, some)
}

fn read_back(
    problem: &Problem<'_>,
    choices: &Choices<'_>,
    best: &[Option<Best>],
    steps: &[Step],
) -> Packing {
    let lacking = |choice: usize| {
        let left = choices.expand(choices.all - 1 - choice);
        let nm = left.iter().map(|&i| i128::from(problem.items[i].length.nm()));
        (left.len(), nm.sum::<i128>())
    };
    let all = best.iter().enumerate().filter_map(|(choice, b)| Some((choice, (*b)?)));
    let chosen = all.min_by_key(|(choice, best)| (lacking(*choice), *best));
    let mut choice = chosen.map_or(0, |(choice, _)| choice);
    let lacking = choices.expand(choices.all - 1 - choice);
    let mut patterns = Vec::new();
    for step in steps.iter().rev() {
        let mut here = step.parts[choice];
        choice -= here;
        while let Some((1.., _, first)) = step.some[here] {
            here -= first;
            let mut on_strip = first;
            let mut lanes = Vec::new();
            while let Some((_, _, lane)) = step.one[on_strip] {
                lanes.push(choices.expand(lane));
                on_strip -= lane;
            }
            patterns.push(Pattern { strip: step.strip, lanes });
        }
    }
    Packing { patterns, lacking }
}
