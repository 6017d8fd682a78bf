//! Factors without a unit, exact to the millionth.

use super::Length;
use super::float::{round_nm, to_f64};
use serde::{Deserialize, Serialize};
use std::f64::consts::PI;
use std::fmt;

/// A factor without a unit, in whole millionths (a bend factor of 0.33, say).
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Serialize, Deserialize,
)]
pub struct Ratio(i64);

impl Ratio {
    /// One half.
    pub const HALF: Self = Self(500_000);
    /// One.
    pub const ONE: Self = Self(1_000_000);
    /// Two.
    pub const TWO: Self = Self(2_000_000);

    /// `millionths` / 1 000 000.
    pub const fn from_millionths(millionths: i64) -> Self {
        Self(millionths)
    }

    /// How many millionths it is.
    pub const fn millionths(self) -> i64 {
        self.0
    }

    /// The factor as a float.
    #[expect(clippy::cast_precision_loss, reason = "a factor has few digits")]
    pub const fn as_f64(self) -> f64 {
        self.0 as f64 / 1e6
    }

    /// Reads a decimal such as `0.33` or `0,33`; `None` when it is not one, or has more
    /// than six decimals.
    pub fn parse(text: &str) -> Option<Self> {
        let text = text.trim();
        let (whole, decimals) = text.split_once(['.', ',']).unwrap_or((text, ""));
        let is_short = |s: &str| s.len() <= 6 && s.bytes().all(|b| b.is_ascii_digit());
        if whole.is_empty() || !is_short(whole) || !is_short(decimals) {
            return None;
        }
        format!("{whole}{decimals:0<6}").parse().ok().map(Self)
    }

    /// `length` times this factor, to the nearest nanometre.
    pub fn times(self, length: Length) -> Length {
        length.times(self.0, 1_000_000)
    }
}

impl fmt::Display for Ratio {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text = format!("{}.{:06}", self.0 / 1_000_000, self.0 % 1_000_000);
        f.write_str(text.trim_end_matches('0').trim_end_matches('.'))
    }
}

/// The circumference of a circle: π times `diameter`, to the nearest nanometre.
pub fn circumference(diameter: Length) -> Length {
    round_nm(PI * to_f64(diameter.nm().into()))
}

/// `n / d` to the nearest whole number, halves away from zero; saturates at 64 bits.
pub(super) fn rounded(n: i128, d: i128) -> i64 {
    let half = d.abs() / 2;
    let q = if n >= 0 { (n + half) / d } else { (n - half) / d };
    i64::try_from(q).unwrap_or(if q > 0 { i64::MAX } else { i64::MIN })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_ratio_prints_as_it_reads() {
        for text in ["0", "0.33", "0.5", "1", "0.000001", "2.5"] {
            assert_eq!(Ratio::parse(text).unwrap().to_string(), text);
        }
        for bad in ["", "-1", "x", "1.2.3", "0.0000001", ".5"] {
            assert_eq!(Ratio::parse(bad), None, "{bad}");
        }
    }

    #[test]
    fn quotients_round_to_the_nearest() {
        for (n, d, wanted) in
            [(7, 2, 4), (-7, 2, -4), (7, -2, -4), (-7, -2, 4), (5, 4, 1)]
        {
            assert_eq!(rounded(n, d), wanted, "{n} / {d}");
        }
    }
}
