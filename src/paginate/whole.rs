//! A page for the whole strap, for machines that draw from a roll or on a long bed.

use super::correction::Correction;
use super::page::HIGHEST_HEAD;
use super::paper::{LONGEST, MARGIN, Paper};
use super::tiling::shown_across;
use crate::geom::Length;
use crate::layout::Layout;

/// The narrowest roll, for the sake of the header and the bar along the height.
const NARROWEST: i64 = 100;

impl Paper {
    /// A roll that is wide enough for all pieces of `layout` above each other, in whole
    /// millimetres, so that each is drawn in one part. The longest page there is, 5080 mm,
    /// bounds both sides: a longer piece is joined.
    pub fn whole(layout: &Layout, correction: Option<&Correction>) -> Self {
        let pieces = layout.pieces.iter().map(|p| shown_across(p, LONGEST).length());
        let drawn = pieces.sum::<Length>() + HIGHEST_HEAD;
        let corrected = correction.map_or(drawn, |c| c.short.by.times(drawn).max(drawn));
        let width = corrected + correction.map_or(MARGIN, |c| c.margin) * 2;
        // A millimetre more for what is rounded.
        let mm = Length::from_mm(1).nm();
        let width = (width.nm() / mm + 2).clamp(NARROWEST, LONGEST.nm() / mm);
        Self::roll(Length::from_mm(width))
    }
}
