//! Keys of decorative fittings with equal gaps.

use super::{Rows, Section, Spanned};
use crate::geom::Length;
use crate::input::worded;
use crate::job::section::table;
use crate::job::{DatumRef, Place};

/// Most holes of one fitting beside each other, along the strap or across it.
const MOST_OF_ONE: usize = 6;

/// Holes beside each other: how many, and from one to the next.
type Holes = (Spanned<u32>, Spanned<Length>);

fn holes(t: &Section<'_, '_>, count: &str, apart: &str) -> Holes {
    let count = t.count_up_to(count, MOST_OF_ONE);
    let apart = t.size_where(apart, count.value > 1);
    (count, apart)
}

table! {
    /// One fitting: its face and the holes for its posts or prongs, even about its middle.
    pub struct Fitting(t) {
        /// Hole for a post or prong.
        diameter: Spanned<Length> = t.size("diameter"),
        /// Length of the face along the strap.
        face: Spanned<Length> = t.size("face"),
        /// Holes along the strap.
        along: Holes = holes(t, "holes-along", "along-apart"),
        /// Holes across the strap.
        across: Holes = holes(t, "holes-across", "across-apart"),
    }
}

worded! {
    /// What is equal between fittings.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum Spacing {
        /// The way from middle to middle, and from the ends of the span.
        Middles = "middles",
        /// The clear gap from face to face, and from the ends of the span.
        Gaps = "gaps",
    }
}

table! {
    /// Fittings with equal gaps to each other and to both ends.
    pub struct Spread(t) with {
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
    } {
        /// Where the span begins.
        from: Place = Place { from: t.datum("from"), by: t.length("by") },
        /// Where it ends.
        to: Place = Place { from: t.datum("to"), by: t.length("to-by") },
        /// How many.
        count: Spanned<u32> = t.count("count"),
        /// What is equal.
        spacing: Spacing = t.choice_or("spacing", &Spacing::WORDS, Spacing::Middles),
        /// Rows side by side; in every other one the pattern begins one further.
        rows: Rows = Rows::read(t),
        /// A stamp or another feature that leaves no room for the fittings over it.
        skip: Option<DatumRef> = t.datum_if("skip"),
        /// The fittings in turn, again and again; at least one.
        pattern: Vec<Fitting> = pattern,
    }
}
