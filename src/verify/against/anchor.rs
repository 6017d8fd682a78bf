//! Where along the strap a stretch of it lies, by what is printed on it: the numerals of its
//! rulers, or the readings beside its marks.

use super::super::read::plane::{Matrix, Spot, median};
use super::super::sheet::{Form, Label, Numeral, Sheet};
use super::super::strap::{Piece, Strap};
use super::wanted::WantedPiece;
use std::collections::BTreeSet;

/// Readings agree on a place to this, in mm, beyond what they are rounded to.
const AGREE: f64 = 0.1;
/// From the rim of a mark to the words of its label, at most.
const TO_LABEL: f64 = 9.0;
/// Places that are taken into account where readings do not tell one from the other.
const MOST: usize = 4;

/// One reading, as the drawn piece lies.
#[derive(Clone, Copy, Debug)]
pub(super) struct Reading {
    tile: usize,
    at: Spot,
    /// Outward from the strap, for the numeral of a ruler.
    outward: Option<(Spot, bool)>,
    says: f64,
    within: f64,
}

/// All that a drawn piece says of its place: the numerals of its rulers or, without rulers,
/// its labels, each at the mark beside it.
pub(super) fn readings(piece: &Piece, strap: &Strap, sheets: &[Sheet]) -> Vec<Reading> {
    let of_ruler = |(tile, way, numeral): (usize, Matrix, &Numeral)| {
        let out = way.way(Spot::new(0.0, if numeral.above { 1.0 } else { -1.0 }));
        Reading {
            tile,
            at: way.place(numeral.at),
            outward: Some((out, numeral.is_metric())),
            says: numeral.says(),
            within: 0.0,
        }
    };
    let all: Vec<Reading> = piece.numerals(strap, sheets).map(of_ruler).collect();
    if !all.is_empty() {
        return all;
    }
    let forms: Vec<(usize, Matrix, &Form)> = piece.forms(strap, sheets).collect();
    let of_label = |(tile, way, label): (usize, Matrix, &Label)| {
        let far = |form: &Form| {
            let clamped = Spot::new(
                form.centre.x.clamp(label.from.x, label.to.x),
                label.middle().y,
            );
            clamped.far(form.centre) - form.size.x.max(form.size.y) / 2.0
        };
        let own = forms.iter().filter(|(t, ..)| *t == tile);
        let (_, _, form) = own.min_by(|a, b| far(a.2).total_cmp(&far(b.2)))?;
        let &(says, within) = label.says.first()?;
        let at = way.place(form.centre);
        (far(form) < TO_LABEL).then_some(Reading {
            tile,
            at,
            outward: None,
            says,
            within,
        })
    };
    piece.labels(strap, sheets).filter_map(of_label).collect()
}

/// Where the feet of the ruler above a piece and of the one below it stand, as it is
/// `turn`ed; `None` for one that it has not. A tile has them as far out as it is wide: those
/// of the widest tile that has both, or else of all tiles.
pub(super) fn feet(all: &[Reading], turn: Matrix) -> [Option<f64>; 2] {
    let of = |own: &dyn Fn(&Reading) -> bool| {
        [true, false].map(|above| {
            let on_side = |r: &&Reading| r.outward.is_some_and(|(_, mm)| mm == above);
            let own = all.iter().filter(|r| own(r)).filter(on_side);
            median(own.map(|r| turn.place(r.at).y).collect())
        })
    };
    let wide = |[above, below]: [Option<f64>; 2]| Some(above? - below?);
    let tiles: BTreeSet<usize> = all.iter().map(|r| r.tile).collect();
    let by_tile = tiles.into_iter().map(|tile| of(&|r| r.tile == tile));
    let both = by_tile.filter_map(|feet| Some((wide(feet)?, feet)));
    let widest = both.max_by(|a, b| a.0.total_cmp(&b.0));
    widest.map_or_else(|| of(&|_| true), |(_, feet)| feet)
}

/// What a tape would read at a place along a piece: at its flat x, and what the bend adds.
pub(super) fn reading(x: f64, target: &WantedPiece<'_>) -> f64 {
    x.abs() + target.to_outside
}

/// How far along x the piece, `turn`ed, must be moved for most readings to be right: one
/// way, or the few that speak alike. None where the readings do not agree.
pub(super) fn shifts(
    all: &[Reading],
    turn: Matrix,
    target: &WantedPiece<'_>,
) -> Vec<f64> {
    // Millimetres stand above the strap, inches below.
    let is_upright = |r: &&Reading| match r.outward {
        Some((out, is_metric)) => (turn.way(out).y > 0.5) == is_metric,
        None => true,
    };
    if all.iter().filter(is_upright).count() * 2 <= all.len() {
        return Vec::new();
    }
    let within = AGREE + all.iter().map(|r| r.within).fold(0.0, f64::max) * 2.0;
    // On which side of the bend each one lies is not known.
    let mut votes: Vec<f64> = Vec::with_capacity(all.len() * 2);
    for reading in all {
        let x = turn.place(reading.at).x;
        let flat = reading.says - target.to_outside;
        votes.extend([flat - x, -flat - x]);
    }
    votes.sort_by(f64::total_cmp);
    let count = |i: usize| votes[i..].partition_point(|v| v - votes[i] <= within);
    let counts: Vec<usize> = (0..votes.len()).map(count).collect();
    let most = counts.iter().copied().max().unwrap_or(0);
    // Most of them, unless there are so few that each may be the one.
    if most * 2 <= all.len() && all.len() > 2 {
        return Vec::new();
    }
    let best = (0..votes.len()).filter(|i| counts[*i] == most);
    best.filter_map(|i| median(votes[i..i + most].to_vec())).take(MOST).collect()
}
