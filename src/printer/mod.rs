//! The scale error of a printer: from ruler readings on a print to the factors that correct
//! it, and the small file that stores them.
//!
//! The error comes from the printer's feed and cross-feed, so it belongs to the long and the
//! short edge of the sheet. A page that is turned swaps the two. A reading is a quantity with
//! an uncertainty, so the numbers here are floats. They are rounded once, to the millionths
//! of the file.

mod axis;
mod calibrate;
mod file;
mod find;
pub(crate) mod rule;
mod skew;

pub use calibrate::{Calibrated, Calibration, Readings, calibrate};
pub use file::{ParsedPrinter, is_name, margin, read, write};
pub use rule::RULES;
pub use skew::Skew;

use crate::diagnostic::Finding;
use crate::paginate::{Correction, Paper};

/// A printer as it was measured.
#[derive(Clone, Debug, PartialEq)]
pub struct Printer {
    /// The paper that it was measured with, as [`Paper::parse`] reads it.
    pub paper: String,
    /// What corrects its error.
    pub correction: Correction,
    /// How far its axes are from square, where that was measured.
    pub skew: Option<Skew>,
}

impl Printer {
    /// A finding if `paper` is not the paper that the printer was measured with. It forbids
    /// the print if the factors undo a fit to that page.
    pub fn on(&self, paper: &Paper) -> Option<Finding> {
        let own = Paper::parse(&self.paper).ok().map(|p| p.form());
        let fitted = self.correction.fitted;
        (own != Some(paper.form()))
            .then(|| find::other_paper(&self.paper, paper.name(), fitted))
    }
}
