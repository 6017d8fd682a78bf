//! From a layout to paper: sheets, joins and tiles, the PDF, and printers that are not true.

#![expect(
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    clippy::cast_sign_loss,
    clippy::unwrap_used,
    reason = "a test may stop at what is not there; lengths and pixels are small numbers"
)]

mod accepted_prints;
mod calibrated;
mod calibration;
#[expect(dead_code, reason = "each test binary uses a part of it")]
#[path = "../common/mod.rs"]
mod common;
mod formats;
mod legibility;
mod marks_in_file;
mod other_pages;
mod pdf_file;
mod printer_findings;
mod properties;
mod rasterised;
mod shared_sheets;
mod sheet_count;
mod simulated_printer;
mod svg_file;
mod tile_heights;
mod verdicts;
mod whole_strap;
