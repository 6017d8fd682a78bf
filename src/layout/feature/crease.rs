//! Lines that are creased into the leather, not punched.

use super::{Ground, Placed, Stop, course};
use crate::geom::{Path, Strap};
use crate::job::{Crease, Feature};
use crate::layout::mark::Drawn;

/// The lines of the course, drawn as they run. Publishes no datums.
pub(super) fn place(
    feature: &Feature,
    f: &Crease,
    ground: &Ground<'_>,
    outline: &Path<Strap>,
) -> Result<Placed, Stop> {
    let lines = course::lines(feature, &f.course, &f.inset, ground, outline)?;
    let drawn = lines.into_iter().map(Drawn::Crease).collect();
    Ok(Placed { drawn, ..Placed::default() })
}
