//! How much leather a fastener goes through.

use super::{Layout, Piece};
use crate::geom::Length;
use crate::job::{Feature, FeatureKind, Form, Job};

impl Layout {
    /// Thickness of all that the fasteners of `feature` hold together: its layers of strap,
    /// each with the linings that reach there. Zero where it has no marks.
    pub fn stack(&self, job: &Job, feature: &Feature) -> Length {
        let own = |p: &&Piece| p.marks.iter().any(|m| m.feature == feature.name);
        let Some(piece) = self.pieces.iter().find(own) else { return Length::ZERO };
        let marks = piece.marks.iter().filter(|m| m.feature == feature.name);
        let reach: Vec<_> =
            marks.filter(|m| m.path().is_some()).map(|m| m.at.x).collect();
        let linings: Length = job
            .pieces
            .iter()
            .filter(|o| matches!(&o.form, Form::Lining { of, .. } if *of.value == *feature.on.value))
            .filter_map(|o| {
                let first = format!("{}-1", o.name);
                self.pieces.iter().find(|p| p.name == o.name || p.name == first)
            })
            .filter(|p| reach.iter().all(|x| p.extent.from <= *x && *x <= p.extent.to))
            .map(|p| p.thickness)
            .sum();
        (piece.thickness + linings) * i64::from(layers(feature))
    }
}

/// How many layers of its piece the fasteners of a feature hold together.
fn layers(feature: &Feature) -> u32 {
    match &feature.kind {
        FeatureKind::TurnBack(_) | FeatureKind::Fold(_) => 2,
        FeatureKind::Row(row) => match &row.layers {
            Some(said) => said.value,
            None => 1 + u32::from(feature.mirror.is_some()),
        },
        _ => 1,
    }
}
