//! Words on the piece.

use super::{PlaceContext, PlaceError, Placed};
use crate::geom::Point;
use crate::job::Words;
use crate::layout::mark::Guide;

/// Their middle lies at `from` + `by`. Publishes no datums.
pub(super) fn place(f: &Words, context: &PlaceContext<'_>) -> Result<Placed, PlaceError> {
    let x = context.past(&f.from, &f.by)?;
    let (at, text) = (Point::new(x, f.across.value), f.text.value.clone());
    let guides = vec![Guide::Words { at, size: f.size.value, text }];
    Ok(Placed { guides, ..Placed::default() })
}
