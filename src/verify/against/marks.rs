//! Which drawn mark is which mark of the layout, and how far off it is.

use super::super::read::plane::{Matrix, Spot, median};
use super::super::sheet::{Axis, Form, Sheet};
use super::super::strap::Strap;
use super::wanted::{Wanted, WantedPiece};
use super::{Fit, TOLERANCE};
use std::collections::BTreeSet;

/// A mark further off than this is another one, in mm.
const FURTHEST: f64 = 10.0;
/// A mark whose size differs by more is another one, in mm.
const OTHER_SIZE: f64 = 1.0;

/// A drawn mark and the mark of the layout that it is.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pair<'a> {
    pub(super) tile: usize,
    pub(super) form: &'a Form,
    /// Its place on the strap.
    pub(super) at: Spot,
    /// Its size along x and y of the strap.
    pub(super) size: Spot,
    /// The way a slot runs on the strap.
    pub(super) axis: Option<Spot>,
    /// Index among the piece's marks.
    pub(super) index: usize,
    pub(super) wanted: Wanted<'a>,
}

impl Pair<'_> {
    /// How far it is from where it should be.
    pub(super) fn off(&self) -> Spot {
        self.at - self.wanted.at
    }
}

/// All marks of one drawn piece.
#[derive(Debug, Default)]
pub(super) struct Matched<'a> {
    pub(super) pairs: Vec<Pair<'a>>,
    /// Marks that are none of the layout's: tile, place on the strap, form.
    pub(super) extra: Vec<(usize, Spot, &'a Form)>,
}

/// Matches each drawn mark to at most one of the layout and, on one tile, each of the
/// layout to at most one that is drawn; the nearest first.
pub(super) fn matched<'a>(
    fit: &Fit,
    strap: &'a Strap,
    sheets: &'a [Sheet],
    target: &WantedPiece<'a>,
) -> Matched<'a> {
    let forms: Vec<_> = strap.pieces[fit.drawn]
        .forms(strap, sheets)
        .map(|(tile, way, form)| {
            let way = way.then(fit.way);
            let size = way.way(form.size);
            let size = Spot::new(size.x.abs(), size.y.abs());
            (tile, form, way.place(form.centre), size, form.axis.map(|a| way.way(a)))
        })
        .collect();
    let mut near: Vec<(f64, usize, usize)> = Vec::new();
    for (f, (_, _, at, size, _)) in forms.iter().enumerate() {
        let from = target.marks.partition_point(|w| w.at.x < at.x - FURTHEST);
        for (m, wanted) in target.marks.iter().enumerate().skip(from) {
            if wanted.at.x > at.x + FURTHEST {
                break;
            }
            let (far, other) = (wanted.at.far(*at), wanted.size - *size);
            if far < FURTHEST && other.x.abs().max(other.y.abs()) < OTHER_SIZE {
                near.push((far, f, m));
            }
        }
    }
    near.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut is_matched = vec![false; forms.len()];
    let mut taken: BTreeSet<(usize, usize)> = BTreeSet::new();
    let mut all = Matched::default();
    for (_, f, index) in near {
        let (tile, form, at, size, axis) = forms[f];
        if !is_matched[f] && taken.insert((tile, index)) {
            is_matched[f] = true;
            let wanted = target.marks[index];
            all.pairs.push(Pair { tile, form, at, size, axis, index, wanted });
        }
    }
    let left = forms.iter().zip(is_matched).filter(|(_, is)| !is);
    all.extra = left.map(|((tile, form, at, ..), _)| (*tile, *at, *form)).collect();
    all
}

/// What most marks of a tile are off by together, if it is more than the tolerance: then
/// the tile is off and not its marks.
pub(super) fn shift_of_tile(offs: &[Spot]) -> Option<Spot> {
    let common = |of: fn(&Spot) -> f64| {
        let all: Vec<f64> = offs.iter().map(of).collect();
        let middle = median(all.clone())?;
        let agree = all.iter().filter(|off| (*off - middle).abs() <= TOLERANCE).count();
        (agree >= 2 && agree * 5 >= all.len() * 3).then_some(middle)
    };
    let shift = Spot::new(common(|o| o.x).unwrap_or(0.0), common(|o| o.y).unwrap_or(0.0));
    (shift.norm() > TOLERANCE).then_some(shift)
}

/// By what a sheet's marks say that it is stretched beyond what is taken out already, 1
/// for nothing. `pairs` come with the way of their sheet to the strap.
pub(super) fn stretch(pairs: &[(&Pair<'_>, Matrix)]) -> Spot {
    // Back on the sheet, where the stretch is along an axis.
    let seen = |axis: Axis| {
        let seen = pairs.iter().filter_map(|(pair, way)| {
            let back = way.inverse()?;
            let (wanted, size) = (back.place(pair.wanted.at), back.way(pair.wanted.size));
            let drawn = axis.of(back.place(pair.at));
            let by_size = axis.of(pair.form.size) / axis.of(size).abs();
            Some((axis.of(wanted), drawn, by_size))
        });
        let seen: Vec<(f64, f64, f64)> = seen.collect();
        (by_places(&seen), by_sizes(&seen).unwrap_or(1.0))
    };
    let (across, up) = (seen(Axis::Width), seen(Axis::Height));
    // Where marks lie far apart their places tell. In a row, only their own heights do, and
    // these only if their widths are as they should be.
    let told = |own: (Option<f64>, f64), other: (Option<f64>, f64)| {
        let (told, least) = match own.0 {
            Some(by_place) => (by_place, BY_PLACE),
            None if (other.1 - other.0.unwrap_or(1.0)).abs() < BY_SIZE => {
                (own.1, BY_SIZE)
            }
            None => (1.0, BY_SIZE),
        };
        if (told - 1.0).abs() > least { told } else { 1.0 }
    };
    Spot::new(told(across, up), told(up, across))
}

/// The least stretch that is told from other errors by places, and by sizes.
const BY_PLACE: f64 = 2e-4;
const BY_SIZE: f64 = 2e-3;
/// From the first mark to the last, at least, in mm.
const SPAN: f64 = 40.0;

/// Sizes that differ by no more than this part of themselves agree.
const ALIKE: f64 = 5e-4;

/// The stretch that most sizes show; a lone mark cannot say so, it may be odd itself.
fn by_sizes(seen: &[(f64, f64, f64)]) -> Option<f64> {
    let all: Vec<f64> = seen.iter().map(|(.., by_size)| *by_size).collect();
    let middle = median(all.clone())?;
    let agree = all.iter().filter(|by| (*by - middle).abs() <= ALIKE).count();
    (agree >= 2 && agree * 5 >= all.len() * 3).then_some(middle)
}

/// More marks than these say no more.
const ENOUGH: usize = 100;

/// The stretch with which most marks lie where they should: none, or the middle one of
/// those that two marks each show.
fn by_places(seen: &[(f64, f64, f64)]) -> Option<f64> {
    let wanted = |(wanted, ..): &&(f64, f64, f64)| *wanted;
    let first = seen.iter().min_by(|a, b| wanted(a).total_cmp(&wanted(b)))?;
    let last = seen.iter().max_by(|a, b| wanted(a).total_cmp(&wanted(b)))?;
    if seen.len() < 3 || last.0 - first.0 < SPAN {
        return None;
    }
    let agree = |slope: f64, within: f64| {
        let offs: Vec<f64> = seen.iter().map(|s| s.1 - slope * s.0).collect();
        let middle = median(offs.clone())?;
        let agree = offs.iter().filter(|off| (*off - middle).abs() < within).count();
        (agree * 5 >= seen.len() * 3).then_some(slope)
    };
    agree(1.0, TOLERANCE).or_else(|| {
        let some: Vec<_> = seen.iter().step_by(seen.len() / ENOUGH + 1).collect();
        let pairs = some.iter().enumerate().flat_map(|(i, a)| {
            let far = some[i + 1..].iter().filter(|b| (b.0 - a.0).abs() > SPAN / 2.0);
            far.map(|b| (b.1 - a.1) / (b.0 - a.0))
        });
        agree(median(pairs.collect())?, TOLERANCE * 2.0)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tile_that_is_off_is_told_from_a_mark() {
        let spots =
            |offs: &[f64]| offs.iter().map(|x| Spot::new(*x, 0.0)).collect::<Vec<_>>();
        let shift = |offs: &[f64]| shift_of_tile(&spots(offs)).map(|s| s.x);
        assert_eq!(shift(&[0.0, 0.0, 0.1]), None);
        assert_eq!(shift(&[0.0, 0.1]), None);
        assert_eq!(shift(&[0.1]), None);
        assert!(shift(&[0.1, 0.1, 0.1, 0.3]).is_some_and(|x| (x - 0.1).abs() < 1e-12));
    }

    #[test]
    fn places_tell_a_stretch() {
        let row = |factor: f64| -> Vec<(f64, f64, f64)> {
            (0..6)
                .map(|i| f64::from(i) * 30.0)
                .map(|x| (x, x * factor + 7.0, 1.0))
                .collect()
        };
        assert!(by_places(&row(0.995)).is_some_and(|s| (s - 0.995).abs() < 1e-9));
        assert!(by_places(&row(1.0)[..2]).is_none(), "two marks may be moved");
        let sizes =
            |all: &[f64]| -> Vec<_> { all.iter().map(|s| (0.0, 0.0, *s)).collect() };
        assert_eq!(by_sizes(&sizes(&[1.01, 1.0])), None, "one of the two is odd");
        assert_eq!(by_sizes(&sizes(&[1.01])), None);
        assert_eq!(by_sizes(&sizes(&[0.995, 0.995, 1.2])), Some(0.995));
        let mut moved = row(1.0);
        moved[3].1 += 0.4;
        assert!(by_places(&moved).is_some_and(|s| (s - 1.0).abs() < 1e-9));
    }
}
