//! From what was measured on the wearer to the lengths of the strap: pure formulas, each
//! with its derivation.

mod bend;
mod girth;

pub use bend::Bend;
pub use girth::{Fit, fit};
