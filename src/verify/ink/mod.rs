//! The judge of ink: whether a page comes out of a printer as its sheet.
//!
//! Each page is laid on the sheet that it shows (`align`), by its letters. Then it is drawn as
//! a printer would draw it (`raster`), and the ink is measured along every line of the sheet
//! (`probe`): there must be ink, at its place, and none elsewhere. So it does not matter what
//! hides, clips or adds ink.

mod align;
mod allowed;
mod form;
mod matching;
mod print;
mod probe;
mod raster;
mod sheet;

pub(super) use print::verify_print;

use align::Alignment;
