//! Lines that are creased into the leather, not punched.

use super::{PlaceContext, PlaceError, Placed, course};
use crate::geom::{Path, Strap};
use crate::job::{Crease, Feature};
use crate::layout::guide::{Guide, GuideShape};

/// The lines of the course, drawn as they run. Publishes no datums.
pub(super) fn place(
    feature: &Feature,
    f: &Crease,
    context: &PlaceContext<'_>,
    outline: &Path<Strap>,
) -> Result<Placed, PlaceError> {
    let lines = course::lines(feature, &f.course, &f.inset, context, outline)?;
    let guide = |line| Guide { feature: feature.id, shape: GuideShape::Crease(line) };
    let guides = lines.into_iter().map(guide).collect();
    Ok(Placed { guides, ..Placed::default() })
}
