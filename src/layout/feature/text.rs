//! Words on the piece.

use super::{Outcome, PlaceContext, Placed};
use crate::geom::Point;
use crate::job::Words;
use crate::layout::guide::{Guide, GuideShape};

/// Their middle lies at `from` + `by`. Publishes no datums.
pub(super) fn place(f: &Words, context: &PlaceContext<'_>) -> Outcome {
    let x = context.past(&f.at)?;
    let (at, text) = (Point::new(x, f.across.value), f.text.value.clone());
    let shape = GuideShape::Words { at, size: f.size.value, text };
    let guides = vec![Guide { feature: context.feature.id, shape }];
    Ok(Placed { guides, ..Placed::default() })
}
