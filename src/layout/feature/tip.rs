//! The cut ends: each form of true arcs and lines.

use super::{End, Outcome, PlaceContext, Placed};
use crate::geom::{Extent, Length, Path, Point, Strap};
use crate::job::{PieceId, Side, Tip, TipShape};
use crate::layout::mark::{MarkKind, Shape};
use crate::layout::role::MarkRole;

/// The point lies at `from` + `by`. A blank that came with its tip is as long as it is:
/// then the point lies where the blank ends.
///
/// Datums: `shoulder` (where the curve leaves the edges), `end`.
pub(super) fn place(f: &Tip, context: &PlaceContext<'_>) -> Outcome {
    let end = match (&context.job.blank.length, context.feature.on_blank) {
        (Some(length), true)
            if context.feature.on.value == PieceId::STRAP && f.side == Side::End =>
        {
            context.datums.start()? + length.value
        }
        _ => context.past(&f.at)?,
    };
    let curve = at_side(f.shape, f.side, end, context.width_at(f.side));
    let shoulder = curve.start.x;
    let at = Point::new(end, Length::ZERO);
    let kind = if f.side == Side::End { MarkKind::Tip } else { MarkKind::End };
    let (shape, role) = match (f.shape, f.side) {
        (TipShape::Straight | TipShape::RoundedCorners, Side::End) => {
            (Shape::Across, MarkRole::End)
        }
        (_, Side::End) => (Shape::Point, MarkRole::Tip),
        (TipShape::Straight | TipShape::RoundedCorners, Side::Start) => {
            (Shape::Across, MarkRole::Start)
        }
        (_, Side::Start) => (Shape::Point, MarkRole::Start),
    };
    let mark = context.mark(kind, shape, at, role, f.at.by.span.as_ref());
    let datums = vec![("shoulder", shoulder), ("end", end)];
    let on_blank = context.feature.on_blank.then_some(Extent::new(shoulder, end));
    let made = Some(End { x: end, curve });
    let (start, end) = if f.side == Side::Start { (made, None) } else { (None, made) };
    Ok(Placed { marks: vec![mark], datums, on_blank, start, end, ..Placed::default() })
}

/// The curve of an end that lies furthest out at `x`, clockwise. The start is the end
/// turned half round.
pub(in crate::layout) fn at_side(
    shape: TipShape,
    side: Side,
    x: Length,
    width: Length,
) -> Path<Strap> {
    if side == Side::End {
        return curve(shape, x, width);
    }
    curve(shape, -x, width).map(|p| Point::new(-p.x, -p.y), false)
}

/// How long the tip is, from shoulder to point, for a strap of `width`.
fn length(shape: TipShape, width: Length) -> Length {
    match shape {
        // Two arcs of radius R tangent to the edges meet sqrt(w (R - w/4)) past the
        // shoulder; with R = 1.25 w that is w.
        TipShape::EnglishPoint | TipShape::BridlePoint => width,
        TipShape::Round => width / 2,
        TipShape::RoundedCorners => corner(width),
        TipShape::Straight => Length::ZERO,
        // Shoulder arcs of radius w turn by the angle of the 5-12-13 triangle, so that the
        // flanks are exact: 5/13 w along the arc, then 12/5 of what is left of the half
        // width.
        TipShape::Spear => width.times(5, 13) + spear_half(width).times(12, 5),
    }
}

/// Radius of rounded corners: a quarter of the width.
fn corner(width: Length) -> Length {
    width / 4
}

/// Half the width that is left where the spear's flank begins: w/2 - w/13.
fn spear_half(width: Length) -> Length {
    width.times(11, 26)
}

/// From the upper shoulder round the point to the lower shoulder.
fn curve(shape: TipShape, end: Length, width: Length) -> Path<Strap> {
    let half = width / 2;
    let shoulder = end - length(shape, width);
    let point = Point::new(end, Length::ZERO);
    let (top, bottom) = (Point::new(shoulder, half), Point::new(shoulder, -half));
    match shape {
        TipShape::EnglishPoint => {
            let radius = width.times(5, 4);
            Path::from(top)
                .arc_to(point, Point::new(shoulder, half - radius), true)
                .arc_to(bottom, Point::new(shoulder, radius - half), true)
        }
        TipShape::Round => {
            let centre = Point::new(shoulder, Length::ZERO);
            Path::from(top).arc_to(point, centre, true).arc_to(bottom, centre, true)
        }
        TipShape::Spear => {
            let flank = shoulder + width.times(5, 13);
            let left = spear_half(width);
            Path::from(top)
                .arc_to(Point::new(flank, left), Point::new(shoulder, half - width), true)
                .line_to(point)
                .line_to(Point::new(flank, -left))
                .arc_to(bottom, Point::new(shoulder, width - half), true)
        }
        TipShape::RoundedCorners => {
            let inner = half - corner(width);
            let (up, down) = (Point::new(shoulder, inner), Point::new(shoulder, -inner));
            Path::from(top)
                .arc_to(Point::new(end, inner), up, true)
                .line_to(Point::new(end, -inner))
                .arc_to(bottom, down, true)
        }
        TipShape::Straight => Path::from(top).line_to(bottom),
        TipShape::BridlePoint => {
            // Flat nose, 1/16 in in from each edge, slope one width long (S. Harrison,
            // "Some traditional saddlery rules"). The slope is an arc tangent to the edge,
            // R = (w² + d²) / 2d, so that the shoulder has no corner; on a narrow strap
            // the nose keeps half the width.
            let drop = Length::from_inch_64ths(4).min(width / 4);
            let nose = half - drop;
            let (w, d) = (i128::from(width.nm()), i128::from(drop.nm().max(1)));
            let nm = (w * w + d * d) / (2 * d);
            let radius = Length::from_nm(i64::try_from(nm).unwrap_or(i64::MAX / 4));
            Path::from(top)
                .arc_to(Point::new(end, nose), Point::new(shoulder, half - radius), true)
                .line_to(Point::new(end, -nose))
                .arc_to(bottom, Point::new(shoulder, radius - half), true)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Step;

    /// Every arc's two ends lie on its circle, to 2 nm: the curves are true.
    #[test]
    fn arcs_lie_on_their_circles() {
        for shape in [
            TipShape::EnglishPoint,
            TipShape::Round,
            TipShape::Spear,
            TipShape::BridlePoint,
            TipShape::RoundedCorners,
        ] {
            let path = curve(shape, Length::from_mm(500), Length::from_um(38_100));
            let mut arcs = 0;
            for segment in path.segments() {
                if let Step::Arc { to, centre, .. } = segment.step {
                    let (a, b) = ((segment.from - centre).norm(), (to - centre).norm());
                    assert!((a - b).abs() <= Length::from_nm(2), "{shape:?}: {a} {b}");
                    arcs += 1;
                }
            }
            assert_eq!(arcs, 2, "{shape:?}");
        }
    }

    /// Computed: length = sqrt(w (R - w/4)); R = 1.25 w gives w, R = w/2 gives w/2.
    #[test]
    fn lengths_follow_the_formula() {
        let w = Length::from_mm(40);
        for (shape, mm) in [(TipShape::EnglishPoint, 40), (TipShape::Round, 20)] {
            let path = curve(shape, Length::ZERO, w);
            assert_eq!(path.start.x, Length::from_mm(-mm), "{shape:?}");
        }
    }
}
