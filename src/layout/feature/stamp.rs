//! A box for the maker's mark or another stamp.

use super::{Outcome, PlaceContext, Placed};
use crate::geom::Point;
use crate::job::Stamp;
use crate::layout::guide::{Guide, GuideShape};

/// Its middle lies at `from` + `by`.
///
/// Datums: `start`, `end`.
pub(super) fn place(f: &Stamp, context: &PlaceContext<'_>) -> Outcome {
    let x = context.past(&f.at)?;
    let (length, width) = (f.length.value, f.width.value);
    let (at, text) = (Point::new(x, f.across.value), context.job.name(&f.text));
    let shape = GuideShape::Box { at, length, width, text };
    let guides = vec![Guide { feature: context.feature.id, shape }];
    let datums = vec![("start", x - length / 2), ("end", x + length / 2)];
    Ok(Placed { datums, guides, ..Placed::default() })
}
