//! A row of size holes about a datum.

use super::{Outcome, PlaceContext, Placed, nth, offsets, shape_of};
use crate::geom::Point;
use crate::job::HoleRow;
use crate::layout::mark::MarkKind;
use crate::layout::role::MarkRole;

/// The size hole lies at `from` + `by`, the others a pitch apart: `inside` toward the
/// buckle, `outside` toward the tip; with several rows, one for each tongue.
///
/// Datums: `first` (nearest the buckle), `size`, `last` (nearest the tip).
pub(super) fn place(f: &HoleRow, context: &PlaceContext<'_>) -> Outcome {
    let size = context.past(&f.at)?;
    let (inside, outside) = (i64::from(f.inside.value), i64::from(f.outside.value));
    let first = size - f.pitch.value * inside;
    let last = size + f.pitch.value * outside;
    let rows = offsets(&f.rows);
    let marks = (-inside..=outside)
        .flat_map(|n| rows.iter().map(move |y| (n, *y)))
        .map(|(n, y)| {
            let at = Point::new(size + f.pitch.value * n, y);
            let role = MarkRole::SizeHole { n: nth(n + inside), is_size: n == 0 };
            let span = f.hole.diameter.span.as_ref();
            context.mark(MarkKind::Hole, shape_of(&f.hole), at, role, span)
        })
        .collect();
    let datums = vec![("first", first), ("size", size), ("last", last)];
    Ok(Placed { marks, datums, ..Placed::default() })
}
