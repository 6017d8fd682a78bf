//! What tells the pieces and the features of one job apart, whatever they are called.

use serde::Serialize;

/// A piece of a job. All copies of a piece share it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct PieceId(usize);

impl PieceId {
    /// The strap itself.
    pub const STRAP: Self = Self(0);

    /// The piece at `index` of [`super::Job::pieces`].
    pub const fn other(index: usize) -> Self {
        Self(index + 1)
    }

    /// Its index in [`super::Job::pieces`]; `None` for the strap.
    pub const fn index(self) -> Option<usize> {
        self.0.checked_sub(1)
    }
}

/// A feature of a job: its index in [`super::Job::features`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct FeatureId(pub usize);
