//! The uncertainty of a length read with a ruler: the ruler, the readings and the joins.
//!
//! By JCGM 100:2008 (GUM), 5.1.2 and 6.2, independent contributions add as the root of the
//! sum of their squares. Every figure here is an expanded uncertainty with the coverage
//! factor k = 2: the true value lies within it in about 95 of 100 cases. A contribution that
//! lies anywhere within ±a has the standard uncertainty a / √3 (GUM 4.3.7), so it counts
//! with the square (2 a / √3)² = 4 a² / 3. Lengths are whole nanometres; roots round down.

use crate::geom::{Extent, Length, Ratio};
use serde::{Deserialize, Serialize};

/// What paper grows or shrinks from one day to another, as a part of its length: an expanded
/// uncertainty (k = 2). The air of a heated room changes by 10 to 20 % of relative humidity,
/// and paper with it by 0.05 to 0.1 % (Niskanen, Paper Physics, chapter on dimensional
/// stability; from memory). A day is anywhere within ±0.07 % of the mean, which counts with
/// 2 / √3; two days then differ by up to about 0.1 %.
pub const DAMP: Ratio = Ratio::from_millionths(810);

/// The class of a graduated rule by Directive 2014/32/EU, annex X (in the United Kingdom
/// SI 2016/1153, schedule 1I).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum RulerClass {
    /// Steel rules of the better sort.
    I,
    /// Ordinary steel rules and tapes.
    #[default]
    II,
    /// Folding rules and tailor's tapes.
    III,
}

impl RulerClass {
    /// The maximum permissible error of a rule of this class between two marks `length`
    /// apart: a + b · L, with L in metres rounded up to the next whole one.
    pub fn permitted(self, length: Length) -> Length {
        let (a, b) = match self {
            Self::I => (100, 100),
            Self::II => (300, 200),
            Self::III => (600, 400),
        };
        let metre = Length::from_mm(1_000).nm();
        let metres = (length.abs().nm() + metre - 1) / metre;
        Length::from_um(a + b * metres)
    }
}

/// What makes a measured length uncertain.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct MeasurementUncertainty {
    /// The class of the ruler.
    pub ruler: RulerClass,
    /// Expanded uncertainty of reading the ruler at one end.
    pub reading: Length,
    /// Expanded uncertainty, along the strap, of laying one cross on another at a join.
    pub join: Length,
}

impl Default for MeasurementUncertainty {
    /// A ruler of class II, read to half a millimetre, crosses laid on each other to
    /// 0.3 mm, about the width of their lines (common practice, no source).
    fn default() -> Self {
        let (reading, join) = (Length::from_um(500), Length::from_um(300));
        Self { ruler: RulerClass::II, reading, join }
    }
}

/// How many joins a length that was read on a print and a distance along that print cross.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct JoinCounts {
    /// Joins that both cross.
    pub both: usize,
    /// Joins that only the length crosses.
    pub length_only: usize,
    /// Joins that only the distance crosses.
    pub distance_only: usize,
}

impl MeasurementUncertainty {
    /// Expanded uncertainty of a `length` across `joins` joins, read at both ends.
    ///
    /// The ruler's error lies anywhere within what its class permits:
    /// U² = 4/3 · permitted² + 2 · reading² + joins · join².
    ///
    /// ```
    /// use strapwright::fit::MeasurementUncertainty;
    /// use strapwright::geom::Length;
    /// // Class II permits 0.5 mm up to 1 m: √(4/3 · 0.25 + 2 · 0.25 + 3 · 0.09) mm.
    /// let uncertainty = MeasurementUncertainty::default();
    /// let length = Length::from_um(952_500);
    /// assert_eq!(uncertainty.of_length(length, 3).mm(4), "1.0504");
    /// ```
    pub fn of_length(&self, length: Length, joins: usize) -> Length {
        let ruler = 4 * self.ruler.permitted(length).square() / 3;
        let readings = 2 * self.reading.square();
        Length::from_square((ruler + readings).saturating_add(times(joins, self.join)))
    }

    /// Expanded uncertainty along the strap of `joins` joins alone: √joins · join.
    pub fn of_joins(&self, joins: usize) -> Length {
        Length::from_square(times(joins, self.join))
    }

    /// The readings of a `length` across `joins` joins that are accepted: as far from it as
    /// a true one may read, rounded inward to a tenth of a millimetre.
    pub fn window(&self, length: Length, joins: usize) -> Extent {
        let tenth = Length::from_um(100);
        let half = tenth * (self.of_length(length, joins).nm() / tenth.nm());
        Extent::new(length, length).grown(half)
    }

    /// Expanded uncertainty of a `distance` along a print of which a `length` was read
    /// within its window.
    ///
    /// A print is accepted wherever in the window ±W it reads, so the reading lies anywhere
    /// within ±W; ruler and readings add to that. What the joins on the length added to it
    /// is taken for scale: with ρ = distance / length, 1 - ρ of each join that the distance
    /// crosses too is left, ρ of each other, and all of a join that the distance alone
    /// crosses:
    /// U² = ρ² (4/3 · W² + U(length)²) + join² ((1 - ρ)² both + ρ² length-only +
    /// distance-only).
    pub fn of_distance(
        &self,
        distance: Length,
        length: Length,
        joins: JoinCounts,
    ) -> Length {
        let read = length.max(Length::from_nm(1));
        let window = self.window(length, joins.both + joins.length_only).length() / 2;
        let window = window.times(distance.nm(), read.nm());
        let rest = self.of_read(distance, length, joins);
        Length::from_square((4 * window.square() / 3).saturating_add(rest.square()))
    }

    /// The same for a reading that is known, and taken off: what ruler, readings and joins
    /// leave, without the window.
    pub fn of_read(&self, distance: Length, length: Length, joins: JoinCounts) -> Length {
        let scaled = |l: Length| l.times(distance.nm(), length.nm().max(1));
        let part = scaled(self.join);
        let squares = [
            scaled(self.of_length(length, 0)).square(),
            times(joins.both, self.join - part),
            times(joins.length_only, part),
            times(joins.distance_only, self.join),
        ];
        Length::from_square(squares.into_iter().fold(0, i128::saturating_add))
    }
}

/// The square of `length`, `count` times.
fn times(count: usize, length: Length) -> i128 {
    i128::try_from(count).unwrap_or(i128::MAX).saturating_mul(length.square())
}

/// The root of the sum of the squares of independent contributions.
pub fn in_quadrature(parts: &[Length]) -> Length {
    Length::from_square(parts.iter().map(|l| l.square()).sum())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn um(n: i64) -> Length {
        Length::from_um(n)
    }

    /// Directive 2014/32/EU, annex X, worked by hand.
    #[test]
    fn rulers_may_err_by_their_class() {
        for (class, mm, permitted_um) in [
            (RulerClass::I, 1_000, 200),
            (RulerClass::II, 100, 500),
            (RulerClass::II, 1_000, 500),
            (RulerClass::II, 1_001, 700),
            (RulerClass::II, 2_000, 700),
            (RulerClass::III, 1_500, 1_400),
        ] {
            let permitted = class.permitted(Length::from_mm(mm));
            assert_eq!(permitted, um(permitted_um), "{class:?} {mm} mm");
        }
    }

    /// Read to 0.5 mm at both ends, 0.7071 mm are open: 0.7 % of a bar of 100 mm, 0.35 %
    /// of 200 mm, and by the latter 3.5 mm of a strap of 1 m.
    #[test]
    fn a_short_bar_proves_little() {
        let reading = MeasurementUncertainty::default().reading;
        let open = in_quadrature(&[reading, reading]);
        assert_eq!(open.mm(4), "0.7071");
        assert_eq!(open.times(100, 100).mm(2), "0.71", "in mm of 100 mm");
        assert_eq!(open.times(100, 200).mm(3), "0.354", "in mm of 100 mm");
        assert_eq!(open.times(1_000, 200).mm(1), "3.5", "in mm of 1 m");
    }

    /// By hand, half of a length of 1000 mm over four joins, two of them on the half:
    /// √(0.8333 + 4 · 0.09) = 1.0924, so W = 1.0; 0.25 · (4/3 · 1 + 0.8333) = 0.54167, and
    /// 0.09 · (2 · 0.25 + 2 · 0.25) = 0.09; root of 0.63167.
    /// By a bar of 250 mm with a window of 0.9: 4 · (4/3 · 0.81 + 0.8333) = 7.6533, and two
    /// joins, 0.18; root of 7.8333.
    #[test]
    fn an_accepted_print_may_read_anything_in_the_window() {
        let (with, distance) = (MeasurementUncertainty::default(), Length::from_mm(500));
        let joins = JoinCounts { both: 2, length_only: 2, distance_only: 0 };
        assert_eq!(
            with.of_distance(distance, Length::from_mm(1_000), joins).mm(3),
            "0.795"
        );
        let joins = JoinCounts { distance_only: 2, ..JoinCounts::default() };
        assert_eq!(
            with.of_distance(distance, Length::from_mm(250), joins).mm(3),
            "2.799"
        );
    }

    /// By hand: permitted 0.5, so 4/3 · 0.25 = 0.3333; read, 2 · 0.25 = 0.5; three joins,
    /// 3 · 0.09 = 0.27. Roots: √0.8333 = 0.9129, √1.1033 = 1.0504, √0.27 = 0.5196.
    #[test]
    fn parts_add_in_quadrature() {
        let with = MeasurementUncertainty::default();
        assert_eq!(with.of_length(Length::from_mm(260), 0).mm(4), "0.9129");
        assert_eq!(with.of_length(um(952_500), 3).mm(4), "1.0504");
        assert_eq!(with.of_joins(3).mm(4), "0.5196");
        assert_eq!(with.window(um(952_500), 3), Extent::new(um(951_500), um(953_500)));
        assert_eq!(in_quadrature(&[um(3_000), um(4_000)]), um(5_000));
    }
}
