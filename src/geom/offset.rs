//! Offset curves: the path inside a closed outline, everywhere the same distance from it, for
//! linings, stitching and creases.

use super::float::{round_nm, to_f64};
use super::ratio::rounded;
use super::{Length, Path, Point, Segment, Step, Vector};

/// Neighbours whose ends are nearer than this join as they are: a smooth join, rounded.
const JOINED: Length = Length::from_um(2);

impl<S: Copy + PartialEq> Path<S> {
    /// The closed path at `distance` inside this one, which runs clockwise. Lines move in,
    /// arcs keep their centres. Corners are where the moved segments intersect, and a
    /// segment that has no room is left out. `None` when nothing is left.
    ///
    /// Roundings stay within a few nanometres, times the sharpness of a corner.
    pub fn offset_inward(&self, distance: Length) -> Option<Self> {
        let segments = self.segments().into_iter();
        let mut edges: Vec<Edge<S>> =
            segments.filter_map(|s| Edge::offset(s, distance)).collect();
        loop {
            // Two lines enclose nothing.
            let has_arc = edges.iter().any(|e| e.circle.is_some());
            if edges.len() < if has_arc { 2 } else { 3 } {
                return None;
            }
            for i in 0..edges.len() {
                let next = (i + 1) % edges.len();
                let corner = corner(&edges[i], &edges[next])?;
                edges[i].to = corner;
                edges[next].from = corner;
            }
            // What now runs backward had no room; its neighbours meet without it.
            let Some(lost) = edges.iter().position(Edge::is_reversed) else { break };
            edges.remove(lost);
        }
        let mut path = Self::from(edges[0].from);
        path.steps.extend(edges.iter().map(|e| e.step.ending_at(e.to)));
        Some(path.close())
    }
}

/// A segment of the outline moved inward, then trimmed where it meets its neighbours.
#[derive(Clone, Copy)]
struct Edge<S> {
    /// Where it starts and ends once it is trimmed.
    from: Point<S>,
    to: Point<S>,
    /// Where it started and ended before.
    untrimmed: [Point<S>; 2],
    /// The circle that an arc lies on.
    circle: Option<Circle<S>>,
    /// The segment's own step; all but its end holds for the edge too.
    step: Step<S>,
}

#[derive(Clone, Copy)]
struct Circle<S> {
    centre: Point<S>,
    radius: Length,
}

impl<S: Copy + PartialEq> Edge<S> {
    /// `None` for an arc that the distance leaves no radius, and for what has no length.
    fn offset(Segment { from, step }: Segment<S>, distance: Length) -> Option<Self> {
        let ends = [from, step.to()];
        let (untrimmed, circle) = match step {
            Step::Line { to } => {
                // The inside of a clockwise outline lies on the right.
                let inward = scaled(-(to - from).perpendicular(), distance.nm().into());
                (ends.map(|p| p + inward), None)
            }
            Step::Arc { centre, clockwise, .. } => {
                let inward = if clockwise { -distance } else { distance };
                let radius = (from - centre).norm() + inward;
                let moved = |p| centre + scaled(p - centre, radius.nm().into());
                (ends.map(moved), Some(Circle { centre, radius }))
            }
        };
        let has_radius = circle.is_none_or(|c| c.radius > Length::ZERO);
        let [from, to] = untrimmed;
        (has_radius && from != to).then_some(Self { from, to, untrimmed, circle, step })
    }

    fn is_reversed(&self) -> bool {
        let [from, to] = self.untrimmed;
        (to - from).dot(self.to - self.from) <= 0
    }
}

/// The vector of `nm` nanometres in the direction of `v`; against it where `nm` is negative.
fn scaled<S: Copy>(v: Vector<S>, nm: i128) -> Vector<S> {
    let norm = i128::from(v.norm().nm().max(1));
    let part = |l: Length| Length::from_nm(rounded(i128::from(l.nm()) * nm, norm));
    Vector::new(part(v.x), part(v.y))
}

/// The corner where one edge ends and the next starts: of the points where their lines or
/// circles intersect, the one nearest to the corner of the outline.
fn corner<S: Copy + PartialEq>(a: &Edge<S>, b: &Edge<S>) -> Option<Point<S>> {
    if (a.to - b.from).norm() <= JOINED {
        return Some(b.from);
    }
    let points = match (a.circle, b.circle) {
        (None, None) => line_line(a.untrimmed, b.untrimmed),
        (None, Some(circle)) => line_circle(a.untrimmed, circle),
        (Some(circle), None) => line_circle(b.untrimmed, circle),
        (Some(one), Some(other)) => circle_circle(one, other),
    };
    points.into_iter().min_by_key(|p| (*p - a.step.to()).norm())
}

fn line_line<S: Copy>(
    [a, a_end]: [Point<S>; 2],
    [b, b_end]: [Point<S>; 2],
) -> Vec<Point<S>> {
    let (along, other) = (a_end - a, b_end - b);
    let cross = along.cross(other);
    if cross == 0 {
        return Vec::new();
    }
    let part = to_f64((b - a).cross(other)) / to_f64(cross);
    let scaled = |l: Length| round_nm(to_f64(l.nm().into()) * part);
    vec![a + Vector::new(scaled(along.x), scaled(along.y))]
}

fn line_circle<S: Copy>([from, to]: [Point<S>; 2], circle: Circle<S>) -> Vec<Point<S>> {
    let (along, out) = (to - from, circle.centre - from);
    let norm = i128::from(along.norm().nm().max(1));
    // The foot of the perpendicular from the centre, and its distance from the centre.
    let (foot, away) = (along.dot(out) / norm, along.cross(out) / norm);
    chord(from, along, foot, circle.radius.square() - away * away)
}

fn circle_circle<S: Copy>(a: Circle<S>, b: Circle<S>) -> Vec<Point<S>> {
    let between = b.centre - a.centre;
    let apart = i128::from(between.norm().nm());
    if apart == 0 {
        return Vec::new();
    }
    // The common chord crosses the line between the centres at this distance from `a`.
    let square = a.radius.square();
    let foot = (apart * apart + square - b.radius.square()) / (2 * apart);
    let middle = a.centre + scaled(between, foot);
    let half_square = square.saturating_sub(foot.saturating_pow(2));
    chord(middle, -between.perpendicular(), 0, half_square)
}

/// The ends of a chord on the line from `origin` along `direction`: its middle is `middle`
/// nanometres from `origin`, and half of it is the root of `half_square`.
fn chord<S: Copy>(
    origin: Point<S>,
    direction: Vector<S>,
    middle: i128,
    half_square: i128,
) -> Vec<Point<S>> {
    let Some(half) = half_square.checked_isqrt() else { return Vec::new() };
    [middle - half, middle + half].map(|way| origin + scaled(direction, way)).to_vec()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Strap;

    fn mm(n: i64) -> Length {
        Length::from_mm(n)
    }

    fn at(x: i64, y: i64) -> Point<Strap> {
        Point::new(mm(x), mm(y))
    }

    #[test]
    fn a_box_keeps_its_corners() {
        let outer = Path::from(at(0, 0))
            .line_to(at(0, 20))
            .line_to(at(90, 20))
            .line_to(at(90, 0));
        let inner = outer.close().offset_inward(mm(3)).unwrap();
        assert_eq!(inner.start, at(3, 3));
        let ends: Vec<_> = inner.steps.iter().map(|s| s.to()).collect();
        assert_eq!(ends, [at(3, 17), at(87, 17), at(87, 3), at(3, 3)]);
    }

    #[test]
    fn a_round_end_keeps_its_centre() {
        let outer = Path::from(at(0, -10))
            .line_to(at(0, 10))
            .line_to(at(50, 10))
            .arc_to(at(50, -10), at(50, 0), true)
            .close();
        let inner = outer.offset_inward(mm(4)).unwrap();
        let arc = inner.segments().into_iter().find_map(|s| match s.step {
            Step::Arc { to, centre, .. } => Some((s.from, to, centre)),
            Step::Line { .. } => None,
        });
        assert_eq!(arc, Some((at(50, 6), at(50, -6), at(50, 0))));
    }

    /// 3-4-5: arcs of radius 50 mm about (0, -30) and (0, 30) meet at x = 40; 10 mm in,
    /// arcs of radius 40 mm meet at sqrt(40² - 30²) = 26.457513 mm.
    #[test]
    fn two_arcs_meet_in_a_point() {
        let outer = Path::from(at(0, -20))
            .line_to(at(0, 20))
            .arc_to(at(40, 0), at(0, -30), true)
            .arc_to(at(0, -20), at(0, 30), true)
            .close();
        let inner = outer.offset_inward(mm(10)).unwrap();
        let point = inner.segments().into_iter().map(|s| s.step.to()).max().unwrap();
        assert!((point.x - Length::from_nm(26_457_513)).abs() <= Length::from_nm(3));
        assert!(point.y.abs() <= Length::from_nm(3), "{point:?}");
    }

    #[test]
    fn nothing_is_left_where_there_is_no_room() {
        let narrow = Path::from(at(0, 0)).line_to(at(0, 8)).line_to(at(90, 8));
        let narrow = narrow.line_to(at(90, 0)).close();
        assert!(narrow.offset_inward(Length::from_um(3_999)).is_some());
        for by in [4, 5, 50] {
            assert_eq!(narrow.offset_inward(mm(by)), None, "{by} mm");
        }
    }
}
