//! One piece with its linings and its folds.

use super::Flap;
use crate::geom::{Extent, Length};
use crate::job::{Form, Job, PieceId};
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
        let lines = |id| {
            let spec = job.piece(id);
            spec.is_some_and(
                |s| matches!(&s.form, Form::Lining { of, .. } if of.value == piece.id),
            )
        };
        let linings = layout.pieces.iter().filter(|p| p.copy.n == 1 && lines(p.id));
        let ply =
            |p: &Piece| Ply { piece: p.id, thickness: p.thickness, extent: p.extent };
        Self {
            piece,
            plies: once(piece).chain(linings).map(ply).collect(),
            flaps: piece.folds.iter().map(Flap::new).collect(),
        }
    }

    /// Thickness of the piece and the linings that reach `x`.
    pub fn thickness_at(&self, x: Length) -> Length {
        let here = self.plies.iter().filter(|p| p.extent.holds(Extent::at(x)));
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
