//! Clips paths of lines and arcs to a stretch of x or y, to the nanometre.

use super::float::{round_nm, to_f64};
use super::{Extent, Length, Path, Point, Segment, Step, Strap};

/// The parts of `path` with x within `keep`: the whole path, or open runs.
pub(crate) fn clip(path: &Path<Strap>, keep: Extent) -> Vec<Path<Strap>> {
    let is_kept = |part: &Segment<Strap>| {
        let x = part.part(1, 2).x;
        keep.has(x)
    };
    let parts: Vec<Segment<Strap>> =
        path.segments().into_iter().flat_map(|s| split(s, keep)).collect();
    if parts.iter().all(is_kept) {
        return vec![path.clone()];
    }
    let mut runs: Vec<Path<Strap>> = Vec::new();
    for part in parts.into_iter().filter(is_kept) {
        match runs.last_mut() {
            Some(run) if run.end() == part.from => run.steps.push(part.step),
            _ => runs.push(Path {
                start: part.from,
                steps: vec![part.step],
                closed: false,
            }),
        }
    }
    // A run may go on over the start of a closed path.
    if let [first, .., last] = runs.as_mut_slice()
        && last.end() == first.start
    {
        last.steps.append(&mut first.steps);
        runs.swap_remove(0);
    }
    runs
}

/// The parts of `path` with y within `keep`: the whole path, or open runs.
pub(crate) fn clip_across(path: &Path<Strap>, keep: Extent) -> Vec<Path<Strap>> {
    let swap = |path: &Path<Strap>| path.map(|p| Point::new(p.y, p.x), true);
    clip(&swap(path), keep).iter().map(swap).collect()
}

/// The y of each point where `path` meets the line across the strap at `x`, in no order.
/// A corner on the line counts for each of its segments.
pub(crate) fn intersections_at(path: &Path<Strap>, x: Length) -> Vec<Length> {
    let of_segment = |s: Segment<Strap>| {
        let ends = [s.from, s.step.to()].into_iter().filter(move |p| p.x == x);
        crossings(s, x).into_iter().chain(ends)
    };
    path.segments().into_iter().flat_map(of_segment).map(|p| p.y).collect()
}

/// The segment cut where it crosses the ends of `keep`, in its order.
fn split(segment: Segment<Strap>, keep: Extent) -> Vec<Segment<Strap>> {
    let mut ends = [keep.from, keep.to].map(|x| crossings(segment, x)).concat();
    // On an arc of at most half a turn, the longer chord leads to the later point.
    ends.sort_by_key(|&p| (p - segment.from).dot(p - segment.from));
    ends.push(segment.step.to());
    let steps = ends.into_iter().map(|to| segment.step.ending_at(to)).collect();
    Path { start: segment.from, steps, closed: false }.segments()
}

/// Where a segment crosses the line at `x`, its own ends left out.
pub(super) fn crossings<S: Copy>(segment: Segment<S>, x: Length) -> Vec<Point<S>> {
    let from = segment.from;
    match segment.step {
        Step::Line { to } if from.x.min(to.x) < x && x < from.x.max(to.x) => {
            let rise = (to.y - from.y).times((x - from.x).nm(), (to.x - from.x).nm());
            vec![Point::new(x, from.y + rise)]
        }
        Step::Line { .. } => Vec::new(),
        Step::Arc { to, centre, clockwise } => {
            // Pythagoras, in whole numbers: where the line only just crosses the circle, a
            // float would lose the difference of the squares.
            let square = (from - centre).dot(from - centre) - (x - centre.x).square();
            if square <= 0 {
                return Vec::new();
            }
            let rise = round_nm(to_f64(square).sqrt());
            let (first, last) = if clockwise { (to, from) } else { (from, to) };
            [centre.y + rise, centre.y - rise]
                .map(|y| Point::new(x, y))
                .into_iter()
                .filter(|&p| {
                    let out = p - centre;
                    (first - centre).cross(out) > 0 && out.cross(last - centre) > 0
                })
                .collect()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(n: i64) -> Length {
        Length::from_mm(n)
    }
    fn at(x: i64, y: i64) -> Point<Strap> {
        Point::new(mm(x), mm(y))
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
        let mut ys = intersections_at(&strap, mm(50));
        ys.sort_unstable();
        assert_eq!(ys, [mm(-10), mm(10)]);
    }
}
