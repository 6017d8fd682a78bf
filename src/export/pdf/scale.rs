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
