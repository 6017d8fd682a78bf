//! The crosses of each join: the same ones on both tiles, which give the way from one tile
//! to the other.

use super::super::read::plane::{Matrix, Spot};
use super::super::sheet::Sheet;
use std::collections::BTreeMap;

/// Two crosses of one join as they stand on one tile.
#[derive(Clone, Debug)]
pub(in crate::verify) struct End {
    pub(in crate::verify) join: u32,
    /// Which two of the join's crosses: where a piece is tiled both ways, a join runs past
    /// many tiles.
    pub(in crate::verify) pair: u32,
    /// Index of its sheet.
    pub(in crate::verify) sheet: usize,
    pub(in crate::verify) crosses: BTreeMap<u32, Spot>,
}

/// A cross that is not on two tiles: its label and on how many it is.
pub(in crate::verify) type Odd = (String, usize);

/// The places of each cross: index of the sheet, and where on it.
type Places = BTreeMap<u32, Vec<(usize, Spot)>>;

/// The ends of all joins, two for each pair of crosses, and the crosses that do not come in
/// twos.
pub(super) fn ends(sheets: &[Sheet]) -> (Vec<End>, Vec<Odd>) {
    let mut pairs: BTreeMap<(u32, u32), Places> = BTreeMap::new();
    for (sheet, drawn) in sheets.iter().enumerate() {
        for cross in &drawn.crosses {
            let places = pairs.entry((cross.join, cross.nth / 2)).or_default();
            places.entry(cross.nth).or_default().push((sheet, cross.at));
        }
    }
    let (mut all, mut odd) = (Vec::new(), Vec::new());
    for ((join, pair), places) in pairs {
        for nth in [pair * 2, pair * 2 + 1] {
            let count = places.get(&nth).map_or(0, Vec::len);
            if count != 2 {
                odd.push((label(join, nth), count));
            }
        }
        all.extend(ends_of(join, pair, &places));
    }
    (all, odd)
}

/// What stands beside a cross.
fn label(join: u32, nth: u32) -> String {
    let letter = |n: u32| char::from_digit(n % 26 + 10, 36).unwrap_or('?');
    let first = if nth < 26 { String::new() } else { letter(nth / 26 - 1).to_string() };
    format!("{join}{first}{}", letter(nth))
}

fn ends_of(join: u32, pair: u32, places: &Places) -> Vec<End> {
    let Some((first, base)) = places.iter().max_by_key(|(_, at)| at.len().min(2)) else {
        return Vec::new();
    };
    let start = |&(sheet, at): &(usize, Spot)| End {
        join,
        pair,
        sheet,
        crosses: BTreeMap::from([(*first, at)]),
    };
    let mut ends: Vec<End> = base.iter().take(2).map(start).collect();
    for (nth, at) in places.iter().filter(|(nth, _)| *nth != first) {
        match (at.as_slice(), ends.as_mut_slice()) {
            ([p, q, ..], [one, two]) => {
                let straight = unlike(one, two, *first, *p, *q);
                let crossed = unlike(one, two, *first, *q, *p);
                let (p, q) = if straight <= crossed { (p, q) } else { (q, p) };
                one.crosses.insert(*nth, p.1);
                two.crosses.insert(*nth, q.1);
            }
            // A lone cross is of the one end on its sheet; of two it says nothing.
            ([p, ..], ends) => {
                let mut own = ends.iter_mut().filter(|e| e.sheet == p.0);
                if let (Some(end), None) = (own.next(), own.next()) {
                    end.crosses.insert(*nth, p.1);
                }
            }
            _ => {}
        }
    }
    ends
}

/// How badly `p` goes with the first end and `q` with the second, by how alike the ways
/// are from the crosses that the ends have.
fn unlike(one: &End, two: &End, first: u32, p: (usize, Spot), q: (usize, Spot)) -> f64 {
    if p.0 != one.sheet || q.0 != two.sheet {
        return f64::INFINITY;
    }
    let (Some(a), Some(b)) = (one.crosses.get(&first), two.crosses.get(&first)) else {
        return f64::INFINITY;
    };
    let (_, off) = quarter(p.1 - *a, q.1 - *b);
    off
}

/// By how many quarter turns `from` comes nearest to `to`, and how near. No turn is
/// preferred: sheets are laid out without where they can be.
fn quarter(to: Spot, from: Spot) -> (i64, f64) {
    let off = |turns: i64| Matrix::quarter_turns(turns).way(from).far(to);
    let straight = off(0);
    let turned = (1..4).map(|t| (t, off(t))).min_by(|a, b| a.1.total_cmp(&b.1));
    turned.filter(|t| t.1 + 1.0 < straight).unwrap_or((0, straight))
}

/// The way from the tile of `two` to the tile of `one`, and by how much the crosses then
/// miss each other, in mm. `None` where the two have no cross in common.
pub(super) fn way(one: &End, two: &End) -> Option<(Matrix, f64)> {
    let both = one.crosses.iter().filter_map(|(l, p)| Some((*p, *two.crosses.get(l)?)));
    let both: Vec<(Spot, Spot)> = both.collect();
    let &(first, there) = both.first()?;
    let &(last, back) = both.last()?;
    let (turns, _) = quarter(last - first, back - there);
    let turn = Matrix::quarter_turns(turns);
    let count = f64::from(u32::try_from(both.len()).unwrap_or(u32::MAX));
    let shift = both.iter().fold(Spot::ZERO, |sum, (p, q)| sum + (*p - turn.way(*q)));
    let way = turn.then(Matrix::shift(shift * (1.0 / count)));
    let miss = both.iter().map(|(p, q)| way.place(*q).far(*p)).fold(0.0, f64::max);
    Some((way, miss * 2.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn crosses_are_called_by_their_labels() {
        let labels =
            [(1, 0), (12, 25), (3, 26), (3, 53)].map(|(join, nth)| label(join, nth));
        assert_eq!(labels, ["1a", "12z", "3aa", "3bb"]);
    }
}
