//! Exact fractions for factors that have no unit, and the circle constant as one.

use super::Length;
use std::fmt;

/// A factor without a unit, in whole millionths (a bend factor of 0.33, say).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Ratio(i64);

/// π to 18 digits, as a fraction over [`PI_OVER`].
const PI: i128 = 3_141_592_653_589_793_238;
const PI_OVER: i128 = 1_000_000_000_000_000_000;

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

    /// Reads a decimal such as `0.33` or `0,33`; `None` when it is not one, or has more
    /// than six decimals.
    pub fn parse(text: &str) -> Option<Self> {
        let (whole, decimals) = match text.trim().split_once(['.', ',']) {
            Some((w, d)) => (w, d),
            None => (text.trim(), ""),
        };
        let digits = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
        if whole.is_empty() || whole.len() > 6 || decimals.len() > 6 {
            return None;
        }
        if !digits(whole) || !digits(decimals) {
            return None;
        }
        let fraction: i64 = format!("{decimals:0<6}").parse().ok()?;
        Some(Self(whole.parse::<i64>().ok()? * 1_000_000 + fraction))
    }

    /// `length` times this factor, to the nearest nanometre.
    pub fn of(self, length: Length) -> Length {
        Length::from_nm(rounded(i128::from(length.nm()) * i128::from(self.0), 1_000_000))
    }
}

impl fmt::Display for Ratio {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text = format!("{}.{:06}", self.0 / 1_000_000, self.0 % 1_000_000);
        f.write_str(text.trim_end_matches('0').trim_end_matches('.'))
    }
}

/// π times `diameter`, to the nearest nanometre.
pub fn circumference(diameter: Length) -> Length {
    Length::from_nm(rounded(i128::from(diameter.nm()) * PI, PI_OVER))
}

/// The whole root of `n`, rounded down; zero for a negative `n`, and at most `i64::MAX`.
pub fn integer_sqrt(n: i128) -> i64 {
    i64::try_from(n.max(0).isqrt()).unwrap_or(i64::MAX)
}

/// `n / d` to the nearest whole number, halves away from zero; saturates at 64 bits.
pub(super) fn rounded(n: i128, d: i128) -> i64 {
    let half = d / 2;
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
    fn roots_round_down() {
        for n in [0_i128, 1, 2, 3, 4, 24, 25, 1_000_000_000_000] {
            let r = i128::from(integer_sqrt(n));
            assert!(r * r <= n && (r + 1) * (r + 1) > n, "{n}");
        }
    }
}
