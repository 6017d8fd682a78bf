//! The demo job, from its text to the bytes of its PDF, and, for a measure, the drawing
//! operations of its sheets written by the lean writer `pdf-writer` with the same face and
//! compression.
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

use divan::Bencher;
use strapwright::check::{Subject, check};
use strapwright::export::pdf::pdf;
use strapwright::fit::fit;
use strapwright::job::read;
use strapwright::layout::lay_out;
use strapwright::paginate::{Heading, Paper, Request, SheetSet, paginate};
use strapwright::template::DEMO_JOB;
use strapwright::verify::{Against, verify};

/// Every stage from the text to the sheets.
fn sheets() -> SheetSet {
    let job = read("demo", DEMO_JOB, &[]).job.unwrap();
    let fit = fit(&job);
    let layout = lay_out(&job, fit.as_ref()).unwrap();
    let findings = check(&Subject { job: &job, fit: fit.as_ref(), layout: &layout });
    assert!(findings.is_empty());
    let heading = Heading::of(&job, fit.as_ref(), &layout);
    paginate(&Request::new(&layout, &heading, &Paper::parse("a4").unwrap())).unwrap()
}

fn main() {
    let set = sheets();
    let (ours, lean) = (pdf(&set).unwrap().len(), lean::pdf(&set).len());
    println!("strapwright {ours} bytes, pdf-writer {lean} bytes");
    divan::main();
}

/// Job text to PDF bytes.
#[divan::bench(sample_count = 500)]
fn strapwright(bencher: Bencher<'_, '_>) {
    bencher.bench(|| pdf(&sheets()).unwrap());
}

/// The exporter alone.
#[divan::bench(sample_count = 500)]
fn strapwright_export_only(bencher: Bencher<'_, '_>) {
    let set = sheets();
    bencher.bench(|| pdf(&set).unwrap());
}

/// What `draw` adds before a file is put in its place.
#[divan::bench(sample_count = 500)]
fn read_back(bencher: Bencher<'_, '_>) {
    let job = read("demo", DEMO_JOB, &[]).job.unwrap();
    let layout = lay_out(&job, fit(&job).as_ref()).unwrap();
    let bytes = pdf(&sheets()).unwrap();
    let against = Against { layout: Some(&layout), sheets: &[] };
    bencher.bench(|| {
        let report = verify(&bytes, &against).unwrap();
        assert!(report.findings.is_empty());
        report
    });
}

/// The same operations, drawn from finished sheets.
#[divan::bench(sample_count = 500)]
fn pdf_writer(bencher: Bencher<'_, '_>) {
    let set = sheets();
    bencher.bench(|| lean::pdf(&set));
}
