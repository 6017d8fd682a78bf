//! Places and maps of the plane in which a page is measured.

use std::ops::{Add, Mul, Sub};

/// A place or a way, in the unit of its page: mm once a page is read.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(in crate::verify) struct Spot {
    pub(in crate::verify) x: f64,
    pub(in crate::verify) y: f64,
}

impl Spot {
    pub(in crate::verify) const ZERO: Self = Self { x: 0.0, y: 0.0 };

    pub(in crate::verify) const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    pub(in crate::verify) fn norm(self) -> f64 {
        libm::hypot(self.x, self.y)
    }

    /// Whether it is at least as long as `than`; what is much shorter is told at once.
    pub(in crate::verify) fn reaches(self, than: f64) -> bool {
        self.x.abs() + self.y.abs() >= than && self.norm() >= than
    }

    pub(in crate::verify) fn far(self, other: Self) -> f64 {
        (self - other).norm()
    }

    pub(in crate::verify) fn dot(self, other: Self) -> f64 {
        self.x * other.x + self.y * other.y
    }

    /// Twice the area that the two span, positive to the left of `self`.
    pub(in crate::verify) fn cross(self, other: Self) -> f64 {
        self.x * other.y - self.y * other.x
    }

    pub(in crate::verify) fn middle(self, other: Self) -> Self {
        Self::new(f64::midpoint(self.x, other.x), f64::midpoint(self.y, other.y))
    }

    /// The same way, one long; nothing has no way.
    pub(in crate::verify) fn unit(self) -> Option<Self> {
        let norm = self.norm();
        (norm > 1e-9 && norm.is_finite()).then(|| self * (1.0 / norm))
    }

    /// Whether both numbers are of a size that paper can have.
    pub(in crate::verify) fn is_sane(self) -> bool {
        self.x.abs() < 1e6 && self.y.abs() < 1e6
    }
}

impl Add for Spot {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::new(self.x + other.x, self.y + other.y)
    }
}

impl Sub for Spot {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::new(self.x - other.x, self.y - other.y)
    }
}

impl Mul<f64> for Spot {
    type Output = Self;
    fn mul(self, by: f64) -> Self {
        Self::new(self.x * by, self.y * by)
    }
}

/// A map of the plane: x' = a x + c y + e, y' = b x + d y + f (ISO 32000-1:2008, 8.3.3).
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::verify) struct Matrix(pub(in crate::verify) [f64; 6]);

impl Matrix {
    pub(in crate::verify) const IDENTITY: Self = Self([1.0, 0.0, 0.0, 1.0, 0.0, 0.0]);

    pub(in crate::verify) const fn shift(by: Spot) -> Self {
        Self([1.0, 0.0, 0.0, 1.0, by.x, by.y])
    }

    pub(in crate::verify) const fn scale(x: f64, y: f64) -> Self {
        Self([x, 0.0, 0.0, y, 0.0, 0.0])
    }

    /// Quarter turns counter-clockwise about zero, exact.
    pub(in crate::verify) fn quarter_turns(count: i64) -> Self {
        let [a, b] = match count.rem_euclid(4) {
            0 => [1.0, 0.0],
            1 => [0.0, 1.0],
            2 => [-1.0, 0.0],
            _ => [0.0, -1.0],
        };
        Self([a, b, -b, a, 0.0, 0.0])
    }

    /// This map first, then `next`.
    #[must_use]
    pub(in crate::verify) fn then(self, next: Self) -> Self {
        let x = next.way(Spot::new(self.0[0], self.0[1]));
        let y = next.way(Spot::new(self.0[2], self.0[3]));
        let origin = next.place(Spot::new(self.0[4], self.0[5]));
        Self([x.x, x.y, y.x, y.y, origin.x, origin.y])
    }

    pub(in crate::verify) fn place(self, p: Spot) -> Spot {
        self.way(p) + Spot::new(self.0[4], self.0[5])
    }

    pub(in crate::verify) fn way(self, v: Spot) -> Spot {
        let m = self.0;
        Spot::new(m[0] * v.x + m[2] * v.y, m[1] * v.x + m[3] * v.y)
    }

    /// By how much areas grow; negative for a mirror.
    pub(in crate::verify) fn area(self) -> f64 {
        let m = self.0;
        m[0] * m[3] - m[1] * m[2]
    }

    /// The map back; `None` where the plane has collapsed.
    pub(in crate::verify) fn inverse(self) -> Option<Self> {
        let area = self.area();
        if area.abs() < 1e-12 || !area.is_finite() {
            return None;
        }
        let m = self.0.map(|n| n / area);
        let linear = Self([m[3], -m[1], -m[2], m[0], 0.0, 0.0]);
        let back = linear.way(Spot::new(self.0[4], self.0[5]));
        Some(linear.then(Self::shift(Spot::ZERO - back)))
    }
}

/// The middle one of some numbers, or the mean of the middle two; `None` of none.
pub(in crate::verify) fn median(mut numbers: Vec<f64>) -> Option<f64> {
    numbers.retain(|n| n.is_finite());
    numbers.sort_by(f64::total_cmp);
    let half = numbers.len() / 2;
    let upper = *numbers.get(half)?;
    if numbers.len() % 2 == 1 {
        return Some(upper);
    }
    Some(f64::midpoint(upper, *numbers.get(half.checked_sub(1)?)?))
}

/// The middle of where most of some numbers lie within `within` of each other; of equally
/// many those with the first number, if it is one of them.
pub(in crate::verify) fn most(numbers: &[f64], within: f64) -> Option<f64> {
    let first = *numbers.first()?;
    let mut sorted = numbers.to_vec();
    sorted.sort_by(f64::total_cmp);
    let mut best: &[f64] = &[];
    for (i, low) in sorted.iter().enumerate() {
        let long = sorted[i..].partition_point(|n| n - low <= within);
        let here = &sorted[i..i + long];
        let holds_first = low.total_cmp(&first).is_le()
            && here.last().is_some_and(|high| high.total_cmp(&first).is_ge());
        if here.len() > best.len() || here.len() == best.len() && holds_first {
            best = here;
        }
    }
    median(best.to_vec())
}

/// An upright rectangle, grown by what it is shown.
#[derive(Clone, Copy, Debug)]
pub(in crate::verify) struct Bounds {
    pub(in crate::verify) low: Spot,
    pub(in crate::verify) high: Spot,
}

impl Bounds {
    pub(in crate::verify) const NONE: Self = Self {
        low: Spot::new(f64::INFINITY, f64::INFINITY),
        high: Spot::new(f64::NEG_INFINITY, f64::NEG_INFINITY),
    };

    pub(in crate::verify) fn of(places: impl IntoIterator<Item = Spot>) -> Self {
        let mut all = Self::NONE;
        for p in places {
            all.add(p);
        }
        all
    }

    pub(in crate::verify) fn add(&mut self, p: Spot) {
        self.low = Spot::new(self.low.x.min(p.x), self.low.y.min(p.y));
        self.high = Spot::new(self.high.x.max(p.x), self.high.y.max(p.y));
    }

    pub(in crate::verify) fn join(&mut self, other: Self) {
        if other.is_some() {
            self.add(other.low);
            self.add(other.high);
        }
    }

    pub(in crate::verify) fn is_some(self) -> bool {
        self.low.x <= self.high.x
    }

    pub(in crate::verify) fn size(self) -> Spot {
        self.high - self.low
    }

    pub(in crate::verify) fn middle(self) -> Spot {
        self.low.middle(self.high)
    }

    /// From a place outside to the nearest side; nothing from one inside.
    pub(in crate::verify) fn distance(self, p: Spot) -> f64 {
        let off = |low: f64, at: f64, high: f64| (low - at).max(at - high).max(0.0);
        let x = off(self.low.x, p.x, self.high.x);
        libm::hypot(x, off(self.low.y, p.y, self.high.y))
    }

    pub(in crate::verify) fn touches(self, other: Self, within: f64) -> bool {
        self.low.x <= other.high.x + within
            && other.low.x <= self.high.x + within
            && self.low.y <= other.high.y + within
            && other.low.y <= self.high.y + within
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn maps_go_one_after_the_other_and_back() {
        let map = Matrix::scale(2.0, 3.0)
            .then(Matrix::quarter_turns(1))
            .then(Matrix::shift(Spot::new(10.0, 20.0)));
        let there = map.place(Spot::new(1.0, 1.0));
        assert!(there.far(Spot::new(7.0, 22.0)) < 1e-12, "{there:?}");
        let back = map.inverse().expect("it has one").place(there);
        assert!(back.far(Spot::new(1.0, 1.0)) < 1e-12, "{back:?}");
        assert!(Matrix::scale(0.0, 1.0).inverse().is_none());
    }

    #[test]
    fn the_median_is_in_the_middle() {
        let off = |numbers: &[f64], wanted: f64| {
            (median(numbers.to_vec()).expect("some") - wanted).abs()
        };
        assert!(off(&[3.0, 1.0, 2.0], 2.0) < 1e-12);
        assert!(off(&[4.0, 1.0, 2.0, f64::NAN, 3.0], 2.5) < 1e-12);
        assert!(median(Vec::new()).is_none());
        let most_off = |numbers: &[f64], wanted: f64| {
            (most(numbers, 0.02).expect("some") - wanted).abs()
        };
        assert!(most_off(&[0.1, 0.0, 0.0, 0.01], 0.0) < 1e-12);
        assert!(most_off(&[0.1, 0.0, 0.1, 0.0], 0.1) < 1e-12, "the first counts");
    }
}
