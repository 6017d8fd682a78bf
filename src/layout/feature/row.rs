//! A row of holes from its first one on.

use super::{
    MOST_MARKS, Outcome, PlaceContext, Placed, nth, offsets, shape_of, too_many,
};
use crate::geom::{Length, Point};
use crate::job::{Row, RowCount, Use};
use crate::layout::mark::MarkKind;
use crate::layout::role::MarkRole;

/// The first hole lies at `from` + `by`. The others follow a pitch apart, or divide the way
/// to `to` + `to-by` evenly, both ends included; each place is rounded from the whole way.
/// A row in the middle between two datums is even about it. Measured places lie where they
/// were measured.
///
/// Datums: `first`, `last`.
pub(super) fn place(f: &Row, context: &PlaceContext<'_>) -> Outcome {
    let from = context.past(&f.at)?;
    let mut first = from;
    let (count, last, span) = match &f.run {
        RowCount::Pitch { count, pitch } => {
            let n = i64::from(count.value);
            let whole = pitch.value * (n - 1).max(0);
            if f.at.from.and.is_some() {
                first = from - whole / 2;
            }
            (n, first + whole, pitch.span.as_ref())
        }
        RowCount::To { to, count } => {
            (i64::from(count.value), context.past(to)?, count.span.as_ref())
        }
        RowCount::AtMost { to, pitch } => {
            let last = context.past(to)?;
            let way = (last - first).abs().nm();
            let step = pitch.value.nm().max(1);
            (way / step + i64::from(way % step != 0) + 1, last, pitch.span.as_ref())
        }
        RowCount::Places(places) => {
            let count = i64::try_from(places.len()).unwrap_or(i64::MAX);
            (count, from, places.first().and_then(|given| given.span.as_ref()))
        }
    };
    let rows = offsets(&f.rows);
    let all = count.saturating_mul(i64::try_from(rows.len()).unwrap_or(1));
    if all > MOST_MARKS {
        return Err(too_many(context.feature, all, span).into());
    }
    let kind = match f.usage {
        Use::Hole => MarkKind::Hole,
        Use::Eyelet => MarkKind::Eyelet,
        Use::Fastener => MarkKind::Fastener,
        Use::Slot => MarkKind::Slot,
        Use::Stitch => MarkKind::Stitch,
    };
    let shape = shape_of(&f.hole);
    let places: Vec<Length> = match &f.run {
        RowCount::Places(places) => {
            places.iter().map(|given| from + given.value).collect()
        }
        _ if count == 1 => vec![first],
        _ => (0..count).map(|i| first + (last - first).times(i, count - 1)).collect(),
    };
    let mut marks = Vec::new();
    for (x, i) in places.iter().copied().zip(0..) {
        for &y in &rows {
            let at = Point::new(x, y);
            // One alone is called by its name.
            let role = match (count, f.usage) {
                (_, Use::Stitch) => MarkRole::Stitch,
                (1, _) => MarkRole::Only,
                (_, Use::Fastener) => MarkRole::Fastener { n: nth(i) },
                (_, Use::Hole | Use::Eyelet | Use::Slot) => MarkRole::Hole { n: nth(i) },
            };
            let span = f.hole.diameter.span.as_ref();
            marks.push(context.mark(kind, shape, at, role, span));
        }
    }
    let ends = [places.first(), places.last()].map(|x| *x.unwrap_or(&first));
    Ok(Placed {
        marks,
        datums: vec![("first", ends[0]), ("last", ends[1])],
        ..Placed::default()
    })
}
