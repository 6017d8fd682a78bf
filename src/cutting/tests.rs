//! The ways of packing against each other and against trying everything.

use super::group::groups;
use super::solve::{self, Solved};
use super::*;
use crate::words::Wording;
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

/// Whether the pieces lie on the strip in lanes, by trying every lane for every piece.
/// `lanes` has those that are begun: the width of each, and the length of its pieces.
fn lies_in_lanes(
    pieces: &[&Cut],
    strip: &Stock,
    a: &Allowances,
    lanes: &mut Vec<(Length, Length)>,
) -> bool {
    let Some((piece, others)) = pieces.split_first() else {
        return lanes.iter().map(|(width, _)| *width).sum::<Length>() <= strip.width
            && lanes.iter().all(|(_, length)| *length + a.ends * 2 <= strip.length);
    };
    for at in 0..=lanes.len() {
        let before = lanes.clone();
        if at == lanes.len() {
            lanes.push((piece.width, piece.length));
        } else {
            lanes[at].0 = lanes[at].0.max(piece.width);
            lanes[at].1 += a.between + piece.length;
        }
        if lies_in_lanes(others, strip, a, lanes) {
            return true;
        }
        *lanes = before;
    }
    false
}

/// The least of: pieces without a strip, their length, leather opened, strips opened. By
/// trying every strip for every piece, and every lane.
fn best_in_lanes(
    cuts: &[Cut],
    strips: &[&Stock],
    a: &Allowances,
) -> (usize, Length, i128, usize) {
    let ways = (strips.len() + 1).pow(u32::try_from(cuts.len()).unwrap());
    let of_way = |way: usize| {
        let on =
            |piece: usize| way / (strips.len() + 1).pow(u32::try_from(piece).unwrap());
        let on = |piece: usize| on(piece) % (strips.len() + 1);
        let pieces = |strip: usize| -> Vec<&Cut> {
            (0..cuts.len()).filter(|&p| on(p) == strip).map(|p| &cuts[p]).collect()
        };
        let lacking = pieces(strips.len());
        let mut score =
            (lacking.len(), lacking.iter().map(|c| c.length).sum(), 0_i128, 0_usize);
        for (i, strip) in
            strips.iter().enumerate().filter(|(i, _)| !pieces(*i).is_empty())
        {
            if !lies_in_lanes(&pieces(i), strip, a, &mut Vec::new()) {
                return None;
            }
            score.2 += i128::from(strip.length.nm()) * i128::from(strip.width.nm());
            score.3 += 1;
        }
        Some(score)
    };
    (0..ways).filter_map(of_way).min().unwrap()
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
        let good = solve::good(only(groups(&cuts, &stock, &exact)), 20_000, 10_000);
        prop_assert!(score(&good) >= score(&best));
        if score(&best).lacking == 0 {
            prop_assert!(good.least <= score(&best).area, "the bound is above the best");
        }
        if good.is_fewest_lacking {
            prop_assert_eq!(score(&good).lacking, score(&best).lacking);
        }
    }

    #[test]
    fn small_groups_are_planned_in_the_best_lanes(
        pieces in prop::collection::vec((5_i64..30, 0..3_usize), 1..6),
        stock in prop::collection::vec((10_i64..60, 15_i64..60, 1_u32..3), 1..3),
        allowances in allowances(),
    ) {
        let piece = |&(l, w): &(i64, usize)| Cut {
            width: mm([12, 15, 20][w]),
            ..cut(l, Kind::Strip)
        };
        let cuts: Vec<Cut> = pieces.iter().map(piece).collect();
        let mut stock: Vec<Stock> =
            stock.into_iter().map(|(l, w, n)| strips(l, w, n, Kind::Strip)).collect();
        // One that suits all, so that there is one group.
        stock.push(strips(15, 20, 1, Kind::Strip));
        let allowances = Allowances { width: Length::ZERO, rip: true, ..allowances };
        let each: Vec<&Stock> =
            stock.iter().flat_map(|s| std::iter::repeat_n(s, s.count as usize)).collect();
        let all = best_in_lanes(&cuts, &each, &allowances);
        let shown = |s: Score| (s.lacking, s.lacking_nm, s.area, s.strips);
        let all = (all.0, i128::from(all.1.nm()), all.2, all.3);
        let best = solve::best(only(groups(&cuts, &stock, &allowances)));
        prop_assert_eq!(shown(score(&best)), all);
        let good = solve::good(only(groups(&cuts, &stock, &allowances)), 20_000, 10_000);
        prop_assert!(shown(score(&good)) >= all);
        prop_assert!(!good.is_fewest_lacking || score(&good).lacking == all.0);
        if all.0 == 0 {
            prop_assert!(good.least <= all.2, "the bound is above the best");
            prop_assert!(best.in_lanes == (good.least < all.2) || !best.problem.any_lanes());
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
        let good = solve::good(only(groups(&cuts, &stock, &allowances)), 20_000, 10_000);
        let score = score(&good);
        if score.lacking == 0 {
            prop_assert!(good.least <= score.area);
            let needed: i64 = lengths.iter().sum::<i64>() * 38;
            prop_assert!(good.least >= i128::from(needed) * 1_000_000_000_000);
        }
    }
}

/// In lanes these three take two strips, of which the bound knows nothing: across the first
/// half of the strip lies the wide piece, along the second half the two narrow ones.
#[test]
fn what_is_proven_for_lanes_alone_is_said() {
    let narrow = Cut { width: mm(40), ..cut(900, Kind::Strip) };
    let cuts = [Cut { width: mm(80), ..cut(500, Kind::Strip) }, narrow.clone(), narrow];
    let stock = [strips(1_500, 80, 2, Kind::Strip)];
    let allowances = Allowances { rip: true, ..Allowances::default() };
    let solved = solve::best(only(groups(&cuts, &stock, &allowances)));
    assert_eq!((score(&solved).strips, solved.in_lanes), (2, true));
    let made = plan(&cuts, &stock, &allowances).unwrap();
    assert_eq!((made.at_most_less, made.in_lanes), (0, true));
    assert!(
        text(&made, &cuts, Wording::default())
            .ends_with("\nNo plan in such lanes opens less leather.\n")
    );
    // With one strip some piece lacks leather in lanes, though perhaps not otherwise.
    let one = [Stock { count: 1, ..stock[0].clone() }];
    let solved = solve::best(only(groups(&cuts, &one, &allowances)));
    assert_eq!((score(&solved).lacking, solved.is_fewest_lacking), (1, false));
}

/// The largest numbers that a list may have: nothing overflows.
#[test]
fn the_largest_strips_are_planned() {
    let piece = |n: i64| Cut {
        length: LONGEST - mm(500 + n),
        width: LONGEST / (n % 7 + 2),
        ..cut(1, Kind::Strip)
    };
    let strip = |n: i64| Stock {
        length: LONGEST,
        width: LONGEST - mm(n),
        ..strips(1, 1, 9, Kind::Strip)
    };
    let cuts: Vec<Cut> = (0..40).map(piece).collect();
    let stock: Vec<Stock> = (0..5).map(strip).collect();
    let allowances = Allowances { rip: true, ..Allowances::default() };
    let made = plan(&cuts, &stock, &allowances).unwrap();
    assert!(made.lacking.is_empty());
    assert!(made.strips.len() < 20, "{}", made.strips.len());
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
        patterns: (0..5)
            .map(|item| problem::Pattern { strip: 0, lanes: vec![vec![item]] })
            .collect(),
        lacking: Vec::new(),
    };
    improve::improve(&problem, &mut packing, 100_000);
    assert_eq!(packing.patterns.len(), 2);
    assert_eq!(bound::least_area(&problem), 2 * 100 * 38 * 1_000_000_000_000);
}
