//! From exact places of a sheet to points of a file, with the printer's correction: every
//! place is multiplied about the middle of the page.
//!
//! The middle, because viewers and drivers that fit or centre a page do so about it, and
//! because whichever edge the printer draws in first, the growth is shared by both edges:
//! a margin on each side holds half of it. Where a page as a whole lands is of no account;
//! only distances on it are.

use super::UserPoint;
use crate::geom::{Length, Point, QuarterTurn, Sheet as OnSheet};
use crate::paginate::{Factor, Sheet};

/// The way from a sheet to the page of a file.
pub(in crate::export) struct PageTransform {
    /// A length in the file's unit.
    unit: fn(Length) -> f64,
    middle: UserPoint,
    /// Along the width and the height; none for a page that stays as it is.
    factors: Option<[f64; 2]>,
}

impl PageTransform {
    pub(in crate::export) fn new(
        sheet: &Sheet,
        scaling: Option<[Factor; 2]>,
        unit: fn(Length) -> f64,
    ) -> Self {
        let middle = [sheet.width, sheet.height].map(|side| unit(side) / 2.0);
        let factors = scaling.map(|axes| axes.map(|factor| factor.by.as_f64()));
        Self { unit, middle, factors }
    }

    /// A place of the sheet in the file's unit, not yet corrected.
    pub(in crate::export) fn uncorrected(&self, at: Point<OnSheet>) -> UserPoint {
        [at.x, at.y].map(self.unit)
    }

    /// Where an uncorrected point comes to lie on the page.
    pub(in crate::export) fn corrected(&self, at: UserPoint) -> UserPoint {
        let Some(factors) = self.factors else { return at };
        let axis = |i: usize| self.middle[i] + (at[i] - self.middle[i]) * factors[i];
        [axis(0), axis(1)]
    }

    /// Where a place of the sheet comes to lie on the page.
    pub(in crate::export) fn point(&self, at: Point<OnSheet>) -> UserPoint {
        self.corrected(self.uncorrected(at))
    }

    /// What distances along the width and the height are multiplied by.
    pub(in crate::export) fn factors(&self) -> [f64; 2] {
        self.factors.unwrap_or([1.0, 1.0])
    }

    /// The matrix of a text that starts at `at`, as a PDF has it: `[a b c d e f]`, y upward.
    /// Letters are multiplied with the rest, so that they keep clear of each other; widths
    /// of lines and dashes are not.
    pub(in crate::export) fn text_matrix(
        &self,
        turn: QuarterTurn,
        at: Point<OnSheet>,
    ) -> [f64; 6] {
        let ([x, y], [w, h]) = (self.point(at), self.factors());
        match turn {
            QuarterTurn::None => [w, 0.0, 0.0, h, x, y],
            QuarterTurn::Left => [0.0, h, -w, 0.0, x, y],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Ratio;

    fn transform(scaling: Option<(i64, i64)>) -> PageTransform {
        let factor = |by| Factor { by: Ratio::from_millionths(by), proven: Ratio::ONE };
        let scaling = scaling.map(|(w, h)| [w, h].map(factor));
        let sheet = Sheet {
            number: 1,
            width: Length::from_inches(10),
            height: Length::from_inches(8),
            ..Sheet::default()
        };
        PageTransform::new(&sheet, scaling, points)
    }

    fn is_near(a: &[f64], b: &[f64]) -> bool {
        a.len() == b.len() && a.iter().zip(b).all(|(a, b)| (a - b).abs() < 1e-9)
    }

    #[expect(clippy::cast_precision_loss, reason = "lengths of a page")]
    fn points(length: Length) -> f64 {
        length.nm() as f64 * 72.0 / 25.4e6
    }

    fn at(x: i64, y: i64) -> Point<OnSheet> {
        let length = |points: i64| Length::from_inches(points) / 72;
        Point::new(length(x), length(y))
    }

    /// A page of 720 by 576 points, its middle at 360, 288.
    #[test]
    fn the_middle_stays_and_all_else_moves_from_it() {
        let by = transform(Some((1_010_000, 980_000)));
        assert!(is_near(&by.point(at(360, 288)), &[360.0, 288.0]));
        assert!(is_near(&by.point(at(468, 180)), &[469.08, 182.16]));
        let none = transform(None).point(at(468, 180));
        assert_eq!(none.map(f64::to_bits), [468.0_f64, 180.0].map(f64::to_bits));
    }

    /// Turned words run up the page, along its height.
    #[test]
    fn words_are_multiplied_with_the_rest() {
        let by = transform(Some((1_010_000, 980_000)));
        let flat = by.text_matrix(QuarterTurn::None, at(468, 180));
        assert!(is_near(&flat, &[1.01, 0.0, 0.0, 0.98, 469.08, 182.16]));
        let turned = by.text_matrix(QuarterTurn::Left, at(468, 180));
        assert!(is_near(&turned, &[0.0, 0.98, -1.01, 0.0, 469.08, 182.16]));
    }
}
