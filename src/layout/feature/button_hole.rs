//! A hole with a slit, for a strap button or a stud.

use super::{Outcome, PlaceContext, Placed, nth};
use crate::geom::{Length, Point};
use crate::job::ButtonHole;
use crate::layout::mark::{MarkKind, Shape};
use crate::layout::role::MarkRole;

/// How wide a slit is drawn: a knife takes nothing away.
const SLIT: Length = Length::from_um(500);

/// The first hole lies at `from` + `by`, the others a pitch apart; a slit runs on from the
/// rim of each along the strap.
///
/// Datums: `first`, `last` (the holes), `end` (the end of the last slit).
pub(super) fn place(f: &ButtonHole, context: &PlaceContext<'_>) -> Outcome {
    let first = context.past(&f.at)?;
    let at = |x| Point::new(x, Length::ZERO);
    let slit = f.slit.value;
    let to_rim = f.diameter.value / 2 * slit.nm().signum();
    let mut marks = Vec::new();
    let mut last = first;
    for i in 0..i64::from(f.count.value) {
        last = first + f.pitch.value * i;
        let round = Shape::Round { diameter: f.diameter.value };
        let span = f.diameter.span.as_ref();
        let role = match f.count.value {
            1 => MarkRole::Stud,
            _ => MarkRole::Hole { n: nth(i) },
        };
        marks.push(context.mark(MarkKind::Hole, round, at(last), role, span));
        if slit != Length::ZERO {
            let shape = Shape::Slot { length: slit.abs().max(SLIT), width: SLIT };
            let (middle, span) = (at(last + to_rim + slit / 2), f.slit.span.as_ref());
            marks.push(context.mark(MarkKind::Slit, shape, middle, MarkRole::Slit, span));
        }
    }
    let datums = vec![("first", first), ("last", last), ("end", last + to_rim + slit)];
    Ok(Placed { marks, datums, ..Placed::default() })
}
