//! Words on the piece.

use super::{PlaceContext, PlaceError, Placed};
use crate::geom::Point;
use crate::job::Words;
use crate::layout::mark::Guide;

/// Their middle lies at `from` + `by`. Publishes no datums.
pub(super) fn place(f: &Words, ground: &PlaceContext<'_>) -> Result<Placed, PlaceError> {
    let x = ground.past(&f.from, &f.by)?;
    let (at, text) = (Point::new(x, f.across.value), f.text.value.clone());
    let drawn = vec![Guide::Words { at, size: f.size.value, text }];
    Ok(Placed { drawn, ..Placed::default() })
}
