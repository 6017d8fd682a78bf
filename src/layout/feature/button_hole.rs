//! A hole with a slit, for a strap button or a stud.

use super::{Ground, Placed, Stop};
use crate::geom::{Length, Point};
use crate::job::{ButtonHole, Feature};
use crate::layout::mark::{MarkKind, Shape};

/// How wide a slit is drawn: a knife takes nothing away.
const SLIT: Length = Length::from_um(500);

/// The hole lies at `from` + `by`; the slit runs on from its rim along the strap.
///
/// Datums: `hole`, `end` (the end of the slit).
pub(super) fn place(
    feature: &Feature,
    f: &ButtonHole,
    ground: &Ground<'_>,
) -> Result<Placed, Stop> {
    let x = ground.datums.past(&f.from, &f.by)?;
    let at = |x| Point::new(x, Length::ZERO);
    let round = Shape::Round { diameter: f.diameter.value };
    let place = f.diameter.place.as_ref();
    let mut marks =
        vec![Ground::mark(feature, MarkKind::Hole, round, at(x), "stud", place)];
    let slit = f.slit.value;
    let way = slit.nm().signum();
    let rim = x + f.diameter.value / 2 * way;
    if slit != Length::ZERO {
        let shape = Shape::Slot { length: slit.abs().max(SLIT), width: SLIT };
        let (middle, place) = (at(rim + slit / 2), f.slit.place.as_ref());
        marks.push(Ground::mark(feature, MarkKind::Slit, shape, middle, "slit", place));
    }
    let datums = vec![("hole", x), ("end", rim + slit)];
    Ok(Placed { marks, datums, ..Placed::default() })
}
