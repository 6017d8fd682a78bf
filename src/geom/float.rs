//! The one way from whole nanometres to floats and back. Curves are computed in `f64` and
//! rounded once.
//!
//! A float holds every whole number below 2⁵³ and every result here to 1 part in 10¹⁵: far
//! below a nanometre for lengths below 100 m. Products of two coordinates need more bits, so
//! they stay whole numbers until the last step. Only `libm` and operations that IEEE 754
//! defines exactly are used: the results are the same on every machine.

use super::Length;

/// This length in nanometres stands for every longer one, so that sums of two still fit.
const FARTHEST: f64 = 2e18;

/// A whole number, in nanometres or square nanometres, as the nearest float.
#[expect(clippy::cast_precision_loss, reason = "exact up to 9 000 km")]
pub(super) fn to_f64(whole: i128) -> f64 {
    whole as f64
}

/// The length of `nm` nanometres, to the nearest nanometre.
#[expect(clippy::cast_possible_truncation, reason = "rounded and clamped before")]
pub(super) fn round_nm(nm: f64) -> Length {
    Length::from_nm(nm.clamp(-FARTHEST, FARTHEST).round() as i64)
}
