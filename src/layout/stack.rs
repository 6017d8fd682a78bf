//! How much leather a fastener goes through.

use super::{Layout, Piece};
use crate::geom::Length;
use crate::job::{Feature, Form, Job};

impl Layout {
    /// Thickness of all that the fasteners of `feature` hold together: its layers of strap,
    /// each with the linings that reach there. Zero where it has no marks.
    pub fn stack(&self, job: &Job, feature: &Feature) -> Length {
        let own = |p: &&Piece| p.marks_of(feature.id).next().is_some();
        let Some(piece) = self.pieces.iter().find(own) else { return Length::ZERO };
        let marks = piece.marks_of(feature.id);
        let reach: Vec<_> =
            marks.filter(|m| m.path().is_some()).map(|m| m.at.x).collect();
        let linings: Length = job
            .pieces
            .iter()
            .filter(|o| matches!(&o.form, Form::Lining { of, .. } if of.value == feature.on.value))
            .filter_map(|o| self.pieces.iter().find(|p| p.id == o.id))
            .filter(|p| reach.iter().all(|x| p.extent.from <= *x && *x <= p.extent.to))
            .map(|p| p.thickness)
            .sum();
        (piece.thickness + linings) * i64::from(layers(feature))
    }
}

/// How many layers of its piece the fasteners of a feature hold together.
fn layers(feature: &Feature) -> u32 {
    let facts = feature.kind.facts();
    let doubled = facts.fold.is_some() || feature.mirror.is_some();
    facts.layers.map_or(1 + u32::from(doubled), |said| said.value)
}
