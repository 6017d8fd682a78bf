//! `Length`: whole nanometres, and how they are written.

use super::ratio::rounded;
use serde::de::Error as _;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

/// A length in whole nanometres. Every decimal of a millimetre down to the sixth, every
/// 1/64 in and every paper size is exact.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Length(i64);

pub(super) const NM_PER_MM: i64 = 1_000_000;
/// 1 in = 25.4 mm exactly (NIST SP 811, App. B).
pub(super) const NM_PER_INCH: i64 = 25_400_000;
const NM_PER_64TH: i64 = NM_PER_INCH / 64;

impl Length {
    /// No length.
    pub const ZERO: Self = Self(0);

    /// `nm` nanometres.
    pub const fn from_nm(nm: i64) -> Self {
        Self(nm)
    }

    /// `nm` nanometres, if that is a length that a strap can have: at most 1 km.
    pub fn try_from_nm(nm: i64) -> Option<Self> {
        const MOST: u64 = 1_000_000 * NM_PER_MM.unsigned_abs();
        (nm.unsigned_abs() <= MOST).then_some(Self(nm))
    }

    /// `um` micrometres.
    pub const fn from_um(um: i64) -> Self {
        Self(um * 1_000)
    }

    /// `mm` whole millimetres.
    pub const fn from_mm(mm: i64) -> Self {
        Self(mm * NM_PER_MM)
    }

    /// `n` sixty-fourths of an inch.
    pub const fn from_inch_64ths(n: i64) -> Self {
        Self(n * NM_PER_64TH)
    }

    /// `n` whole inches.
    pub const fn from_inches(n: i64) -> Self {
        Self(n * NM_PER_INCH)
    }

    /// Whole nanometres.
    pub const fn nm(self) -> i64 {
        self.0
    }

    /// Millimetres as a float, for files and measurements.
    #[expect(clippy::cast_precision_loss, reason = "exact up to 9 000 km")]
    pub const fn as_mm_f64(self) -> f64 {
        self.0 as f64 / 1e6
    }

    /// Its size without the sign.
    #[must_use]
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// The largest whole multiple of `step` that is not above it.
    #[must_use]
    pub const fn floor_to(self, step: Self) -> Self {
        Self(self.0.div_euclid(step.0) * step.0)
    }

    /// `self` × `n` / `d`, to the nearest nanometre.
    ///
    /// # Panics
    /// When `d` is zero.
    #[must_use]
    pub fn times(self, n: i64, d: i64) -> Self {
        Self(rounded(i128::from(self.0) * i128::from(n), i128::from(d)))
    }

    /// Its square in square nanometres, exact.
    pub fn square(self) -> i128 {
        i128::from(self.0).pow(2)
    }

    /// The length whose square is `square`, in square nanometres, rounded down; zero for a
    /// negative one.
    pub fn from_square(square: i128) -> Self {
        Self(i64::try_from(square.max(0).isqrt()).unwrap_or(i64::MAX))
    }

    /// Millimetres with exactly `decimals` decimals (0 to 6), rounded.
    pub fn mm(self, decimals: u32) -> String {
        let step = 10_i64.pow(6 - decimals.min(6));
        let units = rounded(i128::from(self.0), i128::from(step));
        let per_mm = 10_i64.pow(decimals.min(6));
        let sign = if units < 0 { "-" } else { "" };
        let (whole, part) = (units.abs() / per_mm, units.abs() % per_mm);
        if decimals == 0 {
            return format!("{sign}{whole}");
        }
        format!("{sign}{whole}.{part:0width$}", width = decimals as usize)
    }

    /// Millimetres to the hundredth, without zeros at the end: `4.8`.
    pub fn plain_mm(self) -> String {
        trim_zeros(&self.mm(2)).to_owned()
    }

    /// The nearest sixty-fourth of an inch, reduced, and what is left over.
    pub fn tape(self) -> TapeFraction {
        self.nearest_64ths(1)
    }

    /// The next whole sixty-fourth of an inch, itself if it is one.
    #[must_use]
    pub const fn tape_64_up(self) -> Self {
        Self::from_inch_64ths(-(-self.0).div_euclid(NM_PER_64TH))
    }

    /// The nearest thirty-second of an inch, reduced, and what is left over.
    pub fn tape_32(self) -> TapeFraction {
        self.nearest_64ths(2)
    }

    /// The nearest sixteenth of an inch, reduced, and what is left over.
    pub fn tape_16(self) -> TapeFraction {
        self.nearest_64ths(4)
    }

    /// The nearest whole step of so many sixty-fourths of an inch.
    fn nearest_64ths(self, step: i64) -> TapeFraction {
        let unit = NM_PER_64TH * step;
        let n = rounded(i128::from(self.0), i128::from(unit));
        TapeFraction { sixty_fourths: n * step, rest: Self(self.0 - n * unit) }
    }

    /// Millimetres to the hundredth and inches to the 64th: `863.6 mm (34 in)`. A length that
    /// is not a whole 64th carries a `~`. One that rounds to nothing is given in millimetres
    /// alone, exactly where a hundredth does not show it.
    pub fn both(self) -> String {
        let (tape, hundredths) = (self.tape(), self.plain_mm());
        let about = if tape.is_whole() { "" } else { "~" };
        if tape.sixty_fourths == 0 && !tape.is_whole() {
            let is_shown = hundredths != "0";
            return if is_shown { format!("{hundredths} mm") } else { self.to_string() };
        }
        format!("{hundredths} mm ({about}{tape})")
    }
}

fn trim_zeros(decimal: &str) -> &str {
    if decimal.contains('.') {
        decimal.trim_end_matches('0').trim_end_matches('.')
    } else {
        decimal
    }
}

impl fmt::Display for Length {
    /// Exact millimetres, as [`Length::parse`] reads them.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} mm", trim_zeros(&self.mm(6)))
    }
}

/// A tape reading in inches to the nearest 64th.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TapeFraction {
    /// How many sixty-fourths of an inch it is.
    pub sixty_fourths: i64,
    /// The true length less the reading.
    pub rest: Length,
}

impl TapeFraction {
    /// Whether the reading is the length itself, but for the roundings of sums: less than
    /// a micrometre.
    pub fn is_whole(self) -> bool {
        self.rest.abs() < Length::from_um(1)
    }
}

impl fmt::Display for TapeFraction {
    /// `34 1/2 in`, as [`Length::parse`] reads it.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let n = self.sixty_fourths.abs();
        let sign = if self.sixty_fourths < 0 { "-" } else { "" };
        // The fraction is reduced: halved as often as its numerator is even.
        let halvings = n.trailing_zeros().min(6);
        let (whole, part, over) = (n / 64, (n % 64) >> halvings, 64 >> halvings);
        match (whole, part) {
            (w, 0) => write!(f, "{sign}{w} in"),
            (0, p) => write!(f, "{sign}{p}/{over} in"),
            (w, p) => write!(f, "{sign}{w} {p}/{over} in"),
        }
    }
}

/// As whole nanometres.
impl Serialize for Length {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.0.serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for Length {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let nm = i64::deserialize(deserializer)?;
        Self::try_from_nm(nm).ok_or_else(|| D::Error::custom("a length beyond 1 km"))
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}
impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}
impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}
impl SubAssign for Length {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}
impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}
impl Mul<i64> for Length {
    type Output = Self;
    fn mul(self, n: i64) -> Self {
        Self(self.0 * n)
    }
}
impl Div<i64> for Length {
    type Output = Self;
    /// Rounds to the nearest nanometre.
    fn div(self, n: i64) -> Self {
        self.times(1, n)
    }
}
impl Sum for Length {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        all.fold(Self::ZERO, Add::add)
    }
}
