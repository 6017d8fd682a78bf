//! One axis of a printer: estimates of its scale factor from readings, alone and combined.

use crate::geom::{Length, Ratio};
use crate::paginate::Factor;

/// An estimate of the factor that corrects an axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Estimate {
    /// The factor: what was drawn by what was read.
    pub(super) by: f64,
    /// Its expanded uncertainty (k = 2).
    pub(super) within: f64,
}

impl Estimate {
    /// What is known of a true print before it is read: nothing but this uncertainty.
    pub(super) fn true_within(within: f64) -> Self {
        Self { by: 1.0, within }
    }

    /// The mean of two independent estimates, weighted by the inverse of their variances,
    /// which gives the least uncertainty. A strip of 1 m weighs about ten times as much as a
    /// bar of 26 cm.
    pub(super) fn combine(self, other: Self) -> Self {
        let weight = |e: Self| 1.0 / (e.within * e.within).max(f64::MIN_POSITIVE);
        let (own, others) = (weight(self), weight(other));
        Self {
            by: (self.by * own + other.by * others) / (own + others),
            within: 1.0 / libm::sqrt(own + others),
        }
    }

    /// The factor in millionths, on top of the one that the print already had, with its
    /// uncertainty rounded up.
    pub(super) fn on_top_of(self, old: Option<Factor>) -> Factor {
        let old = old.map_or(1.0, |factor| factor.by.as_f64());
        let millionths = |value: f64| Ratio::from_millionths(whole(value * 1e6));
        let proven = libm::ceil(self.within * 1e5) / 1e5;
        Factor { by: millionths(self.by * old), proven: millionths(proven) }
    }
}

/// The nearest whole number.
#[expect(clippy::cast_possible_truncation, reason = "factors are near 1")]
pub(super) fn whole(value: f64) -> i64 {
    libm::round(value) as i64
}

/// A length in mm, rounded up to the next tenth: less would promise too much.
pub(super) fn tenth_up(mm: f64) -> Length {
    Length::from_um(whole(libm::ceil(mm * 10.0 - 1e-9)) * 100)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: f64, b: f64, within: f64) -> bool {
        (a - b).abs() < within
    }

    /// Weights 1 : 4, by hand: (1.01 + 4 · 1.02) / 5 = 1.018, ±0.02 / √5.
    #[test]
    fn the_reading_with_less_uncertainty_weighs_more() {
        let (a, b) =
            (Estimate { by: 1.01, within: 0.02 }, Estimate { by: 1.02, within: 0.01 });
        let both = a.combine(b);
        assert!(
            near(both.by, 1.018, 1e-12) && near(both.within, 0.02 / 5_f64.sqrt(), 1e-12)
        );
        assert_eq!(both, b.combine(a));
    }

    #[test]
    fn what_is_claimed_is_rounded_up() {
        assert_eq!(tenth_up(1.01), Length::from_um(1_100));
        assert_eq!(tenth_up(1.1), Length::from_um(1_100));
    }
}
