//! Cuts an outline of lines and arcs to a stretch of x, to the nanometre.

use super::{Extent, Length, Path, Point, Segment, Step, Strap, integer_sqrt};

type P = Point<Strap>;

/// The parts of `outline` with x within `keep`: the whole outline, or open runs.
pub(crate) fn clip(outline: &Path<Strap>, keep: Extent) -> Vec<Path<Strap>> {
    let mut runs: Vec<Path<Strap>> = Vec::new();
    let mut whole = true;
    for segment in outline.segments() {
        for part in split(segment, keep) {
            let middle = middle_x(part);
            if middle < keep.from || middle > keep.to {
                whole = false;
                continue;
            }
            match runs.last_mut() {
                Some(run) if run.end() == part.from => run.steps.push(part.step),
                _ => {
                    runs.push(Path {
                        start: part.from,
                        steps: vec![part.step],
                        closed: false,
                    });
                }
            }
        }
    }
    if whole {
        return vec![outline.clone()];
    }
    // The outline's own start is no end of a run.
    if runs.len() > 1
        && let Some(last) = runs.pop()
    {
        if last.end() == runs[0].start {
            let first = std::mem::replace(&mut runs[0], last);
            runs[0].steps.extend(first.steps);
        } else {
            runs.push(last);
        }
    }
    runs
}

/// The parts of a path, closed or not, with y within `keep`.
pub(crate) fn clip_across(path: &Path<Strap>, keep: Extent) -> Vec<Path<Strap>> {
    clip(&mirrored(path), keep).iter().map(mirrored).collect()
}

/// The path with x and y changed for each other.
fn mirrored(path: &Path<Strap>) -> Path<Strap> {
    let point = |p: P| P::new(p.y, p.x);
    let steps = path.steps.iter().map(|&step| match step {
        Step::Line { to } => Step::Line { to: point(to) },
        Step::Arc { to, centre, clockwise } => {
            Step::Arc { to: point(to), centre: point(centre), clockwise: !clockwise }
        }
    });
    Path { start: point(path.start), steps: steps.collect(), closed: path.closed }
}

/// Where `outline` crosses the line across the strap at `x`, in no order.
pub(crate) fn heights(outline: &Path<Strap>, x: Length) -> Vec<Length> {
    outline
        .segments()
        .into_iter()
        .flat_map(|s| {
            let mut ys = crossings(s, x);
            ys.extend([s.from, s.step.to()].into_iter().filter(|p| p.x == x));
            ys.into_iter().map(|p| p.y)
        })
        .collect()
}

fn split(segment: Segment<Strap>, keep: Extent) -> Vec<Segment<Strap>> {
    let mut cuts: Vec<P> =
        [keep.from, keep.to].iter().flat_map(|&x| crossings(segment, x)).collect();
    let Segment { mut from, step } = segment;
    let far = |p: &P| match step {
        Step::Line { .. } => i128::from((p.x - from.x).abs().nm()),
        // On an arc of at most half a turn, the longer chord is the later point.
        Step::Arc { .. } => squared(p.x - from.x) + squared(p.y - from.y),
    };
    cuts.sort_by_key(far);
    let mut parts = Vec::with_capacity(cuts.len() + 1);
    for to in cuts.into_iter().chain([step.to()]) {
        let step = match step {
            Step::Line { .. } => Step::Line { to },
            Step::Arc { centre, clockwise, .. } => Step::Arc { to, centre, clockwise },
        };
        parts.push(Segment { from, step });
        from = to;
    }
    parts
}

/// Where a segment crosses the line at `x`, its own ends left out.
fn crossings(segment: Segment<Strap>, x: Length) -> Vec<P> {
    let from = segment.from;
    match segment.step {
        Step::Line { to } => {
            let inside = from.x.min(to.x) < x && x < from.x.max(to.x);
            if !inside {
                return Vec::new();
            }
            let (run, gone) = ((to.x - from.x).nm(), (x - from.x).nm());
            let rise = (to.y - from.y).times(gone * run.signum(), run.abs());
            vec![P::new(x, from.y + rise)]
        }
        Step::Arc { to, centre, clockwise } => {
            let rest = squared(from.x - centre.x) + squared(from.y - centre.y)
                - squared(x - centre.x);
            if rest <= 0 {
                return Vec::new();
            }
            let rise = Length::from_nm(nearest_sqrt(rest));
            let (first, last) = if clockwise { (to, from) } else { (from, to) };
            [centre.y + rise, centre.y - rise]
                .into_iter()
                .map(|y| P::new(x, y))
                .filter(|p| cross(centre, first, *p) > 0 && cross(centre, *p, last) > 0)
                .collect()
        }
    }
}

/// Twice the area that `a` and `b` span as seen from `centre`.
fn cross(centre: P, a: P, b: P) -> i128 {
    let (a, b) = (a - centre, b - centre);
    i128::from(a.x.nm()) * i128::from(b.y.nm())
        - i128::from(a.y.nm()) * i128::from(b.x.nm())
}

fn squared(a: Length) -> i128 {
    i128::from(a.nm()) * i128::from(a.nm())
}

fn nearest_sqrt(n: i128) -> i64 {
    let root = integer_sqrt(n);
    let r = i128::from(root);
    if n - r * r > r { root + 1 } else { root }
}

/// The x of a segment's middle.
fn middle_x(segment: Segment<Strap>) -> Length {
    let (from, to) = (segment.from, segment.step.to());
    match segment.step {
        Step::Line { .. } => from.x + (to.x - from.x) / 2,
        Step::Arc { centre, clockwise, .. } => {
            let chord = to - from;
            let radius = (from - centre).norm();
            // The bulge is square to the chord: on its right, unless clockwise.
            let bulge = if clockwise { -chord.y } else { chord.y };
            centre.x + radius.times(bulge.nm(), chord.norm().nm().max(1))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(n: i64) -> Length {
        Length::from_mm(n)
    }
    fn at(x: i64, y: i64) -> P {
        P::new(mm(x), mm(y))
    }

    #[test]
    fn what_lies_within_comes_back_whole() {
        let circle = Path::circle(at(0, 0), mm(5));
        assert_eq!(clip(&circle, Extent::new(mm(-5), mm(5))), [circle]);
    }

    #[test]
    fn a_circle_is_cut_at_the_exact_height() {
        // 3, 4, 5: at x = 3 the circle of radius 5 stands at y = ±4.
        let circle = Path::circle(at(0, 0), mm(5));
        let left = clip(&circle, Extent::new(mm(-9), mm(3)));
        assert_eq!(left.len(), 1);
        assert_eq!((left[0].start, left[0].end()), (at(3, 4), at(3, -4)));
        let right = clip(&circle, Extent::new(mm(3), mm(9)));
        assert_eq!(right.len(), 1);
        assert_eq!((right[0].start, right[0].end()), (at(3, -4), at(3, 4)));
        let band = clip(&circle, Extent::new(mm(-3), mm(3)));
        assert_eq!(band.len(), 2);
        assert!(band.iter().all(|p| p.steps.len() == 1 && !p.closed));
        assert!(clip(&circle, Extent::new(mm(6), mm(9))).is_empty());
    }

    #[test]
    fn a_rectangle_gives_its_two_edges() {
        let strap = Path::rectangle(at(0, -10), at(100, 10));
        let middle = clip(&strap, Extent::new(mm(20), mm(60)));
        assert_eq!(
            middle,
            [Path::line(at(20, -10), at(60, -10)), Path::line(at(60, 10), at(20, 10))]
        );
        let end = clip(&strap, Extent::new(mm(-3), mm(60)));
        assert_eq!(end.len(), 1, "the run goes on over the start");
        assert_eq!((end[0].start, end[0].end()), (at(60, 10), at(60, -10)));
        let mut ys = heights(&strap, mm(50));
        ys.sort_unstable();
        assert_eq!(ys, [mm(-10), mm(10)]);
    }
}
