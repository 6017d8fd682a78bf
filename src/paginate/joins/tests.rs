//! Placements compared with the best of all placements on whole millimetres, by brute force.

use super::*;
use crate::random::Random;

fn mm(n: i64) -> Length {
    Length::from_mm(n)
}

fn extent(a: i64, b: i64) -> Extent {
    Extent::new(mm(a), mm(b))
}

fn obstacle(a: i64, b: i64, kind: ObstacleKind) -> Obstacle {
    Obstacle { extent: extent(a, b), kind }
}

fn run(whole: Extent, window: i64, obstacles: &[Obstacle]) -> JoinProblem<'_> {
    let (short, folded, fixed) = (None, &[][..], &[][..]);
    JoinProblem { whole, max_tile: mm(window), short, obstacles, folded, fixed }
}

/// The costs in the order that `joins` states: marks, curves, whether there
/// are pricks, joins, pricks, obstacles on a match line.
type Weight = (usize, usize, bool, usize, usize, usize);

fn weight(cost: JoinCost, lines: usize) -> Weight {
    let JoinCost { marks, curves, pricks, on_line } = cost;
    (marks, curves, pricks > 0, lines, pricks, on_line)
}

/// What a match line does, by the definition.
fn naive(x: Length, obstacles: &[Obstacle]) -> JoinCost {
    let mut cost = JoinCost::default();
    for o in obstacles {
        let near = o.extent.from < x + mm(10) && o.extent.to > x - mm(10);
        let count = usize::from(near);
        match o.kind {
            ObstacleKind::Mark => cost.marks += count,
            ObstacleKind::Curve => cost.curves += count,
            ObstacleKind::Prick => cost.pricks += count,
        }
        cost.on_line += usize::from(o.extent.from < x && x < o.extent.to);
    }
    cost
}

/// Whether some tile has all of each mark.
fn all_whole(run: &JoinProblem<'_>, lines: &[Length]) -> bool {
    let starts = [run.whole.from].into_iter().chain(lines.iter().map(|&x| x - mm(8)));
    let ends = lines.iter().map(|&x| x + mm(8)).chain([run.whole.to]);
    let tiles: Vec<(Length, Length)> = starts.zip(ends).collect();
    let marks = run.obstacles.iter().filter(|o| o.kind != ObstacleKind::Curve);
    let mut marks = marks.map(|o| o.extent);
    marks.all(|m| tiles.iter().any(|(from, to)| *from <= m.from && m.to <= *to))
}

fn longest(run: &JoinProblem<'_>, tile: usize) -> Length {
    match run.short {
        Some((t, length)) if t == tile => length,
        _ => run.max_tile,
    }
}

/// Every placement on whole millimetres that the limits allow, with its cost.
fn all_placements(
    run: &JoinProblem<'_>,
    most: usize,
    done: &mut Vec<Length>,
    cost: JoinCost,
    see: &mut impl FnMut(&[Length], JoinCost),
) {
    if let Some(&x) = done.last()
        && run.whole.to - x + mm(8) <= longest(run, done.len())
        && done.len() >= run.fixed.len()
    {
        see(done, cost);
    }
    if done.len() == most {
        return;
    }
    let (mut x, high) = match done.last() {
        None => (run.whole.from + mm(24), run.whole.from + longest(run, 0) - mm(8)),
        Some(&x) => (x + mm(24), x + longest(run, done.len()) - mm(16)),
    };
    while x <= high.min(run.whole.to - mm(24)) {
        if run.fixed.get(done.len()).is_none_or(|k| *k == x) {
            done.push(x);
            all_placements(run, most, done, cost + naive(x, run.obstacles), see);
            done.pop();
        }
        x += mm(1);
    }
}

/// How far lines are from equal tiles, in sum; those that are kept aside.
fn off(run: &JoinProblem<'_>, lines: &[Length]) -> i64 {
    let kept = run.fixed.len();
    let from = run.fixed.last().map_or(run.whole.from, |&line| line - mm(8));
    let rest = i64::try_from(lines.len() - kept).unwrap();
    let all = (run.whole.to - from).nm() + 16_000_000 * rest;
    let ideal = |i: i64| from.nm() + all * i / (rest + 1) - (16 * i - 8) * 1_000_000;
    lines[kept..].iter().zip(1..).map(|(x, i)| (x.nm() - ideal(i)).abs()).sum()
}

/// The least weight by force, and the least sum of distances from equal tiles among the
/// placements that have it.
fn by_force(run: &JoinProblem<'_>, most: usize) -> Option<(Weight, i64)> {
    let mut best: Option<(Weight, i64)> = None;
    all_placements(
        run,
        most,
        &mut Vec::new(),
        JoinCost::default(),
        &mut |lines, cost| {
            let found = weight(cost, lines.len());
            if best.is_some_and(|(w, _)| w < found) {
                return;
            }
            let found = (found, off(run, lines));
            if best.is_none_or(|b| found < b) && all_whole(run, lines) {
                best = Some(found);
            }
        },
    );
    best
}

fn compare_with_force(run: &JoinProblem<'_>, what: &str) -> Option<JoinCost> {
    let force = by_force(run, run.max_joins().min(4));
    let Some(joins) = solve(run) else {
        assert_eq!(force, None, "{what}: there is a placement");
        return None;
    };
    let (least, by_force) = force.unwrap_or_else(|| panic!("{what}: {joins:?}"));
    let lines = &joins.places;
    assert_eq!(weight(joins.cost, lines.len()), least, "{what}: {joins:?}");
    let cost: JoinCost = lines.iter().map(|&x| naive(x, run.obstacles)).sum();
    assert_eq!(joins.cost, cost, "{what}");
    assert!(all_whole(run, lines), "{what}: {joins:?}");
    assert_eq!(lines[..run.fixed.len()], *run.fixed, "{what}");
    // Everything is in whole millimetres but the ideal places.
    let own = off(run, lines);
    let lines = i64::try_from(lines.len()).unwrap();
    assert!(own <= by_force + lines, "{what}: {own} > {by_force}");
    assert!(own + 1_000_000 * lines > by_force, "{what}: {own} beside {by_force}");
    Some(joins.cost)
}

#[test]
fn placements_are_as_good_as_the_best_by_force() {
    let mut random = Random::new(7);
    let (mut clear, mut cut, mut none) = (0, 0, 0);
    for case in 0..120 {
        let length = 70 + random.between(0, 70);
        let window = 52 + random.between(0, 18);
        let dense = case % 3;
        let count = [3, 8, 5][dense];
        let mut obstacles: Vec<Obstacle> = (0..count)
            .map(|_| {
                let from = random.between(0, length - 4);
                let long = random.between(0, if dense == 2 { 24 } else { 6 });
                let kind =
                    ObstacleKind::ALL[usize::try_from(random.between(0, 2)).unwrap()];
                obstacle(from, (from + long).min(length), kind)
            })
            .collect();
        if dense == 1 {
            // A seam, and holes on both sides of it.
            obstacles.extend(
                (0..length / 4).map(|i| obstacle(4 * i, 4 * i + 1, ObstacleKind::Prick)),
            );
        }
        let run = run(extent(0, length), window, &obstacles);
        let what = format!("case {case}: {length} in {window}, {obstacles:?}");
        match compare_with_force(&run, &what) {
            None => none += 1,
            Some(cost) if cost == JoinCost::default() => clear += 1,
            Some(_) => cut += 1,
        }
    }
    assert!(clear > 20 && cut > 30 && none < 20, "{clear} clear, {cut} cut, {none} none");
}

#[test]
fn kept_lines_stay_and_the_rest_is_the_best_by_force() {
    let mut random = Random::new(11);
    let mut stayed = 0;
    for case in 0..40 {
        let length = 100 + random.between(0, 40);
        let obstacles: Vec<Obstacle> = (0..4)
            .map(|_| {
                let from = random.between(0, length - 8);
                obstacle(from, from + random.between(0, 5), ObstacleKind::Mark)
            })
            .collect();
        let kept = [mm(24 + random.between(0, 26))];
        let run = JoinProblem { fixed: &kept, ..run(extent(0, length), 60, &obstacles) };
        let what = format!("case {case}: {length}, {kept:?} {obstacles:?}");
        stayed += usize::from(compare_with_force(&run, &what).is_some());
    }
    assert!(stayed > 30, "only {stayed}");
}

#[test]
fn a_join_more_is_better_than_a_mark_that_is_cut() {
    // One line would do, but only between 36 and 52, which the mark covers.
    let marks = [obstacle(40, 50, ObstacleKind::Mark)];
    let run = run(extent(0, 88), 60, &marks);
    let joins = solve(&run).expect("fits");
    assert_eq!((joins.places.len(), joins.cost), (2, JoinCost::default()));
}

#[test]
fn marks_too_dense_to_avoid_are_whole_on_some_tile() {
    let marks: Vec<Obstacle> =
        (0..40).map(|i| obstacle(i * 10, i * 10 + 6, ObstacleKind::Mark)).collect();
    let whole = extent(-3, 409);
    let joins = solve(&run(whole, 150, &marks)).expect("fits");
    assert!(joins.cost.marks > 0);
    let tiles = joins.stretches(whole);
    for m in marks {
        assert!(tiles.iter().any(|t| t.holds(m.extent)), "{m:?}");
    }
    assert!(tiles.iter().all(|t| t.length() <= mm(150)));
}

#[test]
fn what_fits_needs_no_join_and_what_cannot_has_none() {
    assert!(solve(&run(extent(0, 50), 50, &[])).unwrap().places.is_empty());
    assert_eq!(solve(&run(extent(0, 60), 30, &[])), None);
    // A slot longer than a window is whole on no tile.
    let slot = [obstacle(30, 110, ObstacleKind::Mark)];
    assert_eq!(solve(&run(extent(0, 160), 70, &slot)), None);
}

#[test]
fn a_tile_is_as_short_as_one_can_be_by_force() {
    let mut random = Random::new(5);
    let mut seen = 0;
    for case in 0..40 {
        let length = 80 + random.between(0, 70);
        let obstacles: Vec<Obstacle> = (0..4)
            .map(|_| {
                let from = random.between(0, length - 8);
                obstacle(from, from + random.between(0, 5), ObstacleKind::Mark)
            })
            .collect();
        let run = run(extent(0, length), 60, &obstacles);
        let what = format!("case {case}: {length}, {obstacles:?}");
        let found = solve(&run).filter(|j| j.cost == JoinCost::default());
        let Some(joins) = found else { continue };
        let n = joins.places.len();
        let mut least = run.max_tile;
        all_placements(
            &run,
            n,
            &mut Vec::new(),
            JoinCost::default(),
            &mut |lines, cost| {
                if cost == JoinCost::default() && lines.len() == n {
                    let joins = MatchLines { places: lines.to_vec(), cost };
                    let tiles =
                        joins.stretches(run.whole).into_iter().map(Extent::length);
                    least = least.min(tiles.min().unwrap());
                }
            },
        );
        let (tile, found) = shortest_tile(&run, &joins).expect("what does is known");
        assert_eq!(found, least, "{what}");
        let short = JoinProblem { short: Some((tile, found)), ..run };
        assert_eq!(compare_with_force(&short, &what), Some(JoinCost::default()));
        seen += 1;
    }
    assert!(seen > 20, "only {seen}");
}

/// A line leaves an end that is folded back whole, unless that takes a join more.
#[test]
fn an_end_that_is_folded_back_is_one_strip() {
    let whole = extent(-63, 400);
    let lines = |window, folded: &[Extent]| {
        let problem = JoinProblem { folded, ..run(whole, window, &[]) };
        solve(&problem).unwrap().places
    };
    let end = [extent(-60, 0)];
    // Equal tiles of 168.5 mm would end at 97.33 and 239.67 mm.
    assert_eq!(lines(250, &end), lines(250, &[]));
    // The first of four equal tiles would end at 52.75 mm.
    let long = [extent(-60, 70)];
    let (free, kept) = (lines(150, &[]), lines(150, &long));
    assert_eq!(free.len(), kept.len());
    assert!(free[0] < mm(70) && kept[0] >= mm(70), "{free:?} {kept:?}");
    // No tile is long enough for this one.
    let longest = [extent(-60, 200)];
    assert_eq!(lines(150, &longest), free);
    // What cannot be spared costs the other end nothing.
    let both = [extent(70, 280), extent(-60, 70)];
    assert!(lines(150, &both)[0] >= mm(70));
}
