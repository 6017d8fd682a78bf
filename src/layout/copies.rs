//! Copies of a piece, told by their names: `front-1`, `front-2-mirrored`.

use super::{Layout, Piece};

/// A piece with its copies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Copies<'a> {
    /// What all are called: `front`.
    pub name: &'a str,
    /// At least one.
    pub pieces: &'a [Piece],
}

impl Copies<'_> {
    /// How many are cut the other way round.
    pub fn mirrored(&self) -> usize {
        self.pieces.iter().filter(|p| p.name.ends_with(MIRRORED)).count()
    }
}

const MIRRORED: &str = "-mirrored";

impl Layout {
    /// The pieces in their order, each with its copies.
    pub fn copies(&self) -> Vec<Copies<'_>> {
        let mut all = Vec::new();
        let mut rest = self.pieces.as_slice();
        while let Some((first, others)) = rest.split_first() {
            let stem = first.name.strip_suffix("-1").unwrap_or(&first.name);
            let is_next = |p: &&Piece| p.name.strip_prefix(stem).is_some_and(is_copy);
            let more = others.iter().take_while(is_next).count();
            let name = if more == 0 { first.name.as_str() } else { stem };
            let (pieces, after) = rest.split_at(more + 1);
            all.push(Copies { name, pieces });
            rest = after;
        }
        all
    }
}

/// Whether the end of a name says that it is a copy after the first: `-2`, `-4-mirrored`.
fn is_copy(end: &str) -> bool {
    let number = end.strip_suffix(MIRRORED).unwrap_or(end).strip_prefix('-');
    number.is_some_and(|n| n.parse::<u32>().is_ok_and(|n| n > 1))
}
