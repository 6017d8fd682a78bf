//! From what was measured on the wearer to the lengths of the strap, and the uncertainty of a
//! length read with a ruler. Pure formulas, each with its derivation.

mod girth;
mod keeper;
mod serves;
mod uncertainty;

pub use girth::{Fit, fit, fit_past};
pub use keeper::keeper_length;
pub use serves::served_length;
pub use uncertainty::{
    DAMP, JoinCounts, MeasurementUncertainty, RulerClass, in_quadrature,
};
