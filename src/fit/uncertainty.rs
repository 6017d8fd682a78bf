//! How sure a length is that is read with a ruler: the ruler, the eye and the joins.
//!
//! By JCGM 100:2008 (GUM), 5.1.2 and 6.2: independent parts add as the root of the sum of
//! their squares, and what is told is the expanded uncertainty with the coverage factor
//! k = 2, which holds in about 95 of 100 cases. Lengths are whole nanometres throughout.

use crate::geom::{Extent, Length, integer_sqrt};

/// The class of a graduated rule by Directive 2014/32/EU, annex X (in the United Kingdom
/// SI 2016/1153, schedule 1I).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
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
    /// The greatest error that a rule of this class may have between two marks `length`
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

/// With what a bench measures, and how well.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Measuring {
    /// The ruler.
    pub ruler: RulerClass,
    /// How near a mark is read at one end (k = 2).
    pub reading: Length,
    /// How near one cross is laid on another at a join, along the strap (k = 2).
    pub join: Length,
}

/// To what a window is rounded, inward.
const TENTH: Length = Length::from_um(100);

/// Joins on the print that was read and on a way along it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Joins {
    /// That the reading and the way both go over.
    pub both: usize,
    /// That the reading alone goes over.
    pub read: usize,
    /// That the way alone goes over.
    pub way: usize,
}

impl Default for Measuring {
    /// A ruler of class II, read to half a millimetre, crosses laid on each other to
    /// 0.3 mm, about the width of their lines (common practice, no source).
    fn default() -> Self {
        let (reading, join) = (Length::from_um(500), Length::from_um(300));
        Self { ruler: RulerClass::II, reading, join }
    }
}

impl Measuring {
    /// What reading both ends leaves open, the ruler itself aside: √2 · reading.
    pub fn of_reading(&self) -> Length {
        self.rest(Length::ZERO, 2, 0)
    }

    /// Expanded uncertainty of a `length` that lies on one sheet and is read at both ends.
    ///
    /// The ruler's error lies anywhere within what its class permits, so its standard
    /// uncertainty is that figure / √3 (GUM 4.3.7): U² = (2 · permitted / √3)² +
    /// 2 · reading².
    pub fn of_length(&self, length: Length) -> Length {
        self.rest(self.ruler.permitted(length), 2, 0)
    }

    /// The same for a length that goes over `joins`.
    pub fn of_strip(&self, length: Length, joins: usize) -> Length {
        self.rest(self.ruler.permitted(length), 2, joins)
    }

    /// What is accepted of a `length` over `joins`: as far from it as a true one may read
    /// (k = 2), rounded inward to a tenth of a millimetre.
    pub fn window(&self, length: Length, joins: usize) -> Extent {
        let half = TENTH * (self.of_strip(length, joins).nm() / TENTH.nm());
        Extent { from: length, to: length }.grown(half)
    }

    /// Expanded uncertainty of a `way` along a print of which a `length` was read within
    /// its window.
    ///
    /// A print is accepted wherever in the window ±W it reads, so the reading is a
    /// rectangular part of W / √3 (GUM 4.3.7), to which come the ruler and the eye. What
    /// the joins on the length added to it is taken for scale, so of each of them that the
    /// way goes over 1 - ρ is left, of each other ρ, with ρ = way / length:
    /// U² = ρ² (4 W² / 3 + U(length)²) + join² (both (1 - ρ)² + read ρ² + way).
    pub fn of_accepted(&self, length: Length, way: Length, joins: Joins) -> Length {
        let square = |l: Length| i128::from(l.nm()) * i128::from(l.nm());
        let count = |n: usize| i128::try_from(n).unwrap_or(i128::MAX);
        let scaled = |l: Length| l.times(way.nm(), length.nm().max(1));
        let window = self.window(length, joins.both + joins.read).length() / 2;
        let part = scaled(self.join);
        let sum = 4 * square(scaled(window)) / 3
            + square(scaled(self.of_length(length)))
            + count(joins.both).saturating_mul(square(self.join - part))
            + count(joins.read).saturating_mul(square(part))
            + count(joins.way).saturating_mul(square(self.join));
        Length::from_nm(integer_sqrt(sum))
    }

    /// What `joins` joins leave open along the strap: √n · join.
    pub fn of_joins(&self, joins: usize) -> Length {
        self.rest(Length::ZERO, 0, joins)
    }

    fn rest(&self, permitted: Length, ends: i128, joins: usize) -> Length {
        let square = |l: Length| i128::from(l.nm()) * i128::from(l.nm());
        let joins = i128::try_from(joins).unwrap_or(i128::MAX);
        let sum = 4 * square(permitted) / 3
            + ends * square(self.reading)
            + joins.saturating_mul(square(self.join));
        Length::from_nm(integer_sqrt(sum))
    }
}

/// The root of the sum of the squares of independent parts.
pub fn in_quadrature(parts: &[Length]) -> Length {
    let square = |l: &Length| i128::from(l.nm()) * i128::from(l.nm());
    Length::from_nm(integer_sqrt(parts.iter().map(square).sum()))
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
        let open = Measuring::default().of_reading();
        assert_eq!(open.mm(4), "0.7071");
        assert_eq!(open.times(100, 100).mm(2), "0.71", "in mm of 100 mm");
        assert_eq!(open.times(100, 200).mm(3), "0.354", "in mm of 100 mm");
        assert_eq!(open.times(1_000, 200).mm(1), "3.5", "in mm of 1 m");
    }

    /// By hand, half of a length of 1000 mm over four joins, two of them on the way:
    /// √(0.8333 + 4 · 0.09) = 1.0924, so W = 1.0; 0.25 · (4/3 · 1 + 0.8333) = 0.54167, and
    /// 0.09 · (2 · 0.25 + 2 · 0.25) = 0.09; root of 0.63167.
    /// By a bar of 250 mm with a window of 0.9: 4 · (4/3 · 0.81 + 0.8333) = 7.6533, and two
    /// joins, 0.18; root of 7.8333.
    #[test]
    fn an_accepted_print_may_read_anything_in_the_window() {
        let (with, way) = (Measuring::default(), Length::from_mm(500));
        let joins = Joins { both: 2, read: 2, way: 0 };
        assert_eq!(with.of_accepted(Length::from_mm(1_000), way, joins).mm(3), "0.795");
        let joins = Joins { way: 2, ..Joins::default() };
        assert_eq!(with.of_accepted(Length::from_mm(250), way, joins).mm(3), "2.799");
    }

    /// By hand: permitted 0.5, so 4/3 · 0.25 = 0.3333; read, 2 · 0.25 = 0.5; three joins,
    /// 3 · 0.09 = 0.27. Roots: √0.8333 = 0.9129, √1.1033 = 1.0504, √0.27 = 0.5196.
    #[test]
    fn parts_add_in_quadrature() {
        let with = Measuring::default();
        assert_eq!(with.of_length(Length::from_mm(260)).mm(4), "0.9129");
        assert_eq!(with.of_strip(um(952_500), 3).mm(4), "1.0504");
        assert_eq!(with.of_strip(um(952_500), 0), with.of_length(um(952_500)));
        assert_eq!(with.of_joins(3).mm(4), "0.5196");
        assert_eq!(with.window(um(952_500), 3), Extent::new(um(951_500), um(953_500)));
        assert_eq!(in_quadrature(&[um(3_000), um(4_000)]), um(5_000));
    }
}
