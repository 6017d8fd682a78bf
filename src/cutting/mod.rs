//! Which strip or blank every piece is cut from.
//!
//! The best plan cuts every piece, or leaves out as few as it can; then opens the least
//! leather, then the fewest strips, and then leaves the longest offcut in one piece, because
//! what is left in one piece is a strap and what is left in many is scrap.
//!
//! This is the cutting stock problem. Pieces lie on a strip end to end. A wider strip may be
//! ripped along its whole length into lanes side by side. A lane is as wide as its widest
//! piece, and pieces lie on it as on a strip.

mod bound;
mod demand;
mod exact;
mod group;
mod improve;
mod plan;
mod problem;
pub(crate) mod rule;
mod sequential;
mod shortage;
mod solve;
mod stock;
mod text;

#[cfg(test)]
mod tests;

pub use demand::cuts;
pub use plan::{Laid, Lane, Opened, Plan, plan};
pub use rule::RULES;
pub use stock::{Kind, ParsedStock, Stock, read};
pub use text::text;

use crate::diagnostic::Span;
use crate::geom::Length;

/// Most strips, and most pieces, that are planned for.
pub const MOST: usize = 10_000;
/// Longest strip or piece, 1 km: beyond it only a slip of the pen can lie.
pub const LONGEST: Length = Length::from_mm(1_000_000);

/// A piece to cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cut {
    /// The order that it is for.
    pub order: String,
    /// Its name in the order.
    pub piece: String,
    /// Its length from end to end, flat.
    pub length: Length,
    /// Its width.
    pub width: Length,
    /// Its thickness.
    pub thickness: Length,
    /// What it is cut from: a strip, a blank at least as long as the piece, or a blank cut at
    /// both ends and as long as the piece.
    pub kind: Kind,
    /// The line that asked for it.
    pub span: Option<Span>,
}

/// How pieces may be cut. The defaults are common practice, no source.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Allowances {
    /// Lost between two neighbours on a strip: 1 mm, for squaring the cut.
    pub between: Length,
    /// Lost at each end of a strip: 5 mm, for cutting it square.
    pub ends: Length,
    /// By how much the width of a strip may differ from the piece's: 0.5 mm, which takes
    /// 38 mm for 1 1/2 in.
    pub width: Length,
    /// By how much the thickness may differ: 0.3 mm, as leather does within a hide.
    pub thickness: Length,
    /// Whether a wider strip may be ripped into lanes as wide as the pieces.
    pub rip: bool,
}

impl Default for Allowances {
    fn default() -> Self {
        Self {
            between: Length::from_mm(1),
            ends: Length::from_mm(5),
            width: Length::from_um(500),
            thickness: Length::from_um(300),
            rip: false,
        }
    }
}
