//! Keys that several kinds of holes share: rows side by side, and the posts that go through.

use super::{Section, Spanned};
use crate::geom::Length;

/// Rows side by side, even about a line along the strap.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rows {
    /// How many; at least one.
    pub count: Spanned<u32>,
    /// From row to row.
    pub apart: Spanned<Length>,
    /// How far the line lies from the centre line, upward.
    pub across: Spanned<Length>,
}

impl Rows {
    pub(super) fn read(t: &Section<'_, '_>) -> Self {
        let count = t.positive_count_or("rows", 1);
        let apart = t.size_where("rows-apart", count.value > 1);
        Self { count, apart, across: t.length_or("across", Length::ZERO) }
    }
}

/// Posts of the fasteners that the maker has, from base to end; the holes go through layers
/// that they must suit.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Posts {
    /// Of cap rivets, which are hammered down.
    pub rivet: Option<Spanned<Length>>,
    /// Of screw posts, which are screwed together.
    pub screw: Option<Spanned<Length>>,
}

impl Posts {
    pub(super) fn read(t: &Section<'_, '_>) -> Self {
        let post = |key: &str| t.has(key).then(|| t.size(key));
        Self { rivet: post("rivet-post"), screw: post("screw-post") }
    }
}
