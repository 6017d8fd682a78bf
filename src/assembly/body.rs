//! One piece with its linings and its folds.

use super::Flap;
use crate::geom::{Extent, Length};
use crate::job::{Form, Job, LiningHoles, PieceId};
use crate::layout::{Layout, Mark, MarkKind, Piece};
use std::iter::once;

/// How far the middles of two holes that lie on each other may be apart.
const SAME_PLACE: Length = Length::from_um(50);
/// The same of holes that were measured on a blank, each to half a millimetre.
const SAME_READING: Length = Length::from_mm(1);

/// A layer of leather that lies flat on another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ply {
    /// The piece that it is.
    pub piece: PieceId,
    /// Its thickness.
    pub thickness: Length,
    /// From where to where it lies, along x.
    pub extent: Extent,
    /// Whether it is cut away round the holes.
    pub is_trimmed: bool,
}

/// One piece, made up.
#[derive(Clone, Debug)]
pub struct Body<'a> {
    /// The piece itself.
    pub piece: &'a Piece,
    /// The piece and its linings, from outside to inside.
    pub plies: Vec<Ply>,
    /// Its ends that are folded back, by x.
    pub flaps: Vec<Flap>,
}

impl<'a> Body<'a> {
    pub(super) fn new(job: &Job, layout: &Layout, piece: &'a Piece) -> Self {
        let ply = |p: &Piece, is_trimmed| Ply {
            piece: p.id,
            thickness: p.thickness,
            extent: p.extent,
            is_trimmed,
        };
        let linings = layout.pieces.iter().filter(|p| p.copy.n == 1).filter_map(|p| {
            match job.piece(p.id).map(|spec| &spec.form) {
                Some(Form::Lining { of, holes, .. }) if of.value == piece.id => {
                    Some(ply(p, *holes == LiningHoles::Trimmed))
                }
                _ => None,
            }
        });
        Self {
            piece,
            plies: once(ply(piece, false)).chain(linings).collect(),
            flaps: piece.folds.iter().map(Flap::new).collect(),
        }
    }

    /// Thickness of what a hole at `x` goes through: the piece and the linings that reach there
    /// and are not cut away round holes.
    pub fn punched_at(&self, x: Length) -> Length {
        let at = Extent::at(x);
        let here = self.plies.iter().filter(|p| p.extent.holds(at) && !p.is_trimmed);
        here.map(|p| p.thickness).sum()
    }

    /// The x of every layer that a mark goes through: its own, and those that a fold lays on it
    /// where they have a mark of the same feature at that place.
    pub fn layers<'b>(&'b self, mark: &'b Mark) -> impl Iterator<Item = Length> + 'b {
        let met = self.flaps.iter().filter_map(|flap| self.partner(mark, flap));
        once(mark.at.x).chain(met.map(|m| m.at.x))
    }

    /// The mark of the same feature that a fold lays on `mark`.
    pub fn partner(&self, mark: &Mark, flap: &Flap) -> Option<&'a Mark> {
        let x = flap.over(mark.at.x)?;
        let is_read = mark.kind == MarkKind::Target;
        let apart = if is_read { SAME_READING } else { SAME_PLACE };
        let near = self.piece.marks_between(Extent::at(x).grown(apart));
        near.iter().find(|m| {
            m.feature == mark.feature
                && (m.at.y - mark.at.y).abs() <= apart
                && m.path().is_some()
        })
    }

    /// The marks that hold a flap to the leather it lies on: they go through both.
    pub fn joints<'b>(&'b self, flap: &'b Flap) -> impl Iterator<Item = &'a Mark> + 'b {
        let on_flap = self.piece.marks_between(flap.leather).iter();
        on_flap.filter(|m| m.path().is_some() && self.partner(m, flap).is_some())
    }
}
