//! Distances between points and segments of paths.

use super::{Length, Point, Segment, Step};

impl<S: Copy> Segment<S> {
    /// From `p` to the nearest point of the segment, rounded down to the nanometre. An arc may
    /// be at most half a turn.
    pub fn distance(self, p: Point<S>) -> Length {
        let (from, to) = (self.from, self.step.to());
        let ends = (p - from).norm().min((p - to).norm());
        match self.step {
            Step::Line { .. } => to_line(p, from, to).unwrap_or(ends),
            Step::Arc { centre, clockwise, .. } => {
                let out = p - centre;
                let (first, last) = (from - centre, to - centre);
                let (first, last) = if clockwise { (last, first) } else { (first, last) };
                // The arc is at most half a turn, so `out` points at it exactly when it lies
                // left of its first radius and right of its last.
                if first.cross(out) >= 0 && out.cross(last) >= 0 {
                    ((from - centre).norm() - out.norm()).abs()
                } else {
                    ends
                }
            }
        }
    }
}

/// Distance to the line when the foot of the perpendicular lies on it.
fn to_line<S: Copy>(p: Point<S>, a: Point<S>, b: Point<S>) -> Option<Length> {
    let (along, out) = (b - a, p - a);
    let (dot, square) = (along.dot(out), along.dot(along));
    if dot < 0 || dot > square || square == 0 {
        return None;
    }
    let nm = along.cross(out).abs() / i128::from(along.norm().nm().max(1));
    Some(Length::from_nm(i64::try_from(nm).unwrap_or(i64::MAX)))
}
