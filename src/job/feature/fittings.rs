//! Keys of decorative fittings with equal gaps.

use super::{Rows, Section, Spanned};
use crate::geom::Length;
use crate::job::DatumRef;

/// One fitting: its face and the holes for its posts or prongs, even about its middle.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fitting {
    /// Hole for a post or prong.
    pub diameter: Spanned<Length>,
    /// Length of the face along the strap.
    pub face: Spanned<Length>,
    /// Holes along the strap and from one to the next.
    pub along: (Spanned<u32>, Spanned<Length>),
    /// Holes across the strap and from one to the next.
    pub across: (Spanned<u32>, Spanned<Length>),
}

/// Most holes of one fitting beside each other, along the strap or across it.
const MOST_OF_ONE: usize = 6;

impl Fitting {
    fn read(t: &Section<'_, '_>) -> Self {
        let holes = |count: &str, apart: &str| {
            let count = t.count_up_to(count, MOST_OF_ONE);
            let apart = t.size_where(apart, count.value > 1);
            (count, apart)
        };
        Self {
            diameter: t.size("diameter"),
            face: t.size("face"),
            along: holes("holes-along", "along-apart"),
            across: holes("holes-across", "across-apart"),
        }
    }
}

/// What is equal between fittings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spacing {
    /// The way from middle to middle, and from the ends of the span.
    Middles,
    /// The clear gap from face to face, and from the ends of the span.
    Gaps,
}

/// Fittings with equal gaps to each other and to both datums.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spread {
    /// Where the span begins.
    pub from: DatumRef,
    /// How far past that.
    pub by: Spanned<Length>,
    /// Where the span ends.
    pub to: DatumRef,
    /// How far past that (negative: before).
    pub to_by: Spanned<Length>,
    /// How many.
    pub count: Spanned<u32>,
    /// What is equal.
    pub spacing: Spacing,
    /// Rows side by side; in every other one the pattern begins one further.
    pub rows: Rows,
    /// A stamp or another feature that leaves no room for the fittings over it.
    pub skip: Option<DatumRef>,
    /// The fittings in turn, again and again; at least one.
    pub pattern: Vec<Fitting>,
}

impl Spread {
    pub(super) fn read(t: &Section<'_, '_>) -> Self {
        let spacings = [("middles", Spacing::Middles), ("gaps", Spacing::Gaps)];
        let mut pattern = Vec::new();
        for given in t.names("pattern", &[]) {
            match t.reader.section(&given.value) {
                Some(table) => pattern.push(Fitting::read(&table)),
                None => t.no_such_table(&given),
            }
        }
        if pattern.is_empty() {
            pattern.push(Fitting::read(t));
        }
        Self {
            from: t.datum("from"),
            by: t.length("by"),
            to: t.datum("to"),
            to_by: t.length("to-by"),
            count: t.count("count"),
            spacing: t.choice_or("spacing", &spacings, Spacing::Middles),
            rows: Rows::read(t),
            skip: t.datum_if("skip"),
            pattern,
        }
    }
}
