//! The outline of a piece, from its two ends and its changes of width.

use super::feature::End;
use super::mark::WidthChange;
use crate::diagnostic::Finding;
use crate::geom::{Length, Path, Point, Step, Strap};
use crate::layout::rule;

/// Beyond this radius a curve is a straight line to the nanometre.
const STRAIGHT: i128 = 1_000_000_000_000_000;

/// From the lower shoulder of the start round it, along the upper edge, round the end and
/// back along the lower edge.
///
/// # Errors
/// A finding when the changes of width do not follow each other between the ends, or one is
/// too steep for its smooth join.
pub(super) fn outline(
    name: &str,
    width: Length,
    start: &End,
    end: &End,
    tapers: &[WidthChange],
) -> Result<Path<Strap>, Box<Finding>> {
    let mut half = width / 2;
    let mut at = start.curve.end().x;
    let mut upper = Vec::new();
    for taper in tapers {
        let fits = at <= taper.extent.from
            && taper.extent.from < taper.extent.to
            && taper.extent.to <= end.curve.start.x;
        if !fits {
            return Err(misplaced(name, taper, at, end.curve.start.x));
        }
        let from = Point::new(taper.extent.from, half);
        let to = Point::new(taper.extent.to, taper.after / 2);
        let run = to.x - from.x;
        if taper.smooth && run < (to.y - half).abs() {
            return Err(steep(name, taper, half));
        }
        upper.extend(bend(from, to, taper.smooth));
        half = to.y;
        at = taper.extent.to;
    }
    let mut path = start.curve.clone();
    path.closed = false;
    let go_on = |path: &mut Path<Strap>, to: Point<Strap>| {
        if path.end() != to {
            path.steps.push(Step::Line { to });
        }
    };
    for run in &upper {
        go_on(&mut path, run.start);
        path.steps.extend(run.steps.iter().copied());
    }
    go_on(&mut path, end.curve.start);
    path.steps.extend(end.curve.steps.iter().copied());
    for run in upper.iter().rev() {
        let lower = mirrored(&reversed(run));
        go_on(&mut path, lower.start);
        path.steps.extend(lower.steps);
    }
    Ok(path.close())
}

/// The upper edge over one change of width. A smooth one is two arcs of one radius, each
/// tangent to a straight edge and to the other arc in the middle: over a length L and a
/// rise h, half of each lies on a circle of radius R = (L² + h²) / 4h.
///
/// They turn by less than a quarter as long as L is more than h. `None` where nothing
/// changes.
fn bend(from: Point<Strap>, to: Point<Strap>, smooth: bool) -> Option<Path<Strap>> {
    let (run, rise) = (to.x - from.x, to.y - from.y);
    if rise == Length::ZERO {
        return None;
    }
    let (l, h) = (i128::from(run.nm()), i128::from(rise.nm().abs()));
    let radius = (l * l + h * h) / (4 * h);
    if !smooth || radius > STRAIGHT {
        return Some(Path::line(from, to));
    }
    let radius = Length::from_nm(i64::try_from(radius).ok()?);
    let middle = Point::new(from.x + run / 2, from.y + rise / 2);
    let up = rise > Length::ZERO;
    let away = if up { radius } else { -radius };
    let first = Point::new(from.x, from.y + away);
    let last = Point::new(to.x, to.y - away);
    Some(Path::from(from).arc_to(middle, first, !up).arc_to(to, last, up))
}

/// The same path the other way.
pub(super) fn reversed(path: &Path<Strap>) -> Path<Strap> {
    let mut back = Path::from(path.end());
    let mut closing = path.clone();
    closing.closed = false;
    for segment in closing.segments().into_iter().rev() {
        back = match segment.step {
            Step::Line { .. } => back.line_to(segment.from),
            Step::Arc { centre, clockwise, .. } => {
                back.arc_to(segment.from, centre, !clockwise)
            }
        };
    }
    back.closed = path.closed;
    back
}

/// The same path on the other side of the centre line.
pub(super) fn mirrored(path: &Path<Strap>) -> Path<Strap> {
    path.map(|p| Point::new(p.x, -p.y), true)
}

fn misplaced(name: &str, taper: &WidthChange, from: Length, to: Length) -> Box<Finding> {
    let finding = Finding::error(
        rule::BAD_TAPER,
        format!("a change of width of `{name}` is out of place"),
    )
    .at(taper.span.clone())
    .expected(
        format!("from {}", taper.extent.both()),
        format!("changes one after the other, between {} and {}", from.both(), to.both()),
    )
    .remedy("give the changes of width in their order along the piece, shorter ones");
    Box::new(finding)
}

fn steep(name: &str, taper: &WidthChange, half: Length) -> Box<Finding> {
    let rise = (taper.after / 2 - half).abs();
    let finding = Finding::error(
        rule::BAD_TAPER,
        format!("a change of width of `{name}` is too steep"),
    )
    .at(taper.span.clone())
    .expected(
        format!("{} of run", (taper.extent.to - taper.extent.from).both()),
        format!("at least {}, what each edge moves", rise.both()),
    )
    .remedy("give it a longer run, or join = \"straight\"");
    Box::new(finding)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Extent;

    fn mm(n: i64) -> Length {
        Length::from_mm(n)
    }

    fn square(x: i64, half: i64, up: bool) -> End {
        let (a, b) = (Point::new(mm(x), mm(half)), Point::new(mm(x), mm(-half)));
        let curve = if up { Path::line(b, a) } else { Path::line(a, b) };
        End { x: mm(x), curve }
    }

    fn taper(from: i64, to: i64, half: i64, smooth: bool) -> WidthChange {
        let extent = Extent { from: mm(from), to: mm(to) };
        WidthChange { extent, before: mm(0), after: mm(half * 2), smooth, span: None }
    }

    fn swell() -> Path<Strap> {
        let tapers = [taper(50, 90, 30, true), taper(200, 260, 7, true)];
        outline("p", mm(40), &square(0, 20, true), &square(300, 7, false), &tapers)
            .unwrap()
    }

    /// Every arc's ends lie on its circle, and every join of a smooth change is tangent: the
    /// directions differ by less than a hundred-thousandth.
    #[test]
    fn smooth_changes_are_true_arcs_that_join_smoothly() {
        let path = swell();
        assert!(path.closed);
        let segments = path.segments();
        let (mut arcs, mut corners) = (0, 0);
        for (i, segment) in segments.iter().enumerate() {
            if let Step::Arc { to, centre, .. } = segment.step {
                let (a, b) = ((segment.from - centre).norm(), (to - centre).norm());
                assert!((a - b).abs() <= Length::from_nm(3), "{a} {b}");
                arcs += 1;
            }
            let next = segments[(i + 1) % segments.len()];
            let (a, b) = (segment.directions().1, next.directions().0);
            let nm = |l: Length| i128::from(l.nm());
            let across = nm(a.x) * nm(b.y) - nm(a.y) * nm(b.x);
            let norms = nm(a.norm()) * nm(b.norm());
            let dot = nm(a.x) * nm(b.x) + nm(a.y) * nm(b.y);
            if dot <= 0 || across.abs() * 100_000 > norms {
                corners += 1;
            }
        }
        assert_eq!((arcs, corners), (8, 4), "only the ends have corners");
    }

    /// L = 40, h = 10: R = (1600 + 100) / 40 = 42.5 mm.
    #[test]
    fn a_smooth_change_has_the_radius_of_its_formula() {
        let radius = swell().segments().into_iter().find_map(|s| match s.step {
            Step::Arc { centre, .. } => Some((s.from - centre).norm()),
            Step::Line { .. } => None,
        });
        assert_eq!(radius, Some(Length::from_um(42_500)));
    }

    #[test]
    fn both_edges_are_the_same() {
        let path = swell();
        let other = mirrored(&reversed(&path));
        let corners = |p: &Path<Strap>| {
            let mut all: Vec<_> = p.segments().iter().map(|s| s.from).collect();
            all.sort_unstable();
            all
        };
        assert_eq!(corners(&path), corners(&other));
        assert_eq!(mirrored(&mirrored(&path)), path);
        assert_eq!(reversed(&reversed(&path)), path);
    }

    #[test]
    fn changes_out_of_place_or_too_steep_are_findings() {
        let (start, end) = (square(0, 20, true), square(300, 20, false));
        for wrong in [
            vec![taper(250, 310, 20, true)],
            vec![taper(100, 200, 20, true), taper(150, 250, 20, true)],
            vec![taper(100, 105, 29, true)],
            vec![taper(-10, 100, 20, true)],
        ] {
            let found = outline("p", mm(40), &start, &end, &wrong).unwrap_err();
            assert_eq!(found.rule, rule::BAD_TAPER);
        }
    }
}
