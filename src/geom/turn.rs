//! Angles in fixed point, so that arc lengths and places on arcs are the same on every
//! machine.

use super::{Length, Point, Vector};

/// Binary places of a fixed-point number.
const PLACES: u32 = 60;
const ONE: i128 = 1 << PLACES;
/// How often an angle is halved before its sine is small enough for a short series.
const HALVINGS: u32 = 8;

/// An angle of at most half a turn, in 2⁻⁶⁰ rad.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Turn(i128);

/// A direction of length one, in 2⁻⁶⁰.
type Unit = (i128, i128);

fn unit((x, y): Unit) -> Unit {
    let norm = (x * x + y * y).isqrt().max(1);
    ((x << PLACES) / norm, (y << PLACES) / norm)
}

fn direction<S: Copy>(v: Vector<S>) -> Unit {
    let (x, y) = (i128::from(v.x.nm()), i128::from(v.y.nm()));
    // As many places as there is room for, so that a short vector is as exact as a long one.
    let longest = x.unsigned_abs().max(y.unsigned_abs()).max(1);
    let up = longest.leading_zeros().saturating_sub(128 - PLACES);
    unit((x << up, y << up))
}

fn times(a: i128, b: i128) -> i128 {
    (a * b) >> PLACES
}

impl Turn {
    /// The angle from `from` to `to`, each seen from the same centre, `clockwise` or not;
    /// it is at most half a turn.
    pub(super) fn between<S: Copy>(
        from: Vector<S>,
        to: Vector<S>,
        clockwise: bool,
    ) -> Self {
        let sign = if clockwise { -1 } else { 1 };
        let (a, b) = (direction(from), direction(to));
        let (dot, across) =
            (times(a.0, b.0) + times(a.1, b.1), times(a.0, b.1) - times(a.1, b.0));
        // Seen from `from`: cosine and sine of the whole angle.
        let mut at = (dot, across * sign);
        if at.1 < 0 || at.1 == 0 && at.0 < 0 {
            // Half a turn, or a rounding beyond it.
            at = (-ONE, 0);
        }
        for _ in 0..HALVINGS {
            // Half the angle points to the middle between 1 and itself.
            at = if at.0 <= -ONE { (0, ONE) } else { unit((at.0 + ONE, at.1)) };
        }
        // asin s = s + s³/6 + 3 s⁵/40 + 15 s⁷/336 + …; s is below 0.0123.
        let s = at.1;
        let square = times(s, s);
        let third = times(s, square);
        let fifth = times(third, square);
        let seventh = times(fifth, square);
        Self((s + third / 6 + fifth * 3 / 40 + seventh * 15 / 336) << HALVINGS)
    }

    /// The length of an arc of `radius` over this angle, to the nearest nanometre.
    pub(super) fn of(self, radius: Length) -> Length {
        let product = i128::from(radius.nm()) * self.0;
        Length::from_nm(i64::try_from((product + ONE / 2) >> PLACES).unwrap_or(i64::MAX))
    }

    /// `n` / `d` of this angle.
    pub(super) fn part(self, n: i64, d: i64) -> Self {
        Self(self.0 * i128::from(n) / i128::from(d.max(1)))
    }

    /// Cosine and sine, by their series.
    fn cosine_and_sine(self) -> Unit {
        let (mut cosine, mut sine, mut term) = (0, 0, ONE);
        for n in 0..34 {
            match n % 4 {
                0 => cosine += term,
                1 => sine += term,
                2 => cosine -= term,
                _ => sine -= term,
            }
            term = times(term, self.0) / (n + 1);
        }
        (cosine, sine)
    }

    /// `p` turned about `centre` by this angle, to the nearest nanometre.
    pub(super) fn turn<S: Copy>(
        self,
        p: Point<S>,
        centre: Point<S>,
        clockwise: bool,
    ) -> Point<S> {
        let (cosine, sine) = self.cosine_and_sine();
        let sine = if clockwise { -sine } else { sine };
        let out = p - centre;
        let (x, y) = (i128::from(out.x.nm()), i128::from(out.y.nm()));
        let nm = |product: i128| {
            Length::from_nm(
                i64::try_from((product + ONE / 2) >> PLACES).unwrap_or(i64::MAX / 4),
            )
        };
        Point::new(
            centre.x + nm(x * cosine - y * sine),
            centre.y + nm(x * sine + y * cosine),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{Strap, circumference};

    fn v(x: i64, y: i64) -> Vector<Strap> {
        Vector::new(Length::from_nm(x), Length::from_nm(y))
    }

    /// Computed: π r for half a turn, π r / 2 for a quarter, and the angle of the 3-4-5
    /// triangle, atan 3/4 = 0.643501108793284387 rad.
    #[test]
    fn arcs_have_the_length_of_their_angle() {
        let r = Length::from_mm(1_000);
        let nm = 1_000_000_000;
        for clockwise in [false, true] {
            let half = Turn::between(v(nm, 0), v(-nm, 0), clockwise);
            assert_eq!(half.of(r), circumference(r));
        }
        assert_eq!(
            Turn::between(v(0, 5), v(-5, 0), false).of(r),
            Length::from_nm(1_570_796_327)
        );
        assert_eq!(
            Turn::between(v(4, 3), v(9, 0), true).of(r),
            Length::from_nm(643_501_109)
        );
        assert_eq!(Turn::between(v(4, 3), v(4, 3), true).of(r), Length::ZERO);
    }

    #[test]
    fn turning_by_a_part_and_back_comes_home() {
        let centre = Point::new(Length::from_mm(7), Length::from_mm(-3));
        let p = Point::<Strap>::new(Length::from_mm(107), Length::from_mm(21));
        let half = Turn::between(v(1, 0), v(-1, 0), false);
        for n in 0..=16 {
            let turned = half.part(n, 16).turn(p, centre, true);
            let back = half.part(n, 16).turn(turned, centre, false);
            assert!((back - p).norm() <= Length::from_nm(2), "{n}: {back:?}");
        }
        let opposite = half.turn(p, centre, false);
        assert!((opposite.x + p.x - centre.x * 2).abs() <= Length::from_nm(1));
        assert!((opposite.y + p.y - centre.y * 2).abs() <= Length::from_nm(1));
    }
}
