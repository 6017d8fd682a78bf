//! One axis of a printer: estimates of its scale factor from readings, alone and combined.

use crate::geom::{Length, Ratio};
use crate::paginate::Factor;
use std::fmt;

/// An estimate of the factor that corrects an axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Estimate {
    /// The factor: what was drawn by what was read.
    pub(super) by: f64,
    /// Its expanded uncertainty (k = 2).
    pub(super) within: f64,
}

/// The estimate from all readings of an axis.
pub(super) type Axis = Estimate;

impl Estimate {
    /// The estimate from one reading: `read` where `nominal` was drawn, with an uncertainty
    /// of `within`. `read` must be positive.
    pub(super) fn from_reading(nominal: Length, read: Length, within: Length) -> Self {
        let by = nanometres(nominal) / nanometres(read);
        Self { by, within: nanometres(within) / nanometres(nominal) }
    }

    /// The uncertainty of the difference between two estimates (k = 2).
    pub(super) fn difference_within(self, other: Self) -> f64 {
        libm::hypot(self.within, other.within)
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

    /// The estimate on top of a correction that the print already had.
    pub(super) fn on_top_of(self, old: Factor) -> Self {
        Self { by: self.by * old.by.as_f64(), ..self }
    }

    /// Whether the error is smaller than the readings can show.
    pub(super) fn is_accurate(self) -> bool {
        self.error() <= self.within
    }

    /// How far it is from 1.
    pub(super) fn error(self) -> f64 {
        libm::fabs(self.by - 1.0)
    }

    /// The estimate of an axis that is left uncorrected: the factor stays 1, and the error
    /// that was read adds to its uncertainty.
    pub(super) fn uncorrected(self) -> Self {
        Self { by: 1.0, within: self.error() + self.within }
    }

    /// The factor in millionths, with its uncertainty rounded up.
    pub(super) fn factor(self) -> Factor {
        let millionths = |value: f64| Ratio::from_millionths(whole(value * 1e6));
        let proven = libm::ceil(self.within * 1e5) / 1e5;
        Factor { by: millionths(self.by), proven: millionths(proven) }
    }
}

impl fmt::Display for Estimate {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "×{} ±{:.2} %", self.factor().by, self.within * 100.0)
    }
}

/// The nearest whole number.
#[expect(clippy::cast_possible_truncation, reason = "factors are near 1")]
fn whole(value: f64) -> i64 {
    libm::round(value) as i64
}

/// A length in nanometres.
#[expect(clippy::cast_precision_loss, reason = "exact up to 9000 km")]
pub(super) fn nanometres(length: Length) -> f64 {
    length.nm() as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: f64, b: f64, within: f64) -> bool {
        (a - b).abs() < within
    }

    /// 199.2 mm where 200 are drawn, ±0.7 mm: ×200/199.2, ±0.35 %.
    #[test]
    fn a_reading_gives_a_factor() {
        let (nominal, read) = (Length::from_mm(200), Length::from_um(199_200));
        let one = Estimate::from_reading(nominal, read, Length::from_um(700));
        assert!(near(one.by, 1.004_016_06, 1e-8), "{one:?}");
        assert!(near(one.within, 0.0035, 1e-12), "{one:?}");
        assert_eq!(one.to_string(), "×1.004016 ±0.35 %");
    }

    /// 199.5 mm where 200 are drawn, ±0.7 mm: 0.2506 % off, ±0.35 %.
    #[test]
    fn an_uncorrected_axis_adds_its_error_to_its_uncertainty() {
        let read = |um| {
            let (nominal, within) = (Length::from_mm(200), Length::from_um(700));
            Estimate::from_reading(nominal, Length::from_um(um), within)
        };
        assert!(read(199_500).is_accurate() && !read(199_200).is_accurate());
        let uncorrected = read(199_500).uncorrected();
        assert!(
            near(uncorrected.within, 0.006_006, 1e-6) && near(uncorrected.by, 1.0, 1e-12)
        );
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
}
