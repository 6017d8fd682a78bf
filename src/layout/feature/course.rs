//! Where stitching and creases run, on a finished outline.

use super::{PlaceContext, PlaceError};
use crate::diagnostic::Finding;
use crate::geom::clip::clip;
use crate::geom::{Extent, Length, Path, Point, Strap};
use crate::job::{Between, Course, Spanned};
use crate::layout::rule;

/// The lines of a course that keeps `inset` from the edge of the outline.
pub(super) fn lines(
    course: &Course,
    inset: &Spanned<Length>,
    context: &PlaceContext<'_>,
) -> Result<Vec<Path<Strap>>, PlaceError> {
    let Some(outline) = context.outline else { return Ok(Vec::new()) };
    let inner = || {
        let finding = || {
            Finding::error(
                rule::NO_ROOM,
                format!("`{}` finds no room within the edges", context.feature.name),
            )
            .at(inset.span.clone())
            .expected(
                format!("an inset of {}", inset.value.both()),
                "less than half of the narrowest width",
            )
            .remedy("give a smaller inset")
        };
        outline.offset_inward(inset.value).ok_or_else(|| PlaceError::from(finding()))
    };
    let reach = |between: &Between| -> Result<Extent, PlaceError> {
        let [from, to] = context.ends(between)?;
        Ok(Extent::new(from, to))
    };
    Ok(match course {
        Course::Outline => vec![inner()?],
        Course::Edges(between) => clip(&inner()?, reach(between)?),
        Course::Box(between) => {
            closed(clip(&inner()?, reach(between)?)).into_iter().collect()
        }
        Course::Line(between, across) => {
            let Extent { from, to } = reach(between)?;
            let at = |x| Point::new(x, across.value);
            vec![Path::line(at(from), at(to))]
        }
    })
}

/// Some runs of a clockwise outline, joined across the strap to one closed path.
fn closed(runs: Vec<Path<Strap>>) -> Option<Path<Strap>> {
    let whole = runs.iter().any(|r| r.closed);
    let mut runs = runs.into_iter();
    let mut path = runs.next()?;
    for run in runs {
        path = path.line_to(run.start);
        path.steps.extend(run.steps);
    }
    Some(if whole { path } else { path.close() })
}
