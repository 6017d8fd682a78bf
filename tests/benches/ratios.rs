//! Each ratio from runs by turns, so that what else the machine does falls on both alike.

use super::work::{DEMO, ONE_SHEET, SEAMS, SIX_SHEETS, Work};
use super::{lean, rich};
use std::fmt::Write as _;
use std::fs::File;
use std::hint::black_box;
use std::io::Write as _;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};
use strapwright::export::pdf::pdf;
use tempfile::TempDir;

/// Runs of each side, and from when on it is enough of them.
const RUNS: usize = 400;
const LONGEST: Duration = Duration::from_secs(4);
/// Fewest runs, of what takes milliseconds and of what takes seconds.
const FEWEST: usize = 9;
const FEW: usize = 5;
/// Orders of a day.
const ORDERS: usize = 1_000;

/// Runs all `sides` by turns, each at least `fewest` times; the middle time of each in
/// milliseconds.
fn by_turns<const N: usize>(fewest: usize, mut sides: [&mut dyn FnMut(); N]) -> [f64; N] {
    let mut times = [(); N].map(|()| Vec::with_capacity(RUNS));
    let begun = Instant::now();
    for run in 0..RUNS {
        if run >= fewest && begun.elapsed() > LONGEST {
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
    println!("| {:<28} | {:>9} | {:>9} | ratio |", "", "ms", "beside ms");
    println!("|{:-<30}|{:->11}|{:->11}|-------|", "", "", "");
    let row = |what: &str, ms: f64, beside: f64| {
        println!("| {what:<28} | {ms:9.3} | {beside:9.3} | {:5.2} |", ms / beside);
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
        let [ours, alone, lean, rich, read_back] = by_turns(
            FEWEST,
            [
                &mut || drop(black_box(work.bytes(&text))),
                &mut || drop(black_box(pdf(&set).unwrap())),
                &mut || drop(black_box(lean::pdf(&set))),
                &mut || drop(black_box(rich::pdf(&set, &face))),
                &mut || laid.read_back(&set, &bytes),
            ],
        );
        row("text to bytes, pdf-writer", ours, lean);
        row("sheets to bytes, pdf-writer", alone, lean);
        row("text to bytes, krilla", ours, rich);
        row("sheets to bytes, krilla", alone, rich);
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
        draw.args(["draw", "-o", "-", "--format=pdf"]);
        draw
    };
    let [draw, nothing] =
        by_turns(FEWEST, [&mut || run(draw()), &mut || run(Command::new("true"))]);
    row("draw, true", draw, nothing);
    let day = Day::new();
    let [one, two] =
        by_turns(FEW, [&mut || run(day.on_threads(1)), &mut || run(day.on_threads(2))]);
    row(&format!("{ORDERS} orders, 1 thread, 2"), one, two);
}

/// Microseconds from text to bytes for each mark.
fn per_mark(work: Work) -> f64 {
    let text = work.text();
    let marks = work.laid(&text).marks() as f64;
    let [all] = by_turns(FEWEST, [&mut || drop(black_box(work.bytes(&text)))]);
    all * 1e3 / marks
}

/// A table of orders, and the folder that a batch fills anew each time.
struct Day {
    folder: TempDir,
}

impl Day {
    fn new() -> Self {
        let folder = TempDir::new().unwrap();
        let mut table = "order,template,wearer,measure.value\n".to_owned();
        for order in 0..ORDERS {
            let (template, least) =
                [("belt", 700), ("hat-band", 520), ("dog-collar", 320)][order % 3];
            let measure = least + order % 80;
            writeln!(table, "Order {order},{template},Player {order},{measure} mm")
                .unwrap();
        }
        let mut file = File::create(folder.path().join("orders.csv")).unwrap();
        file.write_all(table.as_bytes()).unwrap();
        Self { folder }
    }

    fn on_threads(&self, threads: usize) -> Command {
        let mut batch = Command::new(env!("CARGO_BIN_EXE_strapwright"));
        batch.current_dir(self.folder.path());
        batch.args(["batch", "orders.csv", "-o", "day", "--force", "--quiet"]);
        batch.env("RAYON_NUM_THREADS", threads.to_string());
        batch
    }
}

fn run(mut command: Command) {
    let done = command.stdout(Stdio::null()).stderr(Stdio::null()).status().unwrap();
    assert!(done.success());
}
