//! Slots, along the strap or across it.

use super::{Outcome, PlaceContext, Placed, offsets};
use crate::geom::Point;
use crate::job::Slot;
use crate::layout::mark::{MarkKind, Shape};
use crate::layout::role::MarkRole;

/// The middle lies at `from` + `by`.
///
/// Datums: `middle`, `start`, `end`.
pub(super) fn place(f: &Slot, context: &PlaceContext<'_>) -> Outcome {
    let x = context.past(&f.at)?;
    let shape = Shape::Slot { length: f.length.value, width: f.width.value };
    let marks = offsets(&f.rows)
        .into_iter()
        .map(|y| {
            let longer =
                if f.width.value > f.length.value { &f.width } else { &f.length };
            let span = longer.span.as_ref();
            context.mark(MarkKind::Slot, shape, Point::new(x, y), MarkRole::Slot, span)
        })
        .collect();
    let half = f.length.value / 2;
    let datums = vec![("middle", x), ("start", x - half), ("end", x + half)];
    Ok(Placed { marks, datums, ..Placed::default() })
}
