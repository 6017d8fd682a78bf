//! From what was measured on the wearer to the lengths of the strap.

mod bend;

pub use bend::Bend;
