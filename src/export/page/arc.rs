//! Circular arcs as cubic Bézier curves.

use super::UserPoint;
use std::f64::consts::{FRAC_PI_2, TAU};

/// The arc about `centre` as curves, each two handles and an end. The last end is `to`
/// itself. No curve takes more than a quarter turn, so that none strays from the circle
/// by more than 2.8e-4 of the radius.
pub(in crate::export) fn curves(
    from: UserPoint,
    to: UserPoint,
    centre: UserPoint,
    clockwise: bool,
) -> Vec<[UserPoint; 3]> {
    let angle = |p: UserPoint| libm::atan2(p[1] - centre[1], p[0] - centre[0]);
    let (start, end) = (angle(from), angle(to));
    let swept = if clockwise { start - end } else { end - start };
    let swept = if swept < 0.0 { swept + TAU } else { swept };
    // An arc that comes out a rounding over whole quarters is no reason for one more.
    let count = (1..4).find(|n| swept <= f64::from(*n) * FRAC_PI_2 + 1e-6).unwrap_or(4);

    let sign = if clockwise { -1.0 } else { 1.0 };
    let turn = swept / f64::from(count);
    let handle = sign * 4.0 / 3.0 * libm::tan(turn / 4.0);
    let radius = libm::hypot(from[0] - centre[0], from[1] - centre[1]);
    let along = |p: UserPoint, k: f64| {
        [p[0] - k * (p[1] - centre[1]), p[1] + k * (p[0] - centre[0])]
    };

    let mut at = from;
    (1..=count)
        .map(|i| {
            let next = if i == count {
                to
            } else {
                let angle = start + sign * turn * f64::from(i);
                let (sine, cosine) = (libm::sin(angle), libm::cos(angle));
                [centre[0] + radius * cosine, centre[1] + radius * sine]
            };
            let curve = [along(at, handle), along(next, -handle), next];
            at = next;
            curve
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Farthest that the curves stray from the circle, as a part of its radius.
    fn stray(from: UserPoint, to: UserPoint, centre: UserPoint, clockwise: bool) -> f64 {
        let radius = libm::hypot(from[0] - centre[0], from[1] - centre[1]);
        let mut at = from;
        let mut worst: f64 = 0.0;
        for [a, b, end] in curves(from, to, centre, clockwise) {
            for i in 0..=100 {
                let (t, u) = (f64::from(i) / 100.0, 1.0 - f64::from(i) / 100.0);
                let on = |k: usize| {
                    u * u * u * at[k]
                        + 3.0 * u * u * t * a[k]
                        + 3.0 * u * t * t * b[k]
                        + t * t * t * end[k]
                };
                let r = libm::hypot(on(0) - centre[0], on(1) - centre[1]);
                worst = worst.max((r / radius - 1.0).abs());
            }
            at = end;
        }
        worst
    }

    #[test]
    fn arcs_keep_to_their_circle() {
        let c = [10.0, 20.0];
        let on = |degrees: f64| {
            let a = degrees.to_radians();
            [c[0] + 5.0 * libm::cos(a), c[1] + 5.0 * libm::sin(a)]
        };
        for (from, to, clockwise, count) in [
            (0.0, 180.0, false, 2),
            (180.0, 0.0, false, 2),
            (0.0, 180.0, true, 2),
            (90.0, -90.0, true, 2),
            (0.0, 90.0, false, 1),
            (170.0, 190.0, false, 1),
            (190.0, 170.0, true, 1),
            (-30.0, 70.0, false, 2),
        ] {
            let parts = curves(on(from), on(to), c, clockwise);
            assert_eq!(parts.len(), count, "{from} to {to}");
            let end = parts[count - 1][2].map(f64::to_bits);
            assert_eq!(end, on(to).map(f64::to_bits), "the end is exact");
            assert!(stray(on(from), on(to), c, clockwise) < 2.8e-4, "{from} to {to}");
        }
        // A shallow arc is far closer.
        assert!(stray(on(170.0), on(190.0), c, false) < 1e-7);
    }
}
