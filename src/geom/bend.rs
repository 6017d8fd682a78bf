//! How much strap a bend round a bar takes.

use super::{Length, Ratio, circumference};
use serde::Serialize;

/// A strap of some thickness folded flat back round a bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Bend {
    /// Diameter of the bar.
    pub bar: Length,
    /// Thickness of the leather.
    pub thickness: Length,
    /// Strap taken by the half turn, on the neutral line.
    pub take_up: Length,
}

impl Bend {
    /// A half turn round a bar of diameter `bar` takes `π (bar / 2 + k · thickness)` of
    /// strap: half the circle on which the leather is neither stretched nor compressed.
    /// `k` runs from 0, the inner face, to 1, the outer face.
    ///
    /// For leather no published factor was found; `k` = 0.5, the middle of the thickness,
    /// holds unless a trial fold says otherwise. Sheet metal runs from 0.33 to 0.5
    /// (DIN 6935).
    ///
    /// ```
    /// use strapwright::geom::{Bend, Length, Ratio};
    /// let bend = Bend::new(Length::from_mm(5), Length::from_mm(3), Ratio::HALF);
    /// assert_eq!(bend.take_up.mm(3), "12.566"); // 4 π mm
    /// ```
    pub fn new(bar: Length, thickness: Length, k: Ratio) -> Self {
        Self { bar, thickness, take_up: circumference(bar / 2 + k.times(thickness)) }
    }

    /// What to add to a flat x, counted from the middle of the bend, to get the reading of a
    /// tape hooked on the outside of the closed bend. `x - take_up / 2` is the distance from
    /// the bar's centre, and the outside lies `bar / 2 + thickness` beyond that centre.
    pub fn from_fold_to_outside(self) -> Length {
        self.bar / 2 + self.thickness - self.take_up / 2
    }
}
