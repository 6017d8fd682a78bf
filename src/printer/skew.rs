//! The angle between a printer's axes, from the diagonals of the corner marks.

use crate::geom::Length;

/// The angle between a printer's axes, as its difference from a right angle. The sign is
/// left out: it changes as the page is turned, and nothing uses it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Skew {
    /// The angle in degrees, not negative.
    pub degrees: f64,
    /// Its expanded uncertainty (k = 2).
    pub within: f64,
}

impl Skew {
    /// Computes it from the rising diagonal (lower left to upper right) and the falling one,
    /// each ±`within`, of a frame that was printed `width` by `height` mm.
    ///
    /// With the angle φ the law of cosines gives rising² = w² + h² + 2 w h sin φ
    /// and falling² = w² + h² - 2 w h sin φ, so sin φ = (rising² - falling²) / (4 w h).
    pub(super) fn from_diagonals(
        [rising, falling]: [Length; 2],
        within: Length,
        [width, height]: [f64; 2],
    ) -> Self {
        let (r, f) = (rising.as_mm_f64(), falling.as_mm_f64());
        let area = 4.0 * width * height;
        let sine = libm::fabs((r - f) * (r + f) / area).min(1.0);
        // Each diagonal d adds 2 d · within / area; the two are about equally long.
        let open = 2.0 * within.as_mm_f64() * libm::hypot(r, f) / area;
        Self {
            degrees: libm::asin(sine).to_degrees(),
            within: libm::asin(open.min(1.0)).to_degrees(),
        }
    }

    /// Whether it is larger than its uncertainty.
    pub fn is_proven(self) -> bool {
        self.degrees > self.within
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A frame of 300 × 400 mm leaning by 0.3°: its diagonals by the law of cosines.
    #[test]
    fn the_diagonals_give_the_angle() {
        let sine = libm::sin(0.3_f64.to_radians());
        let d = |sign: f64| {
            let square =
                300.0 * 300.0 + 400.0 * 400.0 + sign * 2.0 * 300.0 * 400.0 * sine;
            Length::parse(&format!("{:.6} mm", libm::sqrt(square))).unwrap()
        };
        let skew =
            Skew::from_diagonals([d(1.0), d(-1.0)], Length::from_um(500), [300.0, 400.0]);
        assert!((skew.degrees - 0.3).abs() < 1e-6, "{skew:?}");
        let other =
            Skew::from_diagonals([d(-1.0), d(1.0)], Length::from_um(500), [300.0, 400.0]);
        assert!((other.degrees - skew.degrees).abs() < 1e-12, "{other:?}");
        // 2 · 0.5 · √2 · 500 / (4 · 300 · 400) = 0.001473 rad = 0.0844°.
        assert!((skew.within - 0.0844).abs() < 1e-4, "{skew:?}");
        assert!(skew.is_proven());
        let square =
            Skew::from_diagonals([d(0.0), d(0.0)], Length::from_um(500), [300.0, 400.0]);
        assert!(!square.is_proven());
    }
}
