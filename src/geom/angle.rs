//! Angles of arcs, in `f64`.

use super::float::{round_nm, to_f64};
use super::{Length, Vector};
use std::f64::consts::PI;

/// An angle in radians, from -π to π; positive is counter-clockwise.
#[derive(Clone, Copy, Debug)]
pub(super) struct Angle(f64);

impl Angle {
    /// The angle that an arc of at most half a turn sweeps. `from` and `to` point from its
    /// centre to its ends.
    pub(super) fn between<S: Copy>(
        from: Vector<S>,
        to: Vector<S>,
        clockwise: bool,
    ) -> Self {
        let cross = if clockwise { to.cross(from) } else { from.cross(to) };
        let (cross, dot) = (to_f64(cross), to_f64(from.dot(to)));
        // The rounding of an end may carry half a turn a little beyond itself.
        let size = if cross < 0.0 { PI } else { libm::atan2(cross, dot) };
        Self(if clockwise { -size } else { size })
    }

    /// The length of an arc of `radius` over this angle, to the nearest nanometre.
    pub(super) fn arc_length(self, radius: Length) -> Length {
        round_nm(self.0.abs() * to_f64(radius.nm().into()))
    }

    /// `n` / `d` of this angle. `d` is positive.
    pub(super) fn part(self, n: i64, d: i64) -> Self {
        Self(self.0 * to_f64(n.into()) / to_f64(d.max(1).into()))
    }

    /// `v` rotated by this angle, to the nearest nanometre.
    pub(super) fn rotate<S: Copy>(self, v: Vector<S>) -> Vector<S> {
        let (sine, cosine) = libm::sincos(self.0);
        let (x, y) = (to_f64(v.x.nm().into()), to_f64(v.y.nm().into()));
        Vector::new(round_nm(x * cosine - y * sine), round_nm(x * sine + y * cosine))
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
            let half = Angle::between(v(nm, 0), v(-nm, 0), clockwise);
            assert_eq!(half.arc_length(r), circumference(r));
        }
        assert_eq!(
            Angle::between(v(0, 5), v(-5, 0), false).arc_length(r),
            Length::from_nm(1_570_796_327)
        );
        assert_eq!(
            Angle::between(v(4, 3), v(9, 0), true).arc_length(r),
            Length::from_nm(643_501_109)
        );
        assert_eq!(Angle::between(v(4, 3), v(4, 3), true).arc_length(r), Length::ZERO);
    }

    #[test]
    fn rotating_by_a_part_and_back_comes_home() {
        let out = v(100_000_000, 24_000_000);
        let half = |clockwise| Angle::between(v(1, 0), v(-1, 0), clockwise);
        for n in 0..=16 {
            let rotated = half(true).part(n, 16).rotate(out);
            let back = half(false).part(n, 16).rotate(rotated);
            assert!((out.x - back.x).abs() <= Length::from_nm(1), "{n}: {back:?}");
            assert!((out.y - back.y).abs() <= Length::from_nm(1), "{n}: {back:?}");
        }
        assert_eq!(half(false).rotate(out), -out);
        assert_eq!(half(true).part(1, 2).rotate(v(5, 0)), v(0, -5));
    }
}
