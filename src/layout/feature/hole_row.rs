//! A row of size holes about a datum.

use super::{Outcome, PlaceContext, Placed, nth, offsets};
use crate::geom::Point;
use crate::job::{HoleRow, HoleShape};
use crate::layout::mark::{MarkKind, Shape};
use crate::layout::role::MarkRole;

/// The size hole lies at `from` + `by`, the others a pitch apart: `inside` toward the
/// buckle, `outside` toward the tip; with several rows, one for each tongue.
///
/// Datums: `first` (nearest the buckle), `size`, `last` (nearest the tip).
pub(super) fn place(f: &HoleRow, context: &PlaceContext<'_>) -> Outcome {
    let size = context.get(&f.from)? + f.by.value;
    let shape = match f.shape {
        HoleShape::Round => Shape::Round { diameter: f.diameter.value },
        HoleShape::Oval => {
            Shape::Slot { length: f.oval_length.value, width: f.diameter.value }
        }
    };
    let (inside, outside) = (i64::from(f.inside.value), i64::from(f.outside.value));
    let first = size - f.pitch.value * inside;
    let last = size + f.pitch.value * outside;
    let rows = offsets(&f.rows);
    let marks = (-inside..=outside)
        .flat_map(|n| rows.iter().map(move |y| (n, *y)))
        .map(|(n, y)| {
            let at = Point::new(size + f.pitch.value * n, y);
            let role = MarkRole::SizeHole { n: nth(n + inside), is_size: n == 0 };
            let span = f.diameter.span.as_ref();
            context.mark(MarkKind::Hole, shape, at, role, span)
        })
        .collect();
    let datums = vec![("first", first), ("size", size), ("last", last)];
    Ok(Placed { marks, datums, ..Placed::default() })
}
