//! One axis of a printer: what single readings say of it, and what they say together.

use crate::geom::{Length, Ratio};
use crate::paginate::Factor;
use std::fmt;

/// What one reading says: the factor that makes it true, and its expanded uncertainty
/// (k = 2), both as parts of the length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Estimate {
    pub(super) by: f64,
    pub(super) within: f64,
}

/// What all readings of an axis say.
pub(super) type Axis = Estimate;

impl Estimate {
    /// From `read` where `nominal` was drawn and a reading is sure to `within`. `read`
    /// must be positive.
    pub(super) fn of(nominal: Length, read: Length, within: Length) -> Self {
        let by = parts(nominal) / parts(read);
        Self { by, within: parts(within) / parts(nominal) }
    }

    /// How far two may be apart (k = 2).
    pub(super) fn both(self, other: Self) -> f64 {
        libm::hypot(self.within, other.within)
    }

    /// The mean of two independent estimates, each weighed by the inverse of its variance,
    /// which is the one with the least uncertainty. A strip of 1 m so outweighs a bar of
    /// 26 cm about ten to one, and the bar still guards against a slip.
    pub(super) fn with(self, other: Self) -> Self {
        let weight = |e: Self| 1.0 / (e.within * e.within).max(f64::MIN_POSITIVE);
        let (own, others) = (weight(self), weight(other));
        Self {
            by: (self.by * own + other.by * others) / (own + others),
            within: 1.0 / libm::sqrt(own + others),
        }
    }

    /// On top of a correction that the print had already.
    pub(super) fn after(self, old: Factor) -> Self {
        Self { by: self.by * ratio(old.by), ..self }
    }

    /// Whether it cannot be told from what needs no correction.
    pub(super) fn is_true(self) -> bool {
        self.off() <= self.within
    }

    /// How far it is from 1.
    pub(super) fn off(self) -> f64 {
        libm::fabs(self.by - 1.0)
    }

    /// What is known of the axis where nothing more is done about it: the factor stays 1,
    /// and is as far off as was read and as unsure as the reading besides.
    pub(super) fn left(self) -> Self {
        Self { by: 1.0, within: self.off() + self.within }
    }

    /// The same in millionths, the uncertainty rounded up.
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
pub(super) fn parts(length: Length) -> f64 {
    length.nm() as f64
}

#[expect(clippy::cast_precision_loss, reason = "a factor has few digits")]
pub(super) fn ratio(ratio: Ratio) -> f64 {
    ratio.millionths() as f64 / 1e6
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: f64, b: f64, within: f64) -> bool {
        (a - b).abs() < within
    }

    /// 199.2 mm where 200 are drawn, sure to 0.7 mm: ×200/199.2, ±0.35 %.
    #[test]
    fn a_reading_gives_a_factor() {
        let (nominal, read) = (Length::from_mm(200), Length::from_um(199_200));
        let one = Estimate::of(nominal, read, Length::from_um(700));
        assert!(near(one.by, 1.004_016_06, 1e-8), "{one:?}");
        assert!(near(one.within, 0.0035, 1e-12), "{one:?}");
        assert_eq!(one.to_string(), "×1.004016 ±0.35 %");
    }

    /// 199.5 mm where 200 are drawn, sure to 0.7 mm: 0.2506 % off, ±0.35 %.
    #[test]
    fn what_is_left_alone_is_as_unsure_as_it_may_be_off() {
        let read = |um| {
            let (nominal, within) = (Length::from_mm(200), Length::from_um(700));
            Estimate::of(nominal, Length::from_um(um), within)
        };
        assert!(read(199_500).is_true() && !read(199_200).is_true());
        let left = read(199_500).left();
        assert!(near(left.within, 0.006_006, 1e-6) && near(left.by, 1.0, 1e-12));
    }

    /// Weights 1 : 4, by hand: (1.01 + 4 · 1.02) / 5 = 1.018, ±0.02 / √5.
    #[test]
    fn the_surer_reading_weighs_more() {
        let (a, b) =
            (Estimate { by: 1.01, within: 0.02 }, Estimate { by: 1.02, within: 0.01 });
        let both = a.with(b);
        assert!(
            near(both.by, 1.018, 1e-12) && near(both.within, 0.02 / 5_f64.sqrt(), 1e-12)
        );
        assert_eq!(both, b.with(a));
    }
}
