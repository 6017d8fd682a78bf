//! From what was measured on the wearer to the lengths of the strap: pure formulas, each
//! with its derivation.

mod bend;
mod girth;
mod keeper;
mod serves;

pub use bend::Bend;
pub use girth::{Fit, fit};
pub use keeper::{keeper, keeper_ease};
pub use serves::{served, x_for};
