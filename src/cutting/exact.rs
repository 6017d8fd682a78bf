//! The best packing there is, for few pieces.
//!
//! Dynamic programming over all choices of pieces, equal ones told apart by number only. For
//! one rack, a choice is cut from one strip, or from the strip with its shortest piece and
//! the best of the rest. Racks are then taken one after another, each giving strips to some
//! part of the choice. All parts of all choices are looked at, so the work is known before.

use super::problem::{Counts, Filled, Packing, Problem};
use std::cmp::Reverse;

/// Steps that [`pack`] would take. Saturates.
pub(super) fn work(lots: &Counts, racks: usize) -> u64 {
    let pairs = lots.iter().fold(1_u64, |product, (_, count)| {
        let n = u64::try_from(*count).unwrap_or(u64::MAX).min(u64::from(u32::MAX));
        product.saturating_mul((n + 1).saturating_mul(n + 2) / 2)
    });
    pairs.saturating_mul(u64::try_from(racks).unwrap_or(u64::MAX))
}

/// Lots as digits: a choice of pieces is a number whose digits say how many of each lot.
struct Choices<'a> {
    lots: &'a [(usize, usize)],
    strides: Vec<usize>,
    all: usize,
}

impl<'a> Choices<'a> {
    fn new(lots: &'a [(usize, usize)]) -> Self {
        let mut all = 1;
        let strides = lots
            .iter()
            .map(|(_, count)| {
                let stride = all;
                all *= count + 1;
                stride
            })
            .collect();
        Self { lots, strides, all }
    }

    /// How many of each lot that has any: digit and stride.
    fn digits(&self, choice: usize, into: &mut Vec<(usize, usize)>) {
        into.clear();
        for ((_, count), stride) in self.lots.iter().zip(&self.strides) {
            let digit = choice / stride % (count + 1);
            if digit > 0 {
                into.push((digit, *stride));
            }
        }
    }

    /// The last lot that has any: its place in `lots`.
    fn last(&self, choice: usize) -> usize {
        self.strides.iter().rposition(|stride| choice >= *stride).unwrap_or(0)
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

/// How many strips of one rack a choice takes, with the longest offcut; and which part of
/// it lies on the first of them.
#[derive(Clone, Copy)]
struct OnRack {
    strips: usize,
    offcut: i64,
    first: usize,
}

const CANNOT: OnRack = OnRack { strips: usize::MAX, offcut: i64::MIN, first: 0 };

/// The best so far for a choice: area, strips, longest offcut.
type Best = (i128, usize, Reverse<i64>);

/// The best packing of these lots on these racks (each with how many there are): no other
/// has a lower score.
pub(super) fn pack(problem: &Problem<'_>, lots: &Counts, racks: &Counts) -> Packing {
    let choices = Choices::new(lots);
    let mut best: Vec<Option<Best>> = vec![None; choices.all];
    best[0] = Some((0, 0, Reverse(i64::MIN)));
    // For every rack and choice: the part that is cut from this rack.
    let mut steps: Vec<(usize, Vec<OnRack>, Vec<usize>)> = Vec::new();
    let (mut digits, mut taken) = (Vec::new(), Vec::new());
    for &(rack, supply) in racks {
        if supply == 0 || !lots.iter().any(|&(lot, _)| problem.fits(lot, rack)) {
            continue;
        }
        let on = on_rack(problem, &choices, rack, supply);
        let area = problem.racks[rack].area();
        let mut parts = vec![0; choices.all];
        for choice in (1..choices.all).rev() {
            choices.digits(choice, &mut digits);
            let mut found = best[choice];
            let mut cut_here = 0;
            each_part(&digits, &mut taken, |part| {
                let here = on[part];
                let Some((cost, strips, offcut)) = best[choice - part] else { return };
                if part == 0 || here.strips > supply {
                    return;
                }
                let count = i128::try_from(here.strips).unwrap_or(i128::MAX);
                let now = (
                    cost + area * count,
                    strips + here.strips,
                    Reverse(offcut.0.max(here.offcut)),
                );
                if found.is_none_or(|found| now < found) {
                    found = Some(now);
                    cut_here = part;
                }
            });
            best[choice] = found;
            parts[choice] = cut_here;
        }
        steps.push((rack, on, parts));
    }
    read_back(problem, &choices, &best, &steps)
}

/// For every choice, the fewest strips of one rack, and of those the longest offcut.
fn on_rack(
    problem: &Problem<'_>,
    choices: &Choices<'_>,
    rack: usize,
    supply: usize,
) -> Vec<OnRack> {
    let single = problem.is_single(rack);
    let room = problem.room(rack);
    // Sum of sizes where the choice fits on one strip.
    let mut one: Vec<Option<i64>> = vec![None; choices.all];
    one[0] = Some(0);
    let mut on = vec![CANNOT; choices.all];
    on[0] = OnRack { strips: 0, offcut: i64::MIN, first: 0 };
    let (mut digits, mut taken) = (Vec::new(), Vec::new());
    for choice in 1..choices.all {
        let last = choices.last(choice);
        let (lot, stride) = (choices.lots[last].0, choices.strides[last]);
        if !problem.fits(lot, rack) {
            continue;
        }
        let rest = choice - stride;
        one[choice] = one[rest]
            .map(|sizes| sizes + problem.size(lot))
            .filter(|sizes| if single { rest == 0 } else { *sizes <= room });
        if let Some(sizes) = one[choice] {
            let offcut = problem.offcut(rack, sizes);
            on[choice] = OnRack { strips: 1, offcut, first: choice };
            continue;
        }
        choices.digits(rest, &mut digits);
        let mut found = CANNOT;
        each_part(&digits, &mut taken, |with| {
            let (first, left) = (with + stride, rest - with);
            let (Some(sizes), others) = (one[first], on[left]) else { return };
            if others.strips >= supply {
                return;
            }
            let strips = others.strips + 1;
            let offcut = others.offcut.max(problem.offcut(rack, sizes));
            if (strips, Reverse(offcut)) < (found.strips, Reverse(found.offcut)) {
                found = OnRack { strips, offcut, first };
            }
        });
        on[choice] = found;
    }
    on
}

fn read_back(
    problem: &Problem<'_>,
    choices: &Choices<'_>,
    best: &[Option<Best>],
    steps: &[(usize, Vec<OnRack>, Vec<usize>)],
) -> Packing {
    let expand = |choice: usize| -> Vec<usize> {
        let digit = |((lot, count), stride): (&(usize, usize), &usize)| {
            std::iter::repeat_n(*lot, choice / stride % (count + 1))
        };
        choices.lots.iter().zip(&choices.strides).flat_map(digit).collect()
    };
    let lacking = |choice: usize| {
        let left = expand(choices.all - 1 - choice);
        let nm = left.iter().map(|&l| i128::from(problem.lots[l].length.nm()));
        (left.len(), nm.sum::<i128>())
    };
    let all = best.iter().enumerate().filter_map(|(choice, b)| Some((choice, (*b)?)));
    let chosen = all.min_by_key(|(choice, best)| (lacking(*choice), *best));
    let chosen = chosen.map_or(0, |(choice, _)| choice);
    let mut packing =
        Packing { strips: Vec::new(), lacking: expand(choices.all - 1 - chosen) };
    let mut choice = chosen;
    for (rack, on, parts) in steps.iter().rev() {
        let mut here = parts[choice];
        choice -= here;
        while here > 0 {
            let first = on[here].first;
            packing.strips.push(Filled { rack: *rack, lots: expand(first) });
            here -= first;
        }
    }
    packing
}
