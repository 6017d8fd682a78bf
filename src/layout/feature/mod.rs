//! How each kind of feature is placed: one file a kind, matched to its keys in
//! `job::FeatureKind`.

mod hole_row;
mod spread;
mod tip;
mod turn_back;

use super::datum::{Datums, Missing};
use super::mark::{Mark, MarkKind, Shape};
use crate::diagnostic::Place;
use crate::geom::{Extent, Length, Path, Point, Strap};
use crate::job::{Feature, FeatureKind, Job};

/// What a feature adds to the strap.
#[derive(Debug, Default)]
pub(super) struct Placed {
    pub(super) marks: Vec<Mark>,
    /// Datums that the feature publishes, without its own name.
    pub(super) datums: Vec<(&'static str, Length)>,
    /// The stretch of outline that the blank has already, if it came with this feature.
    pub(super) on_blank: Option<Extent>,
    /// Where the strap begins, if this feature is its buckle end.
    pub(super) start: Option<Length>,
    /// The curve of the tip from the upper shoulder to the lower, if this feature is one.
    pub(super) tip: Option<Path<Strap>>,
}

/// What a feature may look at while it is placed.
#[derive(Debug)]
pub(super) struct Ground<'a> {
    pub(super) job: &'a Job,
    pub(super) datums: &'a Datums,
}

impl Ground<'_> {
    /// A mark of `feature`; a target where the blank came with it.
    fn mark(
        feature: &Feature,
        kind: MarkKind,
        shape: Shape,
        at: Point<Strap>,
        label: impl Into<String>,
        place: Option<&Place>,
    ) -> Mark {
        let has_form = matches!(shape, Shape::Round { .. } | Shape::Slot { .. });
        let kind = if feature.on_blank && has_form { MarkKind::Target } else { kind };
        Mark {
            feature: feature.name.clone(),
            kind,
            shape,
            at,
            label: label.into(),
            place: place.or(feature.place.as_ref()).cloned(),
        }
    }
}

/// Places one feature, or says which datum it still waits for.
pub(super) fn place(feature: &Feature, ground: &Ground<'_>) -> Result<Placed, Missing> {
    match &feature.kind {
        FeatureKind::TurnBack(f) => Ok(turn_back::place(feature, f, ground)),
        FeatureKind::HoleRow(f) => hole_row::place(feature, f, ground),
        FeatureKind::Spread(f) => spread::place(feature, f, ground),
        FeatureKind::Tip(f) => tip::place(feature, f, ground),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn kinds_and_files_agree() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/src/layout/feature");
        let files: BTreeSet<String> = std::fs::read_dir(folder)
            .unwrap()
            .map(|e| e.unwrap().path())
            .map(|p| p.file_stem().unwrap().to_string_lossy().replace('_', "-"))
            .filter(|n| n != "mod")
            .collect();
        let kinds = FeatureKind::NAMES.iter().map(|n| (*n).to_owned()).collect();
        assert_eq!(
            files, kinds,
            "a kind of feature is a file here and a line in FeatureKind::NAMES"
        );
    }
}
