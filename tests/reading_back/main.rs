//! Every sample job reads back clean on every paper, and every fault that is planted in a
//! finished file is found: by the exact judge, and by the judge of ink where ink shows it.

#![expect(
    clippy::cast_precision_loss,
    clippy::unwrap_used,
    reason = "a test may stop at what is not there; lengths are short in nanometres"
)]

#[expect(dead_code, reason = "each test binary uses a part of it")]
#[path = "../common/mod.rs"]
mod common;
mod composed;
mod drawn;
mod faults;
mod foreign;
mod planted;
mod sheet_faults;
mod tapered;

use crate::common::samples;
use drawn::{all_on, belts_on, by_ink, drawn, errors, exactly, rules, words};
use faults::{FAULTS, change_mark};
use planted::{Open, shifted};
use strapwright::diagnostic::Severity;
use strapwright::verify::{FoundMark, exact, verify_alone};

#[test]
fn every_sample_reads_back_clean() {
    for drawn in all_on(&["a4", "letter", "a3", "roll", "250x400mm"]) {
        let read = exact(&drawn.bytes, &drawn.set, &drawn.layout, &[]).unwrap();
        assert!(read.findings.is_empty(), "{}\n{}", drawn.name, words(&read.findings));
        // The file's numbers have four decimals of a point.
        assert!(read.worst_mm < 0.001, "{}: {}", drawn.name, read.worst_mm);
        assert_eq!(read.sheets, drawn.set.sheets.len(), "{}", drawn.name);
        let alone = verify_alone(&[("print.pdf", &drawn.bytes)]).unwrap();
        assert!(alone.findings.is_empty(), "{}\n{}", drawn.name, words(&alone.findings));
        assert_eq!(alone.print, drawn.set.fingerprint, "{}", drawn.name);
        assert_eq!(alone.sheets, drawn.set.sheets.len(), "{}", drawn.name);
    }
}

#[test]
fn every_sample_is_clean_in_ink() {
    for drawn in all_on(&["a4", "letter"]) {
        let report = by_ink(&drawn, &drawn.bytes);
        assert!(
            report.findings.is_empty(),
            "{}\n{}",
            drawn.name,
            words(&report.findings)
        );
        let forms = drawn.layout.pieces.iter().flat_map(|p| &p.marks);
        let forms = forms.filter(|m| m.path().is_some()).count();
        assert_eq!(report.marks.len(), forms, "{}", drawn.name);
        assert!(report.worst_mm() < 0.03, "{}: {}", drawn.name, report.worst_mm());
    }
}

/// The exact judge over every fault and all belts; the judge of ink over each fault on another
/// belt, since it draws each page. `INK_FAULTS=all` has it look at all of them.
#[test]
fn planted_faults_are_found() {
    let (mut wrong, mut tried) = (Vec::new(), 0);
    let all_in_ink = std::env::var("INK_FAULTS").is_ok();
    let belts = belts_on(&["a4", "letter"]);
    for (belt, drawn) in belts.iter().enumerate() {
        let faults = FAULTS.iter().filter(|f| f.sheets <= drawn.set.sheets.len());
        for (nth, fault) in faults.enumerate() {
            let mut file = Open::file(&drawn.bytes);
            (fault.plant)(&mut file, drawn);
            let bytes = file.bytes();
            tried += 1;
            if exactly(drawn, &bytes).is_empty() {
                wrong.push(format!("{}, {}: not found exactly", drawn.name, fault.name));
            }
            let in_turn = nth % belts.len() == belt;
            if fault.rule.is_empty() || !(all_in_ink || in_turn) {
                continue;
            }
            let report = by_ink(drawn, &bytes);
            if !rules(&report.findings).contains(fault.rule) {
                let found = words(&report.findings);
                wrong.push(format!("{}, {}: in ink\n{found}", drawn.name, fault.name));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(FAULTS.len() >= 50 && tried > 5 * FAULTS.len(), "only {tried} were planted");
}

/// A moved mark is measured: where it was found, where it should be, and by how much it is
/// off.
#[test]
fn a_moved_mark_is_measured() {
    let drawn = belts_on(&["a4"]).remove(0);
    let mut file = Open::file(&drawn.bytes);
    change_mark(&mut file, |mark| shifted(mark, 0.1, 0.0));
    let report = by_ink(&drawn, &file.bytes());
    let off = |m: &&FoundMark| m.error_mm > 0.05;
    let worst = report.marks.iter().find(off).unwrap();
    let expected = worst.expected_mm;
    assert!((worst.error_mm - 0.1).abs() < 0.02, "{worst:?}");
    assert!((worst.found_mm[0] - expected[0] - 0.1).abs() < 0.02, "{worst:?}");
}

/// Sheets of another job, and of another size of the same.
#[test]
fn what_is_not_of_the_job_is_found() {
    let jobs = samples::jobs();
    let text = |name: &str| &jobs.iter().find(|(n, _)| n == name).unwrap().1;
    let demo = drawn("demo-belt", text("demo-belt"), "a4");
    let other = drawn("drover-belt", text("drover-belt"), "a4");
    let report = by_ink(&demo, &other.bytes);
    assert!(!errors(&report.findings).is_empty(), "{}", words(&report.findings));
}

/// What the reading may take from the rest of the program: what all stages share, the layout,
/// and of the pages' making the sheet model alone.
const TAKEN: &[&str] = &[
    "diagnostic::",
    "geom::",
    "fit::",
    "layout::",
    "lettering",
    "words::Wording",
    "verify",
    "paginate::Anchor",
    "paginate::Claim",
    "paginate::Cross",
    "paginate::Item",
    "paginate::Layer",
    "paginate::Pen",
    "paginate::ScaleBar",
    "paginate::Sheet",
    "paginate::TickRow",
    "paginate::Tile",
    "paginate::Tone",
    "paginate::bold_stroke",
    "words::Units",
];

/// The paths that a file uses of its own crate, those in braces one by one.
fn used(text: &str) -> Vec<String> {
    let mut all = Vec::new();
    for start in text.split("crate::").skip(1) {
        let path = |c: char| !(c.is_alphanumeric() || c == '_' || c == ':');
        let end = start.find(path).unwrap_or(start.len());
        let (stem, rest) = start.split_at(end);
        match rest.strip_prefix('{').and_then(|rest| rest.split_once('}')) {
            Some((names, _)) => {
                let names =
                    names.split(',').map(str::trim).filter(|name| !name.is_empty());
                all.extend(names.map(|name| format!("{stem}{name}")));
            }
            None => all.push(stem.to_owned()),
        }
    }
    all
}

/// What reads a file shares no code with what wrote it.
#[test]
fn the_reading_takes_nothing_from_the_writing() {
    let mut folders = vec![std::path::PathBuf::from(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/src/verify"
    ))];
    let mut files = 0;
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
                continue;
            }
            files += 1;
            let text = std::fs::read_to_string(&path).unwrap();
            let is_code = |line: &&str| !line.trim_start().starts_with("//");
            let text: String = text.lines().filter(is_code).collect();
            assert!(!text.contains("printpdf"), "{path:?}");
            for used in used(&text) {
                let taken = TAKEN.iter().any(|own| used.starts_with(own));
                assert!(taken, "{path:?} uses crate::{used}");
            }
        }
    }
    assert!(files > 12, "only {files} files were looked at");
}

/// Without a job a print that was fitted to its page is found by its bars, and so is a bar
/// that is not there.
#[test]
fn sheets_are_held_against_their_own_bars() {
    let drawn = belts_on(&["a4"]).remove(0);
    for (scale, severity) in
        [(0.85, Some(Severity::Error)), (0.97, Some(Severity::Warning)), (1.0, None)]
    {
        let mut file = Open::file(&drawn.bytes);
        file.map(0, [scale, 0.0, 0.0, scale, 20.0, 20.0]);
        let alone = verify_alone(&[("print.pdf", &file.bytes())]).unwrap();
        let scaled = alone.findings.iter().find(|f| f.rule.as_str() == "sheet-scaled");
        assert_eq!(scaled.map(|f| f.severity), severity, "{}", words(&alone.findings));
    }
    let fault = FAULTS.iter().find(|fault| fault.name == "no bar").unwrap();
    let mut file = Open::file(&drawn.bytes);
    (fault.plant)(&mut file, &drawn);
    let alone = verify_alone(&[("print.pdf", &file.bytes())]).unwrap();
    assert!(rules(&alone.findings).contains("bar-missing"), "{}", words(&alone.findings));
}

/// A piece that is wider than a sheet is put together from its grid of tiles.
#[test]
fn a_wide_piece_reads_back_clean() {
    let pad =
        "template = \"plain-strap\"\ntitle = \"Knee pad\"\nstrap.width = \"320 mm\"\n";
    for paper in ["a4", "letter"] {
        let drawn = drawn("knee-pad", pad, paper);
        assert!(!drawn.set.lengthwise_joins.is_empty(), "it is joined along its length");
        let found = exactly(&drawn, &drawn.bytes);
        assert!(found.is_empty(), "{paper}\n{}", words(&found));
        let report = by_ink(&drawn, &drawn.bytes);
        assert!(report.findings.is_empty(), "{paper}\n{}", words(&report.findings));
        assert_eq!(report.marks.len(), 5, "{paper}");
    }
}

/// On a sheet that shows little more than a tip there is no edge for a ruler.
#[test]
fn a_belt_on_many_small_sheets_reads_back_clean() {
    let belt = "template = \"belt\"\nmeasure.value = \"34 in\"\n";
    let drawn = drawn("belt", belt, "100x100mm");
    let found = exactly(&drawn, &drawn.bytes);
    assert!(found.is_empty(), "{}", words(&found));
}
