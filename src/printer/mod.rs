//! The scale error of a printer: from ruler readings on a print to the verdict on it, to the
//! factors that correct the printer, and the small file that keeps its readings.
//!
//! The error comes from the printer's feed and cross-feed, so it belongs to the long and the
//! short edge of the sheet. A page that is turned swaps the two. A reading is a quantity with
//! an uncertainty, so the numbers here are floats. They are rounded once, to the millionths
//! of the file.

mod axis;
mod calibrate;
mod cause;
mod file;
mod log;
mod reading;
pub(crate) mod rule;
mod skew;
mod strip;
mod verdict;

pub use calibrate::{Calibrated, Calibration, Measured, calibrate};
pub use cause::Cause;
pub use file::{Added, ParsedPrinter, add, is_name, margin, read, write, write_reading};
pub use log::{Dated, Printer};
pub use reading::Readings;
pub use rule::RULES;
pub use skew::Skew;
pub use strip::calibration_print;
pub use verdict::Verdict;
