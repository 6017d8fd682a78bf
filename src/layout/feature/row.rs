//! A row of holes from its first one on.

use super::{MOST_MARKS, PlaceContext, PlaceError, Placed, nth, offsets, too_many};
use crate::geom::Point;
use crate::job::{Feature, HoleShape, Row, RowCount, Use};
use crate::layout::mark::{MarkKind, Shape};
use crate::layout::role::MarkRole;

/// The first hole lies at `from` + `by`. The others follow a pitch apart, or divide the way
/// to `to` + `to-by` evenly, both ends included; each place is rounded from the whole way.
///
/// Datums: `first`, `last`.
pub(super) fn place(
    feature: &Feature,
    f: &Row,
    context: &PlaceContext<'_>,
) -> Result<Placed, PlaceError> {
    let first = context.past(&f.from, &f.by)?;
    let (count, last, span) = match &f.run {
        RowCount::Pitch { count, pitch } => {
            let n = i64::from(count.value);
            (n, first + pitch.value * (n - 1).max(0), pitch.span.as_ref())
        }
        RowCount::To { to, by, count } => {
            (i64::from(count.value), context.past(to, by)?, count.span.as_ref())
        }
        RowCount::AtMost { to, by, pitch } => {
            let last = context.past(to, by)?;
            let way = (last - first).abs().nm();
            let step = pitch.value.nm().max(1);
            (way / step + i64::from(way % step != 0) + 1, last, pitch.span.as_ref())
        }
    };
    let rows = offsets(&f.rows);
    let all = count.saturating_mul(i64::try_from(rows.len()).unwrap_or(1));
    if all > MOST_MARKS {
        return Err(too_many(feature, all, span).into());
    }
    let kind = match f.usage {
        Use::Hole => MarkKind::Hole,
        Use::Eyelet => MarkKind::Eyelet,
        Use::Fastener => MarkKind::Fastener,
        Use::Slot => MarkKind::Slot,
        Use::Stitch => MarkKind::Stitch,
    };
    let shape = match f.shape {
        HoleShape::Round => Shape::Round { diameter: f.diameter.value },
        HoleShape::Oval => {
            Shape::Slot { length: f.oval_length.value, width: f.diameter.value }
        }
    };
    let mut marks = Vec::new();
    for i in 0..count {
        let x =
            if count > 1 { first + (last - first).times(i, count - 1) } else { first };
        for &y in &rows {
            let at = Point::new(x, y);
            // One alone is called by its name.
            let role = match (count, f.usage) {
                (_, Use::Stitch) => MarkRole::Stitch,
                (1, _) => MarkRole::Only,
                (_, Use::Fastener) => MarkRole::Fastener { n: nth(i) },
                (_, Use::Hole | Use::Eyelet | Use::Slot) => MarkRole::Hole { n: nth(i) },
            };
            let span = f.diameter.span.as_ref();
            marks.push(PlaceContext::mark(feature, kind, shape, at, role, span));
        }
    }
    let last = if count > 1 { last } else { first };
    Ok(Placed {
        marks,
        datums: vec![("first", first), ("last", last)],
        ..Placed::default()
    })
}
