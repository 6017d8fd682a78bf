//! Changes of width.

use super::{PlaceContext, PlaceError, Placed, PlacedTaper};
use crate::geom::Extent;
use crate::job::{Join, Taper};

/// From `from` + `by` to `to` + `to-by` the piece goes over to the new width; the outline
/// is put together once all of them are known.
///
/// Datums: `start`, `end`.
pub(super) fn place(f: &Taper, context: &PlaceContext<'_>) -> Result<Placed, PlaceError> {
    let from = context.past(&f.between.from, &f.between.by)?;
    let to = context.past(&f.between.to, &f.between.to_by)?;
    let taper = Some(PlacedTaper {
        extent: Extent { from, to },
        half: f.width.value / 2,
        smooth: f.join == Join::Smooth,
        span: f.width.span.clone(),
    });
    Ok(Placed { taper, datums: vec![("start", from), ("end", to)], ..Placed::default() })
}
