//! From what was measured on the wearer to the lengths of the strap, and how sure a length
//! is that is read with a ruler: pure formulas, each with its derivation.

mod bend;
mod girth;
mod uncertainty;

pub use bend::Bend;
pub use girth::{Fit, fit};
pub use uncertainty::{Measuring, RulerClass, in_quadrature};
