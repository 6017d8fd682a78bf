//! Features placed along named datums: the outline and the marks, in strap coordinates.

mod mark;

pub use mark::{Layout, Mark, MarkKind, Piece, Shape};
