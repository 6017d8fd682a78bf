//! Packings compared with the best of all packings, by brute force.

use super::*;
use crate::random::Random;

fn mm(n: i64) -> Length {
    Length::from_mm(n)
}

const AREA: UsableArea =
    UsableArea { width: Length::from_mm(100), height: Length::from_mm(60) };

/// Every way to put the tiles into rows one after the other, and the rows on sheets.
fn by_force(sizes: &[TileSize], rows: &mut Vec<Vec<TileSize>>, sheets: &mut usize) {
    let Some((first, rest)) = sizes.split_first() else {
        let heights = rows.iter().map(|r| r.iter().map(|i| i.height).max().unwrap());
        *sheets = fewest(&heights.collect::<Vec<_>>(), &mut Vec::new()).min(*sheets);
        return;
    };
    for i in 0..=rows.len() {
        if i == rows.len() {
            rows.push(Vec::new());
        }
        let long = rows[i].iter().fold(first.length, |sum, r| sum + GAP + r.length);
        if long <= AREA.width {
            rows[i].push(*first);
            by_force(rest, rows, sheets);
            rows[i].pop();
        }
        rows.retain(|r| !r.is_empty());
    }
}

fn fewest(heights: &[Length], sheets: &mut Vec<Length>) -> usize {
    let Some((first, rest)) = heights.split_first() else { return sheets.len() };
    let mut best = usize::MAX;
    for i in 0..=sheets.len() {
        if i == sheets.len() {
            sheets.push(Length::ZERO);
        }
        if sheets[i] + *first <= AREA.height {
            sheets[i] += *first;
            best = best.min(fewest(rest, sheets));
            sheets[i] -= *first;
        }
        sheets.retain(|s| *s > Length::ZERO);
    }
    best
}

#[test]
fn sheets_are_as_few_as_by_force_and_hold_all() {
    let mut random = Random::new(3);
    for case in 0..150 {
        let sizes: Vec<TileSize> = (0..random.between(2, 6))
            .map(|_| TileSize {
                length: mm(random.between(20, 100)),
                height: mm(random.between(10, 40)),
                preferred: None,
            })
            .collect();
        let found = pack(&sizes, AREA);
        let mut least = usize::MAX;
        by_force(&sizes, &mut Vec::new(), &mut least);
        assert_eq!(found.len(), least, "case {case}: {sizes:?} {found:?}");
        let mut there: Vec<usize> =
            found.iter().flatten().flat_map(|r| r.tiles.clone()).collect();
        there.sort_unstable();
        assert_eq!(there, (0..sizes.len()).collect::<Vec<_>>(), "case {case}");
        for rows in &found {
            assert!(total_height(rows) <= AREA.height, "case {case}");
            for row in rows {
                let long = row.tiles.iter().map(|&i| sizes[i].length);
                let long = long.fold(-GAP, |sum, l| sum + GAP + l);
                assert!(long <= AREA.width, "case {case}");
            }
        }
    }
}

#[test]
fn tiles_lie_where_they_are_wished_if_that_costs_no_sheet() {
    let tile = |preferred| TileSize { length: mm(100), height: mm(30), preferred };
    let sizes = [tile(Some(1)), tile(None), tile(None), tile(Some(0))];
    let sheets = pack(&sizes, AREA);
    let on = |s: usize| -> Vec<usize> {
        sheets[s].iter().flat_map(|r| r.tiles.clone()).collect()
    };
    assert_eq!((on(0), on(1)), (vec![1, 3], vec![0, 2]));
    // All on one sheet would take another.
    let sizes = [tile(Some(0)); 3];
    assert_eq!(pack(&sizes, AREA).len(), 2);
}
