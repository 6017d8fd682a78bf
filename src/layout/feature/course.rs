//! Where stitching and creases run, on a finished outline.

use super::{Ground, Stop};
use crate::diagnostic::{Finding, Severity};
use crate::geom::clip::clip;
use crate::geom::{Extent, Length, Path, Point, Strap};
use crate::job::{Course, Feature, Said, Span};

/// The lines of a course that keeps `inset` from the edge of `outline`.
pub(super) fn lines(
    feature: &Feature,
    course: &Course,
    inset: &Said<Length>,
    ground: &Ground<'_>,
    outline: &Path<Strap>,
) -> Result<Vec<Path<Strap>>, Stop> {
    let inner = || {
        let finding = || {
            Finding::new(
                "no-room",
                Severity::Error,
                format!("`{}` finds no room within the edges", feature.name),
            )
            .at(inset.place.clone())
            .held(
                format!("an inset of {}", inset.value.both()),
                "less than half of the narrowest width",
            )
            .remedy("give a smaller inset")
        };
        outline.inset(inset.value).ok_or_else(|| Stop::from(finding()))
    };
    let reach = |span: &Span| -> Result<Extent, Stop> {
        let from = ground.past(&span.from, &span.by)?;
        Ok(Extent::new(from, ground.past(&span.to, &span.to_by)?))
    };
    Ok(match course {
        Course::Outline => vec![inner()?],
        Course::Edges(span) => clip(&inner()?, reach(span)?),
        Course::Box(span) => closed(clip(&inner()?, reach(span)?)).into_iter().collect(),
        Course::Line(span, across) => {
            let Extent { from, to } = reach(span)?;
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
