//! `calibrate` and `draw --printer` as a person meets them.

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

/// What cannot be told from a true print goes into no file, and an older one stays.
#[test]
fn what_cannot_be_told_from_true_is_not_written() {
    let folder = folder();
    let at = |args: &[&str]| run(folder.path(), args);
    let near = ["--wide-bar", "259.8 mm", "--tall-bar", "160 mm", "--strip", "1100 mm"];
    let made = at(&[&["calibrate"], &near[..]].concat());
    assert_eq!(made.code, Some(0), "{}", made.err);
    for words in
        ["note[nothing-to-correct]", "no printer file was written: none is needed"]
    {
        assert!(made.err.contains(words), "{words}: {}", made.err);
    }
    assert!(!made.err.contains("should now be true"), "{}", made.err);
    let margin = at(&[&["calibrate"], &near[..], &["--margin", "5 mm"]].concat());
    assert_eq!(margin.code, Some(0), "{}", margin.err);
    let text = fs::read_to_string(folder.path().join("printer.toml")).unwrap();
    assert!(text.contains("margin = \"5 mm\"") && text.contains("by = 1\n"), "{text}");
}

/// The strip of another job is read as a printer that no bar agrees with.
#[test]
fn the_strip_of_another_job_is_asked_after() {
    let folder = folder();
    let reads = ["--wide-bar", "260 mm", "--tall-bar", "160 mm", "--strip", "1040 mm"];
    let ran = run(folder.path(), &[&["calibrate"], &reads[..]].concat());
    assert_eq!(ran.code, Some(1), "{}", ran.err);
    for words in ["error[readings-disagree]", "name the job"] {
        assert!(ran.err.contains(words), "{words}: {}", ran.err);
    }
}

/// Axes that are far apart are a slip until a person says that they are not.
#[test]
fn axes_far_apart_are_written_on_demand_alone() {
    let folder = folder();
    let reads = ["calibrate", "--wide-bar", "257 mm", "--tall-bar", "163 mm"];
    let refused = run(folder.path(), &reads);
    assert_eq!(refused.code, Some(1), "{}", refused.err);
    for words in ["error[axes-apart]", "--axes-apart", "no printer file was written"] {
        assert!(refused.err.contains(words), "{words}: {}", refused.err);
    }
    assert!(!folder.path().join("printer.toml").exists());
    let told = run(folder.path(), &[&reads[..], &["--axes-apart"]].concat());
    assert_eq!(told.code, Some(0), "{}", told.err);
    assert!(told.err.contains("warning[axes-apart]"), "{}", told.err);
    let drawn = run(folder.path(), &["draw", "--printer", "printer.toml"]);
    assert_eq!(drawn.code, Some(0), "{}", drawn.err);
}

/// A fit belongs to one page.
#[test]
fn a_fit_is_for_its_own_paper_alone() {
    let folder = folder();
    let at = |args: &[&str]| run(folder.path(), args);
    let rack = "template = \"belt\"\n[measure]\ntaken = \"bend-to-hole\"\nvalue = \
                \"34 in\"\n[stock]\nsizes = \"28 to 40 in by 2 in\"\n";
    fs::write(folder.path().join("rack.toml"), rack).unwrap();
    let fit = ["--wide-bar", "249.3 mm", "--tall-bar", "153.4 mm", "--cannot-switch-off"];
    let made = at(&[&["calibrate"], &fit[..], &["-o", "fit.toml"]].concat());
    assert_eq!(made.code, Some(0), "{}", made.err);
    let bars = ["--wide-bar", "230 mm", "--tall-bar", "160 mm"];
    let letter = ["--printer", "fit.toml", "--paper", "letter"];
    let last = at(&["draw", "rack.toml", "--paper", "letter", "--size", "34"]);
    assert_eq!(last.code, Some(0), "{}", last.err);
    for args in [
        [&["draw"], &letter[..]].concat(),
        [&["calibrate"], &letter[..], &bars].concat(),
        [&["reprint", "rack.toml", "--size", "36", "--against", "34"], &letter[..]]
            .concat(),
    ] {
        let ran = at(&args);
        assert_eq!(ran.code, Some(1), "{args:?}: {}", ran.err);
        assert!(ran.err.contains("error[other-paper]"), "{args:?}: {}", ran.err);
    }
}

/// Both readings after one flag have places of their own.
#[test]
fn a_diagonal_that_is_a_slip_is_pointed_at() {
    let folder = folder();
    let bars = ["--wide-bar", "258 mm", "--tall-bar", "158 mm"];
    let ran = run(
        folder.path(),
        &[&["calibrate"], &bars[..], &["--diagonals", "33 mm", "34 mm"]].concat(),
    );
    assert_eq!(ran.code, Some(1), "{}", ran.err);
    for words in ["--diagonals:1:1", "--diagonals:1:9", "lower left corner mark"] {
        assert!(ran.err.contains(words), "{words}: {}", ran.err);
    }
    assert!(!ran.err.contains("skewed"), "{}", ran.err);
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
        (&["draw", "--ruler-class", "iv"][..], 2, "class I, II or III"),
        (&["draw", "--resolution", "0 mm"][..], 2, "not between 0.01 mm and 5 mm"),
        (&["draw", "--resolution", "-1 mm"][..], 2, "-1 mm is not between"),
        (&["draw", "--join", "-1 mm"][..], 2, "-1 mm is not between 0.01 mm and 5 mm"),
        (&["draw", "--paper", "-5x5mm"][..], 2, "a side of -5 mm"),
        (&["calibrate", "--paper", "-5x5mm"][..], 2, "a side of -5 mm"),
        (&["calibrate", "--wide-bar", "-5 mm", "--tall-bar", "1 mm"][..], 1, "239.2 to"),
        (&["calibrate", "--wide-bar", "1 mm", "--tall-bar", "-5 mm"][..], 1, "147.2 to"),
    ] {
        let ran = run(folder.path(), args);
        assert_eq!(ran.code, Some(code), "{args:?}: {}", ran.err);
        assert!(ran.err.contains(words), "{args:?}: {}", ran.err);
    }
    for (more, words) in [
        (&["--margin", "1 mm"][..], "not a length from 3 mm to 40 mm"),
        (&["--margin", "-4 mm"][..], "not a length from 3 mm to 40 mm"),
        (&["--name", "漢"][..], "--name"),
        (&["--paper", "roll", "--strip", "1100 mm"][..], "has no joins"),
    ] {
        let ran = run(folder.path(), &[&["calibrate"], &bars[..], more].concat());
        assert_eq!(ran.code, Some(2), "{more:?}: {}", ran.err);
        assert!(ran.err.contains(words), "{more:?}: {}", ran.err);
    }
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
}
