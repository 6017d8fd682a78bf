//! What is drawn on a piece and is neither cut nor punched.

use crate::geom::{Extent, Length, Path, Point, Strap};
use crate::job::FeatureId;
use crate::lettering;
use crate::words::Name;
use serde::Serialize;

/// What is drawn on a piece and is neither cut nor punched.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Guide {
    /// The feature that asked for it.
    pub feature: FeatureId,
    /// What it is, and where.
    pub shape: GuideShape,
}

/// The form of a guide.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub enum GuideShape {
    /// A line to crease.
    Crease(Path<Strap>),
    /// A box for a stamp, with what stands in it.
    Box {
        /// Its middle.
        at: Point<Strap>,
        /// Along x.
        length: Length,
        /// Along y.
        width: Length,
        /// What stands in it; may be empty.
        text: Name,
    },
    /// Words.
    Words {
        /// Their middle.
        at: Point<Strap>,
        /// Size of the type.
        size: Length,
        /// What they say.
        text: String,
    },
}

impl Guide {
    /// The same on the other side of the centre line; words stay upright.
    #[must_use]
    pub(super) fn mirrored(&self) -> Self {
        let over = |p: Point<Strap>| Point::new(p.x, -p.y);
        let mut other = self.clone();
        match &mut other.shape {
            GuideShape::Crease(path) => *path = super::outline::mirrored(path),
            GuideShape::Box { at, .. } | GuideShape::Words { at, .. } => *at = over(*at),
        }
        other
    }

    /// The stretch across the strap that it takes; nothing for a crease.
    pub fn y_extent(&self) -> Extent {
        let (y, high) = match &self.shape {
            GuideShape::Crease(_) => (Length::ZERO, Length::ZERO),
            GuideShape::Box { at, width, .. } => (at.y, *width),
            GuideShape::Words { at, size, .. } => (at.y, *size),
        };
        Extent { from: y, to: y }.grown(high / 2)
    }

    /// The stretch along x that must be whole on one sheet to be of use; `None` for what
    /// may be cut.
    pub fn whole(&self) -> Option<Extent> {
        let (x, long) = match &self.shape {
            GuideShape::Crease(_) => return None,
            GuideShape::Box { at, length, .. } => (at.x, *length),
            GuideShape::Words { at, size, text } => (at.x, lettering::width(text, *size)),
        };
        Some(Extent { from: x, to: x }.grown(long / 2))
    }
}
