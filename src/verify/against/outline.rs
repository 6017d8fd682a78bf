//! The outline as it is drawn, held against the layout's: where the knife leaves it, and
//! what of it is not there.

use super::super::read::plane::Spot;
use super::super::sheet::Sheet;
use super::super::strap::Strap;
use super::Fit;
use super::wanted::{Edge, WantedPiece};

/// How far a stroke may be from the outline, in mm. Curves are cubic and stray from a
/// circle by 2.7e-4 of its radius.
const WITHIN: f64 = 0.03;
const STRAY: f64 = 3e-4;
/// What may be missing where two strokes meet, in mm.
const GAP: f64 = 0.1;

/// What is wrong with one outline.
#[derive(Debug, Default)]
pub(super) struct Outline {
    /// The stroke of the knife that is furthest off: where on the strap, by how much, and
    /// the index of the sheet.
    pub(super) off: Option<(Spot, f64, usize)>,
    /// The longest stretch that is not drawn: its middle and its length.
    pub(super) missing: Option<(Spot, f64)>,
}

/// Holds every part of an outline of a drawn piece against the layout's.
pub(super) fn held(
    fit: &Fit,
    strap: &Strap,
    sheets: &[Sheet],
    target: &WantedPiece<'_>,
    shifts: &dyn Fn(usize) -> Spot,
) -> Outline {
    let mut found = Outline::default();
    let mut drawn: Vec<Vec<(f64, f64)>> = vec![Vec::new(); target.edges.len()];
    for &(index, way) in &strap.pieces[fit.drawn].tiles {
        let tile = &strap.tiles[index];
        let way = way.then(fit.way);
        for frame in tile.frames.iter().map(|f| &sheets[tile.sheet].frames[*f]) {
            let on = |part| way.place(frame.step.at(frame.from, part)) - shifts(index);
            let spots = [0.0, 0.5, 1.0].map(on);
            let mut least = f64::INFINITY;
            for (edge, parts) in target.edges.iter().zip(&mut drawn) {
                let slack = match edge {
                    Edge::Line { .. } => WITHIN,
                    Edge::Arc { radius, .. } => WITHIN + STRAY * radius,
                };
                let near = spots.map(|p| edge.nearest(p));
                let off = near.iter().map(|(_, far)| *far).fold(0.0, f64::max);
                least = least.min(off);
                if off <= slack {
                    least = 0.0;
                    let ends = (near[0].0, near[2].0);
                    parts.push((ends.0.min(ends.1), ends.0.max(ends.1)));
                }
            }
            if frame.is_cut
                && least > WITHIN
                && found.off.is_none_or(|(_, o, _)| o < least)
            {
                found.off = Some((spots[1], least, tile.sheet));
            }
        }
    }
    for (edge, parts) in target.edges.iter().zip(&mut drawn) {
        parts.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut to = 0.0;
        let end = (edge.length(), edge.length());
        for &(from, until) in parts.iter().chain([&end]) {
            let gap = from - to;
            if gap > GAP && found.missing.is_none_or(|(_, g)| g < gap) {
                found.missing = Some((edge.at(to + gap / 2.0), gap));
            }
            to = f64::max(to, until);
        }
    }
    found
}
