//! The pieces with their copies.

use super::{Layout, Piece};
use crate::words::Name;

/// A piece with its copies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Copies<'a> {
    /// What all are called: `front`.
    pub name: &'a Name,
    /// At least one.
    pub pieces: &'a [Piece],
}

impl Copies<'_> {
    /// How many are cut the other way round.
    pub fn mirrored(&self) -> usize {
        self.pieces.iter().filter(|p| p.copy.mirrored).count()
    }
}

impl Layout {
    /// The pieces in their order, each with its copies.
    pub fn copies(&self) -> Vec<Copies<'_>> {
        let alike = self.pieces.chunk_by(|a, b| a.id == b.id);
        alike.map(|pieces| Copies { name: &pieces[0].name, pieces }).collect()
    }
}
