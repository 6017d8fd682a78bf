//! Holes for stitching, pricked at an even pitch.

use super::{MOST_MARKS, Outcome, PlaceContext, Placed, course, too_many};
use crate::geom::{Length, Point, Segment, Strap};
use crate::job::Stitch;
use crate::layout::mark::{Mark, MarkKind, Shape};
use crate::layout::role::MarkRole;

/// The course is cut at its corners; each smooth run between two corners is divided evenly
/// into the number of stitches that comes nearest to the pitch, so that ends and corners
/// get a hole. Publishes no datums.
pub(super) fn place(f: &Stitch, context: &PlaceContext<'_>) -> Outcome {
    let lines = course::lines(&f.course, &f.inset, context)?;
    let mut marks: Vec<Mark> = Vec::new();
    let shape = Shape::Round { diameter: f.diameter.value };
    let mut put = |at: Point<Strap>| {
        let span = f.pitch.span.as_ref();
        marks.push(context.mark(MarkKind::Stitch, shape, at, MarkRole::Stitch, span));
    };
    let mut count = 0;
    for line in &lines {
        let runs = line.runs();
        for run in &runs {
            let length: Length = run.iter().map(|s| s.length()).sum();
            let n = stitches(length, f.pitch.value);
            count += n + 1;
            if count > MOST_MARKS {
                return Err(
                    too_many(context.feature, count, f.pitch.span.as_ref()).into()
                );
            }
            walk(run, length, n, &mut put);
        }
        // The end of a closed line is its start.
        if !line.closed
            && let Some(last) = runs.last().and_then(|r| r.last())
        {
            put(last.step.to());
        }
    }
    Ok(Placed { marks, ..Placed::default() })
}

/// How many stitches a run of `length` has: at least one, nearest to the pitch.
fn stitches(length: Length, pitch: Length) -> i64 {
    let step = pitch.nm().max(1);
    ((length.nm() + step / 2) / step).max(1)
}

/// The holes of a run, the last one left out. Each is measured from the run's start, so
/// that no rounding adds up.
fn walk(
    run: &[Segment<Strap>],
    length: Length,
    n: i64,
    put: &mut impl FnMut(Point<Strap>),
) {
    let lengths: Vec<Length> = run.iter().map(|s| s.length()).collect();
    let mut passed = Length::ZERO;
    let mut at = 0;
    for i in 0..n {
        let way = length.times(i, n);
        while at + 1 < run.len() && passed + lengths[at] < way {
            passed += lengths[at];
            at += 1;
        }
        put(run[at].part((way - passed).nm(), lengths[at].nm().max(1)));
    }
}
