//! Changes of width.

use super::{Bent, PlaceContext, PlaceError, Placed};
use crate::geom::Extent;
use crate::job::{Join, Taper};

/// From `from` + `by` to `to` + `to-by` the piece goes over to the new width; the outline
/// is put together once all of them are known.
///
/// Datums: `start`, `end`.
pub(super) fn place(f: &Taper, ground: &PlaceContext<'_>) -> Result<Placed, PlaceError> {
    let from = ground.past(&f.between.from, &f.between.by)?;
    let to = ground.past(&f.between.to, &f.between.to_by)?;
    let taper = Some(Bent {
        extent: Extent { from, to },
        half: f.width.value / 2,
        smooth: f.join == Join::Smooth,
        span: f.width.span.clone(),
    });
    Ok(Placed { taper, datums: vec![("start", from), ("end", to)], ..Placed::default() })
}
