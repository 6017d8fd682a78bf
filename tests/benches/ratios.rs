//! Each ratio from runs by turns, so that what else the machine does falls on both alike.

use super::work::{DEMO, ONE_SHEET, SEAMS, SIX_SHEETS, Work};
use super::{lean, rich};
use std::hint::black_box;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};
use strapwright::export::pdf::pdf;

/// Runs of each side, and the least that a side takes in all of them.
const RUNS: usize = 400;
const LONGEST: Duration = Duration::from_secs(4);

/// Runs all `sides` by turns; the middle time of each in milliseconds.
fn by_turns<const N: usize>(mut sides: [&mut dyn FnMut(); N]) -> [f64; N] {
    let mut times = [(); N].map(|()| Vec::with_capacity(RUNS));
    let begun = Instant::now();
    for run in 0..RUNS {
        if run > 8 && begun.elapsed() > LONGEST {
            break;
        }
        for (side, times) in sides.iter_mut().zip(&mut times) {
            let start = Instant::now();
            side();
            times.push(start.elapsed().as_secs_f64() * 1e3);
        }
    }
    times.map(|mut times| {
        times.sort_by(f64::total_cmp);
        times[times.len() / 2]
    })
}

pub(crate) fn table() {
    println!("| {:<24} | {:>9} | {:>9} | ratio |", "", "ms", "beside ms");
    println!("|{:-<26}|{:->11}|{:->11}|-------|", "", "", "");
    let row = |what: &str, ms: f64, beside: f64| {
        println!("| {what:<24} | {ms:9.3} | {beside:9.3} | {:5.2} |", ms / beside);
    };
    let face = rich::Face::new();
    for work in [ONE_SHEET, DEMO, SIX_SHEETS, SEAMS[3]] {
        let text = work.text();
        let laid = work.laid(&text);
        let set = work.sheets(&laid);
        assert_eq!(set.sheets.len(), work.sheets, "{work}");
        let bytes = pdf(&set).unwrap();
        println!(
            "| {work}: {} marks; bytes {}, pdf-writer {}, krilla {}",
            laid.marks(),
            bytes.len(),
            lean::pdf(&set).len(),
            rich::pdf(&set, &face).len(),
        );
        let [ours, lean, rich, read_back] = by_turns([
            &mut || drop(black_box(work.bytes(&text))),
            &mut || drop(black_box(lean::pdf(&set))),
            &mut || drop(black_box(rich::pdf(&set, &face))),
            &mut || laid.read_back(&bytes),
        ]);
        row("text to bytes, pdf-writer", ours, lean);
        row("text to bytes, krilla", ours, rich);
        row("read back, text to bytes", read_back, ours);
    }
    println!("| time a mark, by length");
    let least = per_mark(SEAMS[0]);
    for work in SEAMS {
        row(&format!("{work}, µs a mark"), per_mark(work), least);
    }
    println!("| whole process");
    let draw = || {
        let mut draw = Command::new(env!("CARGO_BIN_EXE_strapwright"));
        draw.args(["draw", "-o", "-"]);
        draw
    };
    let [draw, nothing] =
        by_turns([&mut || run(draw()), &mut || run(Command::new("true"))]);
    row("draw, true", draw, nothing);
}

/// Microseconds from text to bytes for each mark.
fn per_mark(work: Work) -> f64 {
    let text = work.text();
    let marks = work.laid(&text).marks() as f64;
    let [all] = by_turns([&mut || drop(black_box(work.bytes(&text)))]);
    all * 1e3 / marks
}

fn run(mut command: Command) {
    let done = command.stdout(Stdio::null()).stderr(Stdio::null()).status().unwrap();
    assert!(done.success());
}
