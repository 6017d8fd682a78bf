//! Keys that several kinds of holes share: rows side by side, and what is set in them.

use super::{HardwareId, Names, Section, Spanned};
use crate::geom::Length;
use crate::job::section::table;

/// Most rows side by side.
const MOST_ROWS: usize = 20;

table! {
    /// Rows side by side, even about a line along the strap.
    pub struct Rows(t) with {
        let count = t.count_up_to("rows", MOST_ROWS);
    } {
        /// From row to row.
        apart: Spanned<Length> = t.size_where("rows-apart", count.value > 1),
        /// How many; at least one.
        count: Spanned<u32> = count,
        /// How far the line lies from the centre line, upward.
        across: Spanned<Length> = t.length_or("across", Length::ZERO),
    }
}

/// The diameter of holes that hardware is set in: that of the key, or else what the hardware
/// takes.
pub(super) fn set_diameter(
    t: &Section<'_, '_>,
    key: &str,
    names: &Names<'_>,
    sets: Option<HardwareId>,
) -> Spanned<Length> {
    let own = sets.and_then(|id| names.spec(id).kind.hole());
    match own {
        Some(hole) if names.takes_hole(t, key) => hole.clone(),
        _ => t.size(key),
    }
}
