//! Fittings spaced equally between two datums.

use super::{Ground, Placed};
use crate::geom::{Length, Point};
use crate::job::{Feature, Spread};
use crate::layout::datum::Missing;
use crate::layout::mark::{MarkKind, Shape};

/// N fittings leave N + 1 equal gaps: fitting i lies i / (N + 1) of the span from its
/// beginning (common practice, no source). Each place is rounded to the nanometre from the
/// whole span, so that no error adds up along the strap.
///
/// Datums: `first`, `last` (both at the beginning of the span when there are none).
pub(super) fn place(
    feature: &Feature,
    f: &Spread,
    ground: &Ground<'_>,
) -> Result<Placed, Missing> {
    let from = ground.datums.get(&f.from)? + f.by.value;
    let to = ground.datums.get(&f.to)? + f.to_by.value;
    let n = i64::from(f.count.value);
    let x = |i: i64| from + (to - from).times(i, n + 1);
    let shape = Shape::Round { diameter: f.diameter.value };
    let marks = (1..=n)
        .map(|i| {
            let at = Point::new(x(i), Length::ZERO);
            let place = f.count.place.as_ref();
            let label = format!("F{i}");
            Ground::mark(feature, MarkKind::Fitting, shape, at, label, place)
        })
        .collect();
    let datums = vec![("first", x(n.min(1))), ("last", x(n))];
    Ok(Placed { marks, datums, ..Placed::default() })
}
