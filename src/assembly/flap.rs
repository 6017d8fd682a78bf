//! An end that is folded back.

use crate::geom::{Extent, Length};
use crate::job::FeatureId;
use crate::layout::FoldLine;

/// An end that is folded back onto its piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Flap {
    /// The feature that folds.
    pub feature: FeatureId,
    /// The middle of its bend, along x.
    pub axis: Length,
    /// How much of the leather is bent, half of it on either side of the axis.
    pub take_up: Length,
    /// The leather from the axis to the cut end.
    pub leather: Extent,
    /// Where that comes to lie.
    pub onto: Extent,
}

impl Flap {
    pub(super) fn new(fold: &FoldLine) -> Self {
        Self {
            feature: fold.feature,
            axis: fold.at,
            take_up: fold.bend.take_up,
            leather: Extent::new(fold.at, fold.end),
            onto: Extent::new(fold.at, fold.at * 2 - fold.end),
        }
    }

    /// The place that the fold lays on `x`, or that it lays `x` on; `None` where the flap does
    /// not reach.
    pub fn over(&self, x: Length) -> Option<Length> {
        let is_covered = self.onto.has(x) || self.leather.has(x);
        (is_covered && x != self.axis).then_some(self.axis * 2 - x)
    }

    /// The leather that is bent.
    pub fn bend(&self) -> Extent {
        Extent::at(self.axis).grown(self.take_up / 2)
    }

    /// Where its cut end comes to lie.
    pub fn end_over(&self) -> Length {
        if self.onto.from == self.axis { self.onto.to } else { self.onto.from }
    }
}
