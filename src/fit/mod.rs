//! From what was measured on the wearer to the lengths of the strap, and how sure a length
//! is that is read with a ruler: pure formulas, each with its derivation.

mod bend;
mod girth;
mod keeper;
mod serves;
mod uncertainty;

pub use bend::Bend;
pub use girth::{Fit, fit};
pub use keeper::{keeper, keeper_ease};
pub use serves::{served, x_for};
pub use uncertainty::{Joins, Measuring, RulerClass, in_quadrature};
