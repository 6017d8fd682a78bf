//! Segments and paths by arc length: how long they are, where a part of the way along them
//! leads, how far they reach, and where they have corners.

use super::angle::Angle;
use super::clip::crossings;
use super::float::to_f64;
use super::{Extent, Length, Path, Point, Segment, Step, Vector};

/// Sine of the angle from which on a bend in a path is a corner: about six degrees.
const CORNER: f64 = 0.1;

impl<S: Copy> Segment<S> {
    /// Its length along the curve, to the nanometre.
    pub fn length(self) -> Length {
        match self.step {
            Step::Line { to } => (to - self.from).norm(),
            Step::Arc { to, centre, clockwise } => {
                let out = self.from - centre;
                Angle::between(out, to - centre, clockwise).arc_length(out.norm())
            }
        }
    }

    /// The point at `n` / `d` of its length from its start, to the nanometre. `d` is positive.
    pub fn part(self, n: i64, d: i64) -> Point<S> {
        let from = self.from;
        match self.step {
            Step::Line { to } => Point::new(
                from.x + (to.x - from.x).times(n, d),
                from.y + (to.y - from.y).times(n, d),
            ),
            Step::Arc { to, centre, clockwise } => {
                let out = from - centre;
                let whole = Angle::between(out, to - centre, clockwise);
                centre + whole.part(n, d).rotate(out)
            }
        }
    }

    /// The tangents at its start and at its end, pointing the way it runs. They have any
    /// length.
    pub fn directions(self) -> (Vector<S>, Vector<S>) {
        let tangent = |p: Point<S>| match self.step {
            Step::Line { to } => to - self.from,
            Step::Arc { centre, clockwise: true, .. } => -(p - centre).perpendicular(),
            Step::Arc { centre, clockwise: false, .. } => (p - centre).perpendicular(),
        };
        (tangent(self.from), tangent(self.step.to()))
    }

    /// Its stretch along y.
    fn y_extent(self) -> Extent {
        let ends = Extent::new(self.from.y, self.step.to().y);
        let Step::Arc { centre, .. } = self.step else { return ends };
        let extremes = crossings(self, centre.x).into_iter();
        extremes.map(|p| Extent::new(p.y, p.y)).fold(ends, Extent::union)
    }

    /// Whether it goes on from the end of `before` without a corner.
    fn continues(self, before: &[Self]) -> bool {
        let Some(last) = before.last() else { return false };
        let (a, b) = (last.directions().1, self.directions().0);
        let norms = (to_f64(a.dot(a)) * to_f64(b.dot(b))).sqrt();
        a.dot(b) > 0 && to_f64(a.cross(b)).abs() <= CORNER * norms
    }
}

impl<S: Copy> Path<S> {
    /// Its stretch along y.
    pub fn y_extent(&self) -> Extent {
        let start = Extent::new(self.start.y, self.start.y);
        self.segments().into_iter().map(Segment::y_extent).fold(start, Extent::union)
    }

    /// The path cut at its corners into smooth runs of segments. A closed path without a
    /// corner is one run.
    pub fn runs(&self) -> Vec<Vec<Segment<S>>> {
        let mut runs: Vec<Vec<Segment<S>>> = Vec::new();
        for segment in self.segments() {
            match runs.last_mut() {
                _ if segment.length() <= Length::from_um(1) => {}
                Some(run) if segment.continues(run) => run.push(segment),
                _ => runs.push(vec![segment]),
            }
        }
        // The start of a closed path need not be a corner.
        if self.closed
            && let [first, .., last] = runs.as_mut_slice()
            && first[0].continues(last)
        {
            last.append(first);
            runs.swap_remove(0);
        }
        runs
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{Strap, circumference};

    fn at(x: i64, y: i64) -> Point<Strap> {
        Point::new(Length::from_mm(x), Length::from_mm(y))
    }

    #[test]
    fn a_slot_is_one_smooth_run_and_a_box_is_four() {
        let slot = Path::slot(at(0, 0), Length::from_mm(30), Length::from_mm(10));
        let runs = slot.runs();
        assert_eq!(runs.len(), 1);
        let length: Length = runs[0].iter().map(|s| s.length()).sum();
        let wanted = Length::from_mm(40) + circumference(Length::from_mm(10));
        assert!((length - wanted).abs() <= Length::from_nm(2), "{length}");
        let corners = Path::rectangle(at(0, 0), at(30, 10)).runs();
        assert_eq!(corners.len(), 4);
        assert_eq!(corners[1][0].part(2, 5), at(30, 4));
    }

    #[test]
    fn half_way_along_an_arc_is_its_top() {
        let arc = Path::from(at(5, 0)).arc_to(at(-5, 0), at(0, 0), false);
        assert_eq!(arc.segments()[0].part(1, 2), at(0, 5));
    }
}
