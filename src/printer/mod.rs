//! Printers that are not true: what the ruler read on a print, worked out into what undoes
//! the error, and the small file that keeps it.
//!
//! The error belongs to the printer's feed and cross-feed, hence to the long and the short
//! edge of the sheet; a drawing that lies the other way round swaps them. What is measured
//! is a quantity with an uncertainty, so the numbers here are floats until they are
//! rounded, once, to the millionths that a file holds.

mod axis;
mod calibrate;
mod file;
mod find;
mod skew;

pub use calibrate::{Calibrated, Calibration, Readings, calibrate};
pub use file::{Known, is_name, margin, read, write};
pub use find::RULES;
pub use skew::Skew;

use crate::diagnostic::Finding;
use crate::paginate::{Correction, Paper};

/// A printer as it was measured.
#[derive(Clone, Debug, PartialEq)]
pub struct Printer {
    /// The paper that it was measured on, as [`Paper::parse`] reads it.
    pub paper: String,
    /// What undoes its error.
    pub correction: Correction,
    /// How far its axes are from square, where that was measured.
    pub skew: Option<Skew>,
}

impl Printer {
    /// What is to be said when it prints on `paper`: a finding if it was measured on
    /// another one, which forbids the print if its factors undo a fit to that page.
    pub fn on(&self, paper: &Paper) -> Option<Finding> {
        let own = Paper::parse(&self.paper).ok().map(|p| p.form());
        let fitted = self.correction.fitted;
        (own != Some(paper.form()))
            .then(|| find::other_paper(&self.paper, paper.name(), fitted))
    }
}
