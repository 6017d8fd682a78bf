//! From a job's text to the bytes of its PDF: how long it takes beside what could be.
//!
//! `cargo bench --bench job_to_pdf` prints first a table of ratios, then each stage by itself.

#![expect(
    clippy::unwrap_used,
    clippy::print_stdout,
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    clippy::cast_sign_loss,
    reason = "a measurement prints, may stop short, and knows its sheets"
)]

mod drawn;
mod lean;
mod ratios;
mod rich;
mod work;

use divan::Bencher;
use strapwright::export::pdf::pdf;
use work::{DEMO, SEAMS, SIX_SHEETS, Work};

const WORKS: [Work; 3] = [DEMO, SIX_SHEETS, SEAMS[3]];

fn main() {
    ratios::table();
    divan::main();
}

#[divan::bench(args = WORKS)]
fn text_to_layout(bencher: Bencher<'_, '_>, work: Work) {
    let text = work.text();
    bencher.bench(|| work.laid(&text));
}

#[divan::bench(args = WORKS)]
fn layout_to_sheets(bencher: Bencher<'_, '_>, work: Work) {
    let laid = work.laid(&work.text());
    bencher.bench(|| work.sheets(&laid));
}

#[divan::bench(args = WORKS)]
fn sheets_to_bytes(bencher: Bencher<'_, '_>, work: Work) {
    let set = work.sheets(&work.laid(&work.text()));
    bencher.bench(|| pdf(&set).unwrap());
}

#[divan::bench(args = WORKS)]
fn bytes_read_back(bencher: Bencher<'_, '_>, work: Work) {
    let laid = work.laid(&work.text());
    let set = work.sheets(&laid);
    let bytes = pdf(&set).unwrap();
    bencher.bench(|| laid.read_back(&set, &bytes));
}
