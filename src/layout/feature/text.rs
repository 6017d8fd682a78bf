//! Words on the piece.

use super::{PlaceContext, PlaceError, Placed};
use crate::geom::Point;
use crate::job::{Feature, Words};
use crate::layout::guide::{Guide, GuideShape};

/// Their middle lies at `from` + `by`. Publishes no datums.
pub(super) fn place(
    feature: &Feature,
    f: &Words,
    context: &PlaceContext<'_>,
) -> Result<Placed, PlaceError> {
    let x = context.past(&f.from, &f.by)?;
    let (at, text) = (Point::new(x, f.across.value), f.text.value.clone());
    let shape = GuideShape::Words { at, size: f.size.value, text };
    let guides = vec![Guide { feature: feature.id, shape }];
    Ok(Placed { guides, ..Placed::default() })
}
