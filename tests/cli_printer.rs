//! `calibrate` and `draw --printer` as a person meets them.

#![expect(
    clippy::unwrap_used,
    clippy::disallowed_methods,
    reason = "a test may stop at what is not there, and its own files need not be whole"
)]

use std::fs;
use std::path::Path;
use std::process::Command;
use strapwright::diagnostic::Sources;
use strapwright::printer::{read, write};
use tempfile::TempDir;

struct Ran {
    code: Option<i32>,
    err: String,
}

fn run(folder: &Path, args: &[&str]) -> Ran {
    let mut command = Command::new(env!("CARGO_BIN_EXE_strapwright"));
    let output = command.current_dir(folder).args(args).output().unwrap();
    Ran { code: output.status.code(), err: String::from_utf8(output.stderr).unwrap() }
}

fn folder() -> TempDir {
    tempfile::tempdir().unwrap()
}

#[test]
fn calibrate_and_draw_go_hand_in_hand() {
    let folder = folder();
    let at = |args: &[&str]| run(folder.path(), args);
    let none = at(&["calibrate"]);
    assert_eq!(none.code, Some(2), "{}", none.err);
    for words in ["260 mm", "160 mm", "1100 mm", "--strip READ"] {
        assert!(none.err.contains(words), "{words}: {}", none.err);
    }
    let reads =
        ["--wide-bar", "257.5 mm", "--tall-bar", "159.5 mm", "--strip", "1090 mm"];
    let with = |more: &[&'static str]| [&["calibrate"], &reads[..], more].concat();
    let made = at(&with(&["-o", "front-desk.toml"]));
    assert_eq!(made.code, Some(0), "{}", made.err);
    let text = fs::read_to_string(folder.path().join("front-desk.toml")).unwrap();
    let printer = read(&mut Sources::default(), "p", &text).printer.unwrap();
    assert_eq!(write(&printer), text);
    assert_eq!(printer.correction.printer, "front-desk");
    let again = at(&with(&["-o", "front-desk.toml"]));
    assert_eq!(again.code, Some(3), "{}", again.err);

    let drawn = at(&["draw", "--printer", "front-desk.toml"]);
    assert_eq!(drawn.code, Some(0), "{}", drawn.err);
    for words in [
        "for printer front-desk: W×1.00922",
        "H×1.003135",
        "cross A to cross B: 1100 mm",
        "accept 1098.8 to 1101.2 mm",
        "by the printer file",
        "damp paper",
    ] {
        assert!(drawn.err.contains(words), "{words}: {}", drawn.err);
    }
    let other =
        at(&["draw", "--printer", "front-desk.toml", "--paper", "letter", "-o", "l.pdf"]);
    assert_eq!(other.code, Some(0), "{}", other.err);
    assert!(other.err.contains("warning[other-paper]"), "{}", other.err);

    // With a finer ruler the window is narrower: permitted up to 2 m 0.3, so
    // √(4/3 · 0.09 + 2 · 0.04 + 4 · 0.09) = 0.748.
    let fine = ["draw", "--ruler-class", "i", "--resolution", "0.2 mm", "-o", "f.pdf"];
    let fine = at(&fine);
    assert!(fine.err.contains("accept 1099.3 to 1100.7 mm"), "{}", fine.err);
}

#[test]
fn a_fit_to_the_page_is_undone_on_demand_alone() {
    let folder = folder();
    let reads = ["calibrate", "--wide-bar", "249.3 mm", "--tall-bar", "153.4 mm"];
    let refused = run(folder.path(), &reads);
    assert_eq!(refused.code, Some(1), "{}", refused.err);
    for words in ["Actual size", "100 %", "Fit", "--cannot-switch-off"] {
        assert!(refused.err.contains(words), "{words}: {}", refused.err);
    }
    assert!(!folder.path().join("printer.toml").exists());
    let told = run(folder.path(), &[&reads[..], &["--cannot-switch-off"]].concat());
    assert_eq!(told.code, Some(0), "{}", told.err);
    let drawn = run(folder.path(), &["draw", "--printer", "printer.toml"]);
    assert_eq!(drawn.code, Some(0), "{}", drawn.err);
    assert!(drawn.err.contains("Print fitted to the page"), "{}", drawn.err);
    assert!(!drawn.err.contains("100 %"), "{}", drawn.err);
}

#[test]
fn wrong_use_is_said_plainly() {
    let folder = folder();
    fs::write(folder.path().join("bad.toml"), "name = 3\n").unwrap();
    let bars = ["--wide-bar", "260 mm", "--tall-bar", "160 mm"];
    for (args, code, words) in [
        (&["draw", "--printer", "gone.toml"][..], 3, "gone.toml"),
        (&["draw", "--printer", "bad.toml"][..], 1, "printer-value"),
        (&["calibrate", "--printer", "bad.toml"][..], 1, "no printer file was written"),
        (&["calibrate", "--wide-bar", "260"][..], 2, "--tall-bar"),
        (&["calibrate", "--wide-bar", "260", "--tall-bar", "160 mm"][..], 2, "no unit"),
        (&["calibrate", "--diagonals", "330 mm"][..], 2, "FALLING"),
        (&["draw", "--ruler-class", "iv"][..], 2, "classes I, II and III"),
        (&["draw", "--resolution", "0 mm"][..], 2, "not between 0.01 mm and 5 mm"),
    ] {
        let ran = run(folder.path(), args);
        assert_eq!(ran.code, Some(code), "{args:?}: {}", ran.err);
        assert!(ran.err.contains(words), "{args:?}: {}", ran.err);
    }
    for (more, words) in [
        (&["--margin", "1 mm"][..], "not a length from 3 mm to 40 mm"),
        (&["--name", "漢"][..], "--name"),
        (&["--paper", "roll", "--strip", "1100 mm"][..], "has no joins"),
    ] {
        let ran = run(folder.path(), &[&["calibrate"], &bars[..], more].concat());
        assert_eq!(ran.code, Some(2), "{more:?}: {}", ran.err);
        assert!(ran.err.contains(words), "{more:?}: {}", ran.err);
    }
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
}
