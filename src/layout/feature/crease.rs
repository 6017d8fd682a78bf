//! Lines that are creased into the leather, not punched.

use super::{Outcome, PlaceContext, Placed, course};
use crate::job::Crease;
use crate::layout::guide::{Guide, GuideShape};

/// The lines of the course, drawn as they run. Publishes no datums.
pub(super) fn place(f: &Crease, context: &PlaceContext<'_>) -> Outcome {
    let lines = course::lines(&f.course, &f.inset, context)?;
    let guide =
        |line| Guide { feature: context.feature.id, shape: GuideShape::Crease(line) };
    let guides = lines.into_iter().map(guide).collect();
    Ok(Placed { guides, ..Placed::default() })
}
