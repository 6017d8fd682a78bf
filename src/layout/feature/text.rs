//! Words on the piece.

use super::{Ground, Placed, Stop};
use crate::geom::Point;
use crate::job::Words;
use crate::layout::mark::Drawn;

/// Their middle lies at `from` + `by`. Publishes no datums.
pub(super) fn place(f: &Words, ground: &Ground<'_>) -> Result<Placed, Stop> {
    let x = ground.past(&f.from, &f.by)?;
    let (at, text) = (Point::new(x, f.across.value), f.text.value.clone());
    let drawn = vec![Drawn::Words { at, size: f.size.value, text }];
    Ok(Placed { drawn, ..Placed::default() })
}
