//! The ways of packing against each other and against trying everything.

use super::group::groups;
use super::solve::{self, Solved};
use super::*;
use problem::{Problem, Score};
use proptest::prelude::*;
use std::cmp::Reverse;

fn mm(n: i64) -> Length {
    Length::from_mm(n)
}

fn cut(length: i64, kind: Kind) -> Cut {
    Cut {
        order: "Lantern Street".to_owned(),
        piece: "strap".to_owned(),
        length: mm(length),
        width: mm(38),
        thickness: mm(3),
        kind,
        span: None,
    }
}

fn strips(length: i64, width: i64, count: u32, kind: Kind) -> Stock {
    Stock {
        name: format!("{length}"),
        kind,
        length: mm(length),
        width: mm(width),
        thickness: mm(3),
        count,
        span: None,
    }
}

/// Tries every strip for every piece.
fn try_all(cuts: &[Cut], stock: &[Stock], allowances: &Allowances) -> Score {
    let strips: Vec<&Stock> =
        stock.iter().flat_map(|s| std::iter::repeat_n(s, s.count as usize)).collect();
    let mut on = vec![None; cuts.len()];
    let mut best = None;
    each_way(cuts, &strips, allowances, 0, &mut on, &mut best);
    best.unwrap()
}

fn each_way(
    cuts: &[Cut],
    strips: &[&Stock],
    allowances: &Allowances,
    at: usize,
    on: &mut Vec<Option<usize>>,
    best: &mut Option<Score>,
) {
    if at == cuts.len() {
        let score = by_hand(cuts, strips, allowances, on);
        if score.is_some() && (best.is_none() || score < *best) {
            *best = score;
        }
        return;
    }
    for strip in (0..strips.len()).map(Some).chain([None]) {
        on[at] = strip;
        each_way(cuts, strips, allowances, at + 1, on, best);
    }
}

/// The score of one way, `None` when something does not fit. Worked out anew here.
fn by_hand(
    cuts: &[Cut],
    strips: &[&Stock],
    a: &Allowances,
    on: &[Option<usize>],
) -> Option<Score> {
    let lacking = || cuts.iter().zip(on).filter(|(_, on)| on.is_none());
    let mut score = Score {
        lacking: lacking().count(),
        lacking_nm: lacking().map(|(c, _)| i128::from(c.length.nm())).sum(),
        area: 0,
        strips: 0,
        offcut: Reverse(0),
    };
    for (i, strip) in strips.iter().enumerate() {
        let here: Vec<&Cut> = cuts
            .iter()
            .zip(on)
            .filter(|(_, on)| **on == Some(i))
            .map(|(c, _)| c)
            .collect();
        if here.is_empty() {
            continue;
        }
        let is_strip = strip.kind == Kind::Strip;
        let wide = |c: &Cut| a.rip && is_strip && c.width < strip.width;
        let length: Length = here.iter().map(|c| c.length).sum();
        let n = i64::try_from(here.len()).unwrap();
        let ends = if is_strip { a.ends } else { Length::ZERO };
        let end = ends + length + a.between * (n - 1);
        let fine = here.iter().all(|c| c.width == strip.width || wide(c))
            && here.iter().all(|c| c.kind == strip.kind)
            && end + ends <= strip.length
            && (is_strip || n == 1)
            && (strip.kind != Kind::CutBlank || length == strip.length);
        if !fine {
            return None;
        }
        score.area += i128::from(strip.length.nm()) * i128::from(strip.width.nm());
        score.strips += 1;
        score.offcut = score.offcut.min(Reverse((strip.length - end).nm()));
    }
    Some(score)
}

fn only(mut problems: Vec<Problem<'_>>) -> Problem<'_> {
    assert_eq!(problems.len(), 1);
    problems.remove(0)
}

fn score(solved: &Solved<'_>) -> Score {
    solved.packing.score(&solved.problem)
}

fn allowances() -> impl Strategy<Value = Allowances> {
    (0_i64..3, 0_i64..6, any::<bool>()).prop_map(|(between, ends, rip)| Allowances {
        between: mm(between),
        ends: mm(ends),
        rip,
        ..Allowances::default()
    })
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 1_500,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    #[test]
    fn small_groups_are_planned_in_the_best_way(
        lengths in prop::collection::vec((5_i64..30).prop_map(|n| n * 2), 1..6),
        stock in prop::collection::vec(((10_i64..60).prop_map(|n| n * 2), 38_i64..41, 1_u32..3), 1..3),
        kind in prop::sample::select(Kind::ALL.as_slice()),
        allowances in allowances(),
    ) {
        let cuts: Vec<Cut> = lengths.iter().map(|&l| cut(l, kind)).collect();
        let mut stock: Vec<Stock> =
            stock.into_iter().map(|(l, w, n)| strips(l, w, n, kind)).collect();
        // One of the lengths asked for, so that cut blanks fit too.
        stock.push(strips(lengths[0], 38, 1, kind));
        let exact = Allowances { width: Length::ZERO, ..allowances };
        let all = try_all(&cuts, &stock, &exact);
        let best = solve::best(only(groups(&cuts, &stock, &exact)));
        prop_assert_eq!(score(&best), all);
        let good = solve::good(only(groups(&cuts, &stock, &exact)), 20_000);
        prop_assert!(score(&good) >= score(&best));
        if score(&best).lacking == 0 {
            prop_assert!(good.least <= score(&best).area, "the bound is above the best");
        }
        if good.certain {
            prop_assert_eq!(score(&good).lacking, score(&best).lacking);
        }
    }

    #[test]
    fn no_bound_is_above_a_plan(
        lengths in prop::collection::vec(100_i64..1_500, 1..60),
        stock in prop::collection::vec((1_500_i64..3_000, 1_u32..30), 1..5),
        allowances in allowances(),
    ) {
        let cuts: Vec<Cut> = lengths.iter().map(|&l| cut(l, Kind::Strip)).collect();
        let stock: Vec<Stock> =
            stock.into_iter().map(|(l, n)| strips(l, 38, n, Kind::Strip)).collect();
        let good = solve::good(only(groups(&cuts, &stock, &allowances)), 20_000);
        let score = score(&good);
        if score.lacking == 0 {
            prop_assert!(good.least <= score.area);
            let needed: i64 = lengths.iter().sum::<i64>() * 38;
            prop_assert!(good.least >= i128::from(needed) * 1_000_000_000_000);
        }
    }
}

/// What is gained by packing a few strips anew shows: the best fit alone takes three strips
/// here, 60 + 40 and 50 + 30 + 20 fill two.
#[test]
fn a_good_packing_is_made_better() {
    let lengths = [60, 50, 40, 30, 20];
    let cuts: Vec<Cut> = lengths.iter().map(|&l| cut(l, Kind::Strip)).collect();
    let stock = [strips(100, 38, 9, Kind::Strip)];
    let none = Length::ZERO;
    let allowances = Allowances { between: none, ends: none, ..Allowances::default() };
    let problem = only(groups(&cuts, &stock, &allowances));
    // A strip for each piece, to begin with.
    let mut packing = problem::Packing {
        strips: (0..5).map(|lot| problem::Filled { rack: 0, lots: vec![lot] }).collect(),
        lacking: Vec::new(),
    };
    improve::improve(&problem, &mut packing, 100_000);
    assert_eq!(packing.strips.len(), 2);
    assert_eq!(bound::least_area(&problem), 2 * 100 * 38 * 1_000_000_000_000);
}
