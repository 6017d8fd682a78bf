//! A finished set to bytes, by the exporter and, for a measure, by the lean writer
//! `pdf-writer` with the same operations, face and compression.
//!
//! `cargo bench --bench job_to_pdf`

#![expect(
    clippy::unwrap_used,
    clippy::print_stdout,
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    clippy::cast_sign_loss,
    reason = "a measurement prints, may stop short, and knows its sheets"
)]

mod lean;
mod sample;

use divan::Bencher;
use strapwright::export::pdf::pdf;

fn main() {
    let set = sample::set();
    let (ours, lean) = (pdf(&set).unwrap().len(), lean::pdf(&set).len());
    println!("strapwright {ours} bytes, pdf-writer {lean} bytes");
    divan::main();
}

#[divan::bench(sample_count = 300)]
fn strapwright(bencher: Bencher<'_, '_>) {
    let set = sample::set();
    bencher.bench(|| pdf(&set).unwrap());
}

#[divan::bench(sample_count = 300)]
fn pdf_writer(bencher: Bencher<'_, '_>) {
    let set = sample::set();
    bencher.bench(|| lean::pdf(&set));
}
