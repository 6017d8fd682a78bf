//! Changes of width.

use super::{Bent, Ground, Placed, Stop};
use crate::geom::Extent;
use crate::job::{Join, Taper};

/// From `from` + `by` to `to` + `to-by` the piece goes over to the new width; the outline
/// is put together once all of them are known.
///
/// Datums: `start`, `end`.
pub(super) fn place(f: &Taper, ground: &Ground<'_>) -> Result<Placed, Stop> {
    let from = ground.past(&f.span.from, &f.span.by)?;
    let to = ground.past(&f.span.to, &f.span.to_by)?;
    let taper = Some(Bent {
        span: Extent { from, to },
        half: f.width.value / 2,
        smooth: f.join == Join::Smooth,
        place: f.width.place.clone(),
    });
    Ok(Placed { taper, datums: vec![("start", from), ("end", to)], ..Placed::default() })
}
