//! A printer's correction on a page: every place multiplied about the middle of the page.
//!
//! The middle, because viewers and drivers that fit or centre a page do so about it, and
//! because whichever edge the printer draws in first, the growth is shared by both edges:
//! a margin on each side holds half of it. Where a page as a whole lands is of no account;
//! only distances on it are.

use super::curve::{Spot, points};
use crate::geom::{QuarterTurn, Ratio};
use crate::paginate::{Scaling, Sheet};

/// What a page is multiplied by.
pub(super) struct Scale {
    /// In points.
    middle: Spot,
    /// Along the width and the height; none for a page that stays as it is.
    by: Option<[f64; 2]>,
}

impl Scale {
    pub(super) fn of(sheet: &Sheet, scaling: Option<&Scaling>) -> Self {
        let middle = [sheet.width, sheet.height].map(|side| points(side.nm()) / 2.0);
        let by = scaling.map(|s| [s.width.by, s.height.by].map(factor));
        Self { middle, by }
    }

    /// Where a place of the drawing, in points, comes to lie on the page.
    pub(super) fn spot(&self, at: Spot) -> Spot {
        let Some(by) = self.by else { return at };
        let axis = |i: usize| self.middle[i] + (at[i] - self.middle[i]) * by[i];
        [axis(0), axis(1)]
    }

    /// The text matrix of words that start at `at`. Letters are multiplied with the rest,
    /// so that they keep clear of each other; widths of lines and dashes are not.
    pub(super) fn text(&self, turn: QuarterTurn, at: Spot) -> [f64; 6] {
        let [x, y] = self.spot(at);
        let [w, h] = self.by.unwrap_or([1.0, 1.0]);
        match turn {
            QuarterTurn::None => [w, 0.0, 0.0, h, x, y],
            QuarterTurn::Left => [0.0, h, -w, 0.0, x, y],
        }
    }
}

#[expect(clippy::cast_precision_loss, reason = "a factor has few digits")]
fn factor(ratio: Ratio) -> f64 {
    ratio.millionths() as f64 / 1e6
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Length;
    use crate::paginate::Factor;

    fn scale(scaling: Option<(i64, i64)>) -> Scale {
        let factor = |by| Factor { by: Ratio::from_millionths(by), proven: Ratio::ONE };
        let scaling = scaling.map(|(w, h)| Scaling {
            printer: String::new(),
            width: factor(w),
            height: factor(h),
            fitted: false,
        });
        let sheet = Sheet {
            number: 1,
            width: Length::from_inches(10),
            height: Length::from_inches(8),
            tiles: Vec::new(),
            bars: Vec::new(),
            items: Vec::new(),
            head: 0,
        };
        Scale::of(&sheet, scaling.as_ref())
    }

    fn is_near(a: &[f64], b: &[f64]) -> bool {
        a.len() == b.len() && a.iter().zip(b).all(|(a, b)| (a - b).abs() < 1e-9)
    }

    /// A page of 720 by 576 points, its middle at 360, 288.
    #[test]
    fn the_middle_stays_and_all_else_moves_from_it() {
        let by = scale(Some((1_010_000, 980_000)));
        assert!(is_near(&by.spot([360.0, 288.0]), &[360.0, 288.0]));
        assert!(is_near(&by.spot([460.0, 188.0]), &[461.0, 190.0]));
        let none = scale(None).spot([460.1, 188.2]);
        assert_eq!(none.map(f64::to_bits), [460.1, 188.2].map(f64::to_bits));
    }

    /// Turned words run up the page, along its height.
    #[test]
    fn words_are_multiplied_with_the_rest() {
        let by = scale(Some((1_010_000, 980_000)));
        let flat = by.text(QuarterTurn::None, [460.0, 188.0]);
        assert!(is_near(&flat, &[1.01, 0.0, 0.0, 0.98, 461.0, 190.0]));
        let turned = by.text(QuarterTurn::Left, [460.0, 188.0]);
        assert!(is_near(&turned, &[0.0, 0.98, -1.01, 0.0, 461.0, 190.0]));
    }
}
