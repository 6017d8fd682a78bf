//! The path that runs inside a closed outline, everywhere the same distance from it: for
//! linings, stitching and creases.

use super::{Length, Path, Point, Segment, Step, Vector, integer_sqrt};

/// Ends of neighbours that are nearer than this meet as they are: roundings of smooth joins.
const MEETS: Length = Length::from_um(2);

impl<S: Copy + PartialEq> Path<S> {
    /// The closed path `by` inside this one, which runs clockwise. Straight steps move in,
    /// arcs keep their centres; corners are cut where the moved steps meet, and a step that
    /// has no room is left out. `None` when nothing is left.
    ///
    /// Roundings keep within a few nanometres, times the sharpness of a corner.
    pub fn inset(&self, by: Length) -> Option<Self> {
        let mut moved: Vec<Moved<S>> =
            self.segments().into_iter().filter_map(|s| Moved::new(s, by)).collect();
        loop {
            // Two lines enclose nothing.
            let curved = moved.iter().any(|m| m.arc.is_some());
            if moved.len() < 2 || moved.len() < 3 && !curved {
                return None;
            }
            for i in 0..moved.len() {
                let next = (i + 1) % moved.len();
                let corner = meet(&moved[i], &moved[next])?;
                moved[i].to = corner;
                moved[next].from = corner;
            }
            // What now runs backward had no room; its neighbours meet without it.
            let Some(lost) = moved.iter().position(Moved::is_reversed) else { break };
            moved.remove(lost);
        }
        let mut path = Self::from(moved[0].from);
        path.steps.extend(moved.iter().map(Moved::step));
        Some(path.close())
    }
}

/// A segment that was moved inward.
#[derive(Clone, Copy)]
struct Moved<S> {
    from: Point<S>,
    to: Point<S>,
    /// Centre and radius, and which way it runs.
    arc: Option<(Point<S>, Length, bool)>,
    /// Where it ran before it was trimmed.
    old: (Point<S>, Point<S>),
    /// Corner of the outline at its end.
    corner: Point<S>,
}

/// `v` made as long as `length`.
fn scaled<S: Copy>(v: Vector<S>, length: Length) -> Vector<S> {
    let norm = v.norm().nm().max(1);
    Vector::new(v.x.times(length.nm(), norm), v.y.times(length.nm(), norm))
}

impl<S: Copy + PartialEq> Moved<S> {
    fn new(segment: Segment<S>, by: Length) -> Option<Self> {
        let (from, corner) = (segment.from, segment.step.to());
        let (from, to, arc) = match segment.step {
            Step::Line { to } => {
                let along = to - from;
                // The inside lies on the right.
                let inward = scaled(Vector::new(along.y, -along.x), by);
                (from + inward, to + inward, None)
            }
            Step::Arc { to, centre, clockwise } => {
                let radius = (from - centre).norm();
                let radius = if clockwise { radius - by } else { radius + by };
                if radius <= Length::ZERO {
                    return None;
                }
                let on = |p: Point<S>| centre + scaled(p - centre, radius);
                (on(from), on(to), Some((centre, radius, clockwise)))
            }
        };
        (from != to).then_some(Self { from, to, arc, old: (from, to), corner })
    }

    fn is_reversed(&self) -> bool {
        let (then, now) = (self.old.1 - self.old.0, self.to - self.from);
        dot(then, now) <= 0
    }

    fn step(&self) -> Step<S> {
        match self.arc {
            None => Step::Line { to: self.to },
            Some((centre, _, clockwise)) => Step::Arc { to: self.to, centre, clockwise },
        }
    }
}

fn nm<S: Copy>(v: Vector<S>) -> (i128, i128) {
    (i128::from(v.x.nm()), i128::from(v.y.nm()))
}

fn dot<S: Copy>(a: Vector<S>, b: Vector<S>) -> i128 {
    let (a, b) = (nm(a), nm(b));
    a.0 * b.0 + a.1 * b.1
}

fn cross<S: Copy>(a: Vector<S>, b: Vector<S>) -> i128 {
    let (a, b) = (nm(a), nm(b));
    a.0 * b.1 - a.1 * b.0
}

fn length(n: i128) -> Length {
    Length::from_nm(i64::try_from(n).unwrap_or(i64::MAX / 4))
}

/// Where two neighbours meet: of the places where their lines or circles cross, the one
/// nearest to the outline's corner.
fn meet<S: Copy + PartialEq>(a: &Moved<S>, b: &Moved<S>) -> Option<Point<S>> {
    if (a.to - b.from).norm() <= MEETS {
        return Some(b.from);
    }
    let places = match (a.arc, b.arc) {
        (None, None) => lines(a, b),
        (None, Some(circle)) => line_and_circle(a.old, circle),
        (Some(circle), None) => line_and_circle(b.old, circle),
        (Some(one), Some(other)) => circles(one, other),
    };
    places.into_iter().min_by_key(|p| (*p - a.corner).norm())
}

fn lines<S: Copy>(a: &Moved<S>, b: &Moved<S>) -> Vec<Point<S>> {
    let (along, other) = (a.old.1 - a.old.0, b.old.1 - b.old.0);
    let across = cross(along, other);
    if across == 0 {
        return Vec::new();
    }
    // The part of the way along a: (apart × other) / (along × other), in 2⁻⁴⁰.
    let part = fraction(cross(b.old.0 - a.old.0, other), across);
    let of = |c: Length| length((i128::from(c.nm()) * part + (1 << 39)) >> 40);
    vec![Point::new(a.old.0.x + of(along.x), a.old.0.y + of(along.y))]
}

/// `n` / `d` in 2⁻⁴⁰.
fn fraction(n: i128, d: i128) -> i128 {
    let whole = n / d;
    let mut rest = n % d;
    let mut t = whole << 40;
    // Long division, bit by bit, since the numbers leave no room to shift at once.
    for place in (0..40).rev() {
        rest *= 2;
        if rest.abs() >= d.abs() {
            let sign = if (rest < 0) == (d < 0) { 1 } else { -1 };
            t += sign << place;
            rest -= d * sign;
        }
    }
    t
}

type Circle<S> = (Point<S>, Length, bool);

fn line_and_circle<S: Copy>(
    (from, to): (Point<S>, Point<S>),
    (centre, radius, _): Circle<S>,
) -> Vec<Point<S>> {
    let along = to - from;
    let norm = i128::from(along.norm().nm().max(1));
    // The foot of the perpendicular from the centre, and how far the circle is from it.
    let reach = dot(centre - from, along) / norm;
    let off = cross(along, centre - from) / norm;
    let square = i128::from(radius.nm()).pow(2) - off * off;
    if square < 0 {
        return Vec::new();
    }
    let half = i128::from(integer_sqrt(square));
    [reach - half, reach + half].map(|way| from + scaled_signed(along, way)).to_vec()
}

fn circles<S: Copy>((a, r, _): Circle<S>, (b, q, _): Circle<S>) -> Vec<Point<S>> {
    let between = b - a;
    let apart = i128::from(between.norm().nm());
    if apart == 0 {
        return Vec::new();
    }
    let (r, q) = (i128::from(r.nm()), i128::from(q.nm()));
    let foot = (apart * apart + r * r - q * q) / (2 * apart);
    let square = r * r - foot * foot;
    if square < 0 {
        return Vec::new();
    }
    let up = i128::from(integer_sqrt(square));
    let middle = a + scaled_signed(between, foot);
    let aside = Vector::new(-between.y, between.x);
    [up, -up].map(|way| middle + scaled_signed(aside, way)).to_vec()
}

/// The vector of length `way` along `v`; against it where `way` is negative.
fn scaled_signed<S: Copy>(v: Vector<S>, way: i128) -> Vector<S> {
    scaled(v, length(way))
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
        let inner = outer.close().inset(mm(3)).unwrap();
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
        let inner = outer.inset(mm(4)).unwrap();
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
        let inner = outer.inset(mm(10)).unwrap();
        let point = inner.segments().into_iter().map(|s| s.step.to()).max().unwrap();
        assert!((point.x - Length::from_nm(26_457_513)).abs() <= Length::from_nm(3));
        assert!(point.y.abs() <= Length::from_nm(3), "{point:?}");
    }

    #[test]
    fn nothing_is_left_where_there_is_no_room() {
        let narrow = Path::from(at(0, 0)).line_to(at(0, 8)).line_to(at(90, 8));
        let narrow = narrow.line_to(at(90, 0)).close();
        assert!(narrow.inset(Length::from_um(3_999)).is_some());
        for by in [4, 5, 50] {
            assert_eq!(narrow.inset(mm(by)), None, "{by} mm");
        }
    }
}
