//! Distances between points and segments of paths, and on which side of a path a point lies.

use super::float::{round_nm, to_f64};
use super::{Length, Point, Segment, Step};

/// How deep `p` lies within the closed path of these segments: from it to the nearest point of
/// the path, negative outside.
pub(crate) fn depth<S: Copy>(outline: &[Segment<S>], p: Point<S>) -> Length {
    let nearest = outline.iter().map(|s| s.distance(p)).min().unwrap_or_default();
    let crossings: usize = outline.iter().map(|s| s.crossings_above(p)).sum();
    if crossings % 2 == 1 { nearest } else { -nearest }
}

impl<S: Copy> Segment<S> {
    /// How often the segment crosses the ray from `p` upward. A segment counts for its first
    /// x and not for its last, so that a ray through a corner is counted as often as it must.
    fn crossings_above(self, p: Point<S>) -> usize {
        let (from, to) = (self.from, self.step.to());
        let meets = |a: Point<S>, b: Point<S>| (a.x <= p.x) != (b.x <= p.x);
        match self.step {
            Step::Line { .. } => {
                let rise = (to - from).cross(p - from);
                let is_above = if to.x > from.x { rise < 0 } else { rise > 0 };
                usize::from(meets(from, to) && is_above)
            }
            Step::Arc { centre, clockwise, .. } => {
                let radius = (from - centre).norm();
                // Its leftmost or rightmost point parts it in two runs along x.
                let sides = [radius, -radius].map(|r| Point::new(centre.x + r, centre.y));
                let side = sides.into_iter().find(|&p| self.spans(p));
                let ends: Vec<Point<S>> =
                    [Some(from), side, Some(to)].into_iter().flatten().collect();
                let square = radius.square() - (p.x - centre.x).square();
                let rise = round_nm(to_f64(square.max(0)).sqrt());
                let is_above = |a: Point<S>, b: Point<S>| {
                    let is_upper = (b.x < a.x) != clockwise;
                    p.y < if is_upper { centre.y + rise } else { centre.y - rise }
                };
                let runs = ends.windows(2);
                runs.filter(|w| meets(w[0], w[1]) && is_above(w[0], w[1])).count()
            }
        }
    }

    /// From `p` to the nearest point of the segment, rounded down to the nanometre. An arc may
    /// be at most half a turn.
    pub fn distance(self, p: Point<S>) -> Length {
        let (from, to) = (self.from, self.step.to());
        let ends = (p - from).norm().min((p - to).norm());
        match self.step {
            Step::Line { .. } => to_line(p, from, to).unwrap_or(ends),
            Step::Arc { centre, .. } if self.spans(p) => {
                ((from - centre).norm() - (p - centre).norm()).abs()
            }
            Step::Arc { .. } => ends,
        }
    }

    /// Whether the ray from the centre of an arc through `p` meets it between its ends; never
    /// for a line. An arc may be at most half a turn.
    pub(super) fn spans(self, p: Point<S>) -> bool {
        let Step::Arc { to, centre, clockwise } = self.step else { return false };
        let (first, last) = if clockwise { (to, self.from) } else { (self.from, to) };
        let out = p - centre;
        (first - centre).cross(out) > 0 && out.cross(last - centre) > 0
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{Path, Strap};

    fn at(x: i64, y: i64) -> Point<Strap> {
        Point::new(Length::from_mm(x), Length::from_mm(y))
    }

    /// A strap from 0 to 100 mm, 20 mm wide, whose right end is a half circle.
    #[test]
    fn depth_is_negative_outside() {
        let right = Point::new(Length::from_mm(100), Length::ZERO);
        let outline = Path::from(at(0, -10))
            .line_to(at(0, 10))
            .line_to(at(100, 10))
            .arc_to(at(100, -10), right, true)
            .close()
            .segments();
        for (x, y, deep) in [
            (50, 4, 6),
            (50, 14, -4),
            (50, -14, -4),
            (-3, 0, -3),
            // Through the corners, and through the ends of the arc.
            (0, 12, -2),
            (100, 0, 10),
            (100, 13, -3),
            (100, -13, -3),
            (106, 0, 4),
            (112, 0, -2),
            (120, 0, -10),
        ] {
            assert_eq!(depth(&outline, at(x, y)), Length::from_mm(deep), "{x}, {y}");
        }
    }
}
