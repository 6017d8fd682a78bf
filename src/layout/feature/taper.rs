//! Changes of width.

use super::{Outcome, PlaceContext, Placed};
use crate::geom::{Extent, Length};
use crate::job::{Join, Taper};
use crate::layout::mark::WidthChange;

/// From `from` + `by` to `to` + `to-by` the piece goes over to the new width; the outline
/// is put together once all of them are known.
///
/// Datums: `start`, `end`.
pub(super) fn place(f: &Taper, context: &PlaceContext<'_>) -> Outcome {
    let [from, to] = context.ends(&f.between)?;
    let taper = Some(WidthChange {
        extent: Extent { from, to },
        before: Length::ZERO,
        after: f.width.value,
        smooth: f.join == Join::Smooth,
        span: f.width.span.clone(),
    });
    Ok(Placed { taper, datums: vec![("start", from), ("end", to)], ..Placed::default() })
}
