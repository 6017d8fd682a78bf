//! The ticks of a ruler as combs: a row of ticks is one wide line, dashed so that each dash
//! is a tick. The ink is the same, and a sheet takes a quarter of the bytes.

use crate::geom::{Length, Path, Sheet, Step};

/// Fewer teeth than this are drawn one by one.
const FEWEST: usize = 4;

/// Ticks of one height at one distance from each other, along the width of the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Comb {
    /// The middle of the first tick and of the last.
    pub(super) x: [Length; 2],
    /// Where the ticks begin and end.
    pub(super) y: [Length; 2],
    /// From tick to tick.
    pub(super) pitch: Length,
}

/// An upright tick: foot, height with its sign, and place.
type Tick = (Length, Length, Length);

/// The combs that `ticks` are, and the ticks that are in none.
///
/// A long tick is a tooth among the short ones too: what is drawn twice is drawn alike.
pub(super) fn combs(ticks: &[Path<Sheet>]) -> (Vec<Comb>, Vec<&Path<Sheet>>) {
    let mut upright: Vec<(Tick, &Path<Sheet>)> = Vec::with_capacity(ticks.len());
    let mut left = Vec::new();
    for path in ticks {
        match tick(path) {
            Some(tick) => upright.push((tick, path)),
            None => left.push(path),
        }
    }
    upright.sort_unstable_by_key(|(tick, _)| *tick);
    let mut combs = Vec::new();
    let same_side = |a: &(Tick, _), b: &(Tick, _)| {
        (a.0.0, a.0.1 > Length::ZERO) == (b.0.0, b.0.1 > Length::ZERO)
    };
    for side in upright.chunk_by(same_side) {
        let mut heights: Vec<Length> = side.iter().map(|(t, _)| t.1).collect();
        heights.dedup();
        for height in heights {
            let is_tall = |(tick, _): &&(Tick, _)| tick.1.abs() >= height.abs();
            let mut row: Vec<&(Tick, &Path<Sheet>)> =
                side.iter().filter(is_tall).collect();
            row.sort_by_key(|(tick, _)| (tick.2, tick.1.abs()));
            row.dedup_by_key(|(tick, _)| tick.2);
            let mut rest = row.as_slice();
            while let Some(((foot, _, first), _)) = rest.first() {
                let (teeth, pitch) = run(rest);
                let (own, others) = rest.split_at(teeth);
                let last = own.last().map_or(*first, |(tick, _)| tick.2);
                if teeth < FEWEST {
                    // A taller one is drawn with those of its own height.
                    left.extend(own.iter().filter(|o| o.0.1 == height).map(|o| o.1));
                } else {
                    let (x, y) = ([*first, last], [*foot, *foot + height]);
                    combs.push(Comb { x, y, pitch });
                }
                rest = others;
            }
        }
    }
    (combs, left)
}

fn tick(path: &Path<Sheet>) -> Option<Tick> {
    let [Step::Line { to }] = path.steps.as_slice() else { return None };
    let height = to.y - path.start.y;
    let is_upright = !path.closed && to.x == path.start.x && height != Length::ZERO;
    is_upright.then_some((path.start.y, height, to.x))
}

/// How many of a row, from its first on, stand at one distance, and at which.
fn run(row: &[&(Tick, &Path<Sheet>)]) -> (usize, Length) {
    let [first, second, ..] = row else { return (row.len(), Length::ZERO) };
    let pitch = second.0.2 - first.0.2;
    let next = row.windows(2).take_while(|w| w[1].0.2 - w[0].0.2 == pitch);
    (next.count() + 1, pitch)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Point;

    fn ruler(at: &[i64]) -> Vec<Path<Sheet>> {
        let mm = Length::from_mm;
        let tick = |&x: &i64| {
            let height = if x % 5 == 0 { 2 } else { 1 };
            Path::line(Point::new(mm(x), mm(7)), Point::new(mm(x), mm(7 + height)))
        };
        at.iter().map(tick).collect()
    }

    #[test]
    fn a_ruler_is_a_comb_of_each_height() {
        let all: Vec<i64> = (0..=20).rev().collect();
        let ticks = ruler(&all);
        let (combs, left) = combs(&ticks);
        let mm = Length::from_mm;
        let comb =
            |to, pitch| Comb { x: [mm(0), mm(20)], y: [mm(7), mm(to)], pitch: mm(pitch) };
        assert_eq!(combs, [comb(8, 1), comb(9, 5)]);
        assert!(left.is_empty());
    }

    /// Every tick is drawn, at its own height at least once, whatever is missing.
    #[test]
    fn gaps_part_combs_and_lose_no_tick() {
        let all: Vec<i64> =
            (0..30).filter(|x| ![7, 8, 9, 10, 13, 21].contains(x)).collect();
        let ticks = ruler(&all);
        let (combs, left) = combs(&ticks);
        for tick in &ticks {
            let (x, top) = (tick.start.x, tick.end().y);
            let in_comb = |c: &Comb| {
                let on = (x - c.x[0]).nm() % c.pitch.nm() == 0;
                on && c.x[0] <= x && x <= c.x[1] && c.y[1] == top
            };
            assert!(combs.iter().any(in_comb) || left.contains(&tick), "{tick:?}");
        }
        for comb in &combs {
            let mut x = comb.x[0];
            while x <= comb.x[1] {
                let there =
                    ticks.iter().any(|t| t.start.x == x && t.end().y >= comb.y[1]);
                assert!(there, "a tooth too much at {x:?} of {comb:?}");
                x += comb.pitch;
            }
        }
    }

    #[test]
    fn what_does_not_stand_upright_is_left() {
        let (a, b) = (Point::new(Length::ZERO, Length::ZERO), Length::from_mm(1));
        let slanted = vec![Path::line(a, Point::new(b, b)); 8];
        let (combs, left) = combs(&slanted);
        assert!(combs.is_empty() && left.len() == 8);
    }
}
