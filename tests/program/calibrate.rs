//! `calibrate` and `draw --printer` as a person meets them.

use std::fs;
use std::path::Path;
use std::process::Command;
use strapwright::diagnostic::Sources;
use strapwright::printer::{Printer, read, write};
use tempfile::TempDir;

struct Ran {
    code: Option<i32>,
    out: String,
    err: String,
}

fn run(folder: &Path, args: &[&str]) -> Ran {
    let mut command = Command::new(env!("CARGO_BIN_EXE_strapwright"));
    let output = command.current_dir(folder).args(args).output().unwrap();
    let [out, err] =
        [output.stdout, output.stderr].map(|b| String::from_utf8(b).unwrap());
    Ran { code: output.status.code(), out, err }
}

/// A folder with a print of the demo belt.
fn folder() -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    let drawn = run(folder.path(), &["draw", "-o", "belt.pdf"]);
    assert_eq!(drawn.code, Some(0), "{}", drawn.err);
    folder
}

fn holds(text: &str, parts: &[&str]) {
    for part in parts {
        assert!(text.contains(part), "{part}: {text}");
    }
}

const READ: [&str; 8] = [
    "calibrate",
    "belt.pdf",
    "--wide-bar",
    "257.5 mm",
    "--tall-bar",
    "159.5 mm",
    "--strip",
    "1090 mm",
];

fn printer(folder: &TempDir, name: &str) -> Printer {
    let text = fs::read_to_string(folder.path().join(name)).unwrap();
    let printer = read(&mut Sources::default(), "p", &text).printer.unwrap();
    assert_eq!(write(&printer), text);
    printer
}

#[test]
fn calibrate_and_draw_go_hand_in_hand() {
    let folder = folder();
    let at = |args: &[&str]| run(folder.path(), args);
    let none = at(&["calibrate", "belt.pdf"]);
    assert_eq!(none.code, Some(2), "{}", none.err);
    holds(&none.err, &["260 mm", "160 mm", "1100 mm", "--strip READ"]);
    // Without a printer file there is the verdict alone, and its words come first.
    let verdict = at(&READ);
    assert_eq!(verdict.code, Some(1), "{}", verdict.err);
    assert!(
        verdict.out.starts_with("Do not punch: this print is at 99.09 %"),
        "{}",
        verdict.out
    );
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);

    let desk = [&READ[..], &["--printer", "front-desk.toml"]].concat();
    let made = at(&desk);
    assert_eq!(made.code, Some(0), "{}", made.err);
    let first = printer(&folder, "front-desk.toml");
    assert_eq!(first.correction.printer, "front-desk");
    let drawn = at(&["draw", "--printer", "front-desk.toml", "-o", "desk.pdf"]);
    assert_eq!(drawn.code, Some(0), "{}", drawn.err);
    holds(
        &drawn.err,
        &[
            "for printer front-desk: long edge ×1.009224",
            "short edge ×1.003135",
            "line A to line B: 1100 mm",
            "accept 1098.8 to 1101.2 mm",
            "by the printer file",
            "damp paper",
        ],
    );
    // The next reading is on a print for that file, and makes it surer.
    let mut next = READ;
    [next[1], next[3], next[5], next[7]] = ["desk.pdf", "260 mm", "150 mm", "1100.3 mm"];
    let kept = ["--printer", "front-desk.toml", "--note", "two", "--stock", "ivory"];
    let second = at(&[&next[..], &kept].concat());
    assert_eq!(second.code, Some(0), "{}", second.err);
    assert!(second.out.starts_with("Punch. Last hole within 1."), "{}", second.out);
    let both = printer(&folder, "front-desk.toml");
    assert_eq!(both.readings.len(), 2);
    assert_eq!(both.readings[1].note, "two");
    assert!(both.correction.long.proven < first.correction.long.proven);

    let letter = ["--paper", "letter", "-o", "l.pdf"];
    let other = at(&[&["draw", "--printer", "front-desk.toml"], &letter[..]].concat());
    assert_eq!(other.code, Some(0), "{}", other.err);
    assert!(other.err.contains("warning[other-paper]"), "{}", other.err);
    assert!(!other.err.contains("mm by the printer file"), "{}", other.err);

    // With a finer ruler the window is narrower: permitted up to 2 m 0.3, so
    // √(4/3 · 0.09 + 2 · 0.04 + 4 · 0.09) = 0.748.
    let fine = ["draw", "--ruler-class", "i", "--resolution", "0.2 mm", "-o", "f.pdf"];
    let fine = at(&fine);
    assert!(fine.err.contains("accept 1099.3 to 1100.7 mm"), "{}", fine.err);
}

#[test]
fn a_fit_to_the_page_is_undone_on_demand_alone() {
    let folder = folder();
    let at = |args: &[&str]| run(folder.path(), args);
    let reads = ["calibrate", "belt.pdf", "--wide-bar=249.3 mm", "--tall-bar=153.4 mm"];
    let kept = [&reads[..], &["--printer", "phone.toml"]].concat();
    let refused = at(&kept);
    assert_eq!(refused.code, Some(1), "{}", refused.err);
    holds(&refused.out, &["the bars read 95.9 %", "Actual size", "--cannot-switch-off"]);
    assert!(!folder.path().join("phone.toml").exists());
    let told = at(&[&kept[..], &["--cannot-switch-off"]].concat());
    assert_eq!(told.code, Some(0), "{}", told.err);
    let drawn = at(&["draw", "--printer", "phone.toml"]);
    assert_eq!(drawn.code, Some(0), "{}", drawn.err);
    assert!(drawn.err.contains("Print fitted to the page"), "{}", drawn.err);
    assert!(!drawn.err.contains("100 %"), "{}", drawn.err);
    // A print at 100 % does not go into the same file.
    let other = at(&[&READ[..], &["--printer", "phone.toml"]].concat());
    assert_eq!(other.code, Some(1), "{}", other.err);
    holds(&other.err, &["error[other-fit]", "the reading was not added"]);
    // A fit belongs to one page.
    let letter = at(&["draw", "--printer", "phone.toml", "--paper", "letter"]);
    assert_eq!(letter.code, Some(1), "{}", letter.err);
    assert!(letter.err.contains("error[other-paper]"), "{}", letter.err);
}

/// The print of its own: on any sheet and on a roll, read to 0.1 mm without a word about that.
#[test]
fn the_calibration_print_makes_a_printer_file() {
    let folder = tempfile::tempdir().unwrap();
    let at = |args: &[&str]| run(folder.path(), args);
    for paper in ["a4", "a3", "letter", "legal", "tabloid", "roll"] {
        let file = format!("{paper}.pdf");
        let drawn = at(&["calibrate", "--print", "--paper", paper, "-o", &file]);
        assert_eq!(drawn.code, Some(0), "{}", drawn.err);
    }
    let small = at(&["calibrate", "--print", "--paper", "150x200mm"]);
    assert_eq!(small.code, Some(2), "{}", small.err);
    assert!(small.err.contains("too small"), "{}", small.err);
    let asked = at(&["calibrate", "a4.pdf"]);
    let names = [
        "line 0 to line 200 along the strip, 200 mm",
        "joined strip, line 0 to line 900",
    ];
    holds(&asked.err, &names);
    let bars = ["--wide-bar=199 mm", "--tall-bar=120.3 mm", "--strip=895.5 mm"];
    let read = [&["calibrate", "a4.pdf", "--printer", "desk.toml"], &bars[..]].concat();
    let made = at(&read);
    assert_eq!(made.code, Some(0), "{}", made.err);
    let long = printer(&folder, "desk.toml").readings[0].long;
    // Strip ×1.005025, √(4/3 · 0.25 + 2 · 0.01 + 3 · 0.09) / 900 = 0.0877 %; part ×1.005025.
    assert_eq!(long.by.to_string(), "1.005025");
    assert!((850..=880).contains(&long.proven.millionths()), "{long:?}");
    let again = &["calibrate", "--print", "--paper", "a4", "-o", "a4.pdf"];
    assert_eq!(at(again).code, Some(0), "its own print is drawn anew");
    fs::write(folder.path().join("a4.pdf"), "a letter to keep").unwrap();
    assert_eq!(at(again).code, Some(3));
}

/// What differs from the log by more than noise is asked after, and a change is confirmed.
#[test]
fn a_change_of_the_printer_is_confirmed() {
    let folder = folder();
    let desk = ["--printer", "desk.toml"];
    let at = |more: &[&str]| run(folder.path(), &[&READ[..], &desk, more].concat());
    assert_eq!(at(&[]).code, Some(0));
    let mut serviced = [&READ[..], &desk].concat();
    serviced[7] = "1098 mm";
    serviced[3] = "259.5 mm";
    let ran = run(folder.path(), &serviced);
    assert_eq!(ran.code, Some(1), "{}", ran.err);
    holds(&ran.err, &["error[printer-changed]", "--anew"]);
    assert_eq!(printer(&folder, "desk.toml").readings.len(), 1);
    serviced.push("--anew");
    let ran = run(folder.path(), &serviced);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    let known = printer(&folder, "desk.toml");
    assert_eq!(known.readings.len(), 2);
    assert!(known.correction.long.by.millionths() < 1_002_500, "{known:?}");
}

/// A file that is written in by hand keeps what is in it.
#[test]
fn the_words_of_a_file_stay() {
    let folder = folder();
    let desk = [&READ[..], &["--printer", "desk.toml"]].concat();
    assert_eq!(run(folder.path(), &desk).code, Some(0));
    let path = folder.path().join("desk.toml");
    let text = fs::read_to_string(&path).unwrap() + "# third shelf\n";
    fs::write(&path, &text).unwrap();
    let twice = run(folder.path(), &desk);
    assert_eq!(twice.code, Some(1), "{}", twice.err);
    holds(&twice.err, &["error[same-reading]"]);
    let mut other = desk.clone();
    other[3] = "257.6 mm";
    assert_eq!(run(folder.path(), &other).code, Some(0));
    let more = fs::read_to_string(&path).unwrap();
    assert!(more.starts_with(&text) && more.len() > text.len(), "{more}");
    fs::write(&path, text.replace("long = 1.009", "long = 0.95")).unwrap();
    let ran = run(folder.path(), &desk);
    assert_eq!(ran.code, Some(1), "{}", ran.err);
    holds(&ran.err, &["error[implausible-scale]", "the reading was not added"]);
}

#[test]
fn wrong_use_is_said_plainly() {
    let folder = folder();
    fs::write(folder.path().join("bad.toml"), "name = 3\n").unwrap();
    let roll = ["draw", "--paper", "roll", "-o", "roll.pdf"];
    assert_eq!(run(folder.path(), &roll).code, Some(0));
    let bars = ["--wide-bar", "257 mm", "--tall-bar", "159 mm"];
    for (args, code, words) in [
        (&["draw", "--printer", "gone.toml"][..], 3, "gone.toml"),
        (&["draw", "--printer", "bad.toml"][..], 1, "printer-value"),
        (&["calibrate"], 2, "PRINT"),
        (&["calibrate", "gone.pdf"], 3, "gone.pdf"),
        (&["calibrate", "bad.toml"], 3, "it is no PDF"),
        (&["calibrate", "belt.pdf", "--wide-bar", "260 mm"], 2, "--tall-bar"),
        (&["calibrate", "belt.pdf", "--wide-bar", "260"], 2, "no unit"),
        (&["calibrate", "belt.pdf", "--diagonals", "330 mm"], 2, "FALLING"),
        (&["calibrate", "belt.pdf", "--anew"], 2, "--printer"),
        (&["draw", "--ruler-class", "iv"][..], 2, "class I, II or III"),
        (&["draw", "--resolution", "0 mm"][..], 2, "not between 0.01 mm and 5 mm"),
        (&["draw", "--resolution", "-1 mm"][..], 2, "-1 mm is not between"),
        (&["draw", "--join", "-1 mm"][..], 2, "-1 mm is not between 0.01 mm and 5 mm"),
        (&["draw", "--paper", "-5x5mm"][..], 2, "a side of -5 mm"),
    ] {
        let ran = run(folder.path(), args);
        assert_eq!(ran.code, Some(code), "{args:?}: {}", ran.err);
        assert!(ran.err.contains(words), "{args:?}: {}", ran.err);
    }
    for (file, more, code, words) in [
        ("belt.pdf", &["--margin", "1 mm"][..], 2, "not a length from 3 mm to 40 mm"),
        ("belt.pdf", &["--margin", "-4 mm"], 2, "not a length from 3 mm to 40 mm"),
        ("belt.pdf", &["--name", "漢"], 2, "--name"),
        ("belt.pdf", &["--printer", "-"], 2, "not standard input"),
        ("belt.pdf", &["--printer", "bad.toml"], 1, "the reading was not added"),
        ("roll.pdf", &["--strip", "1100 mm"], 2, "no piece of this print has joins"),
    ] {
        let printer = ["--printer", "new.toml"];
        let printer = if more[0] == "--printer" { &[][..] } else { &printer };
        let args = [&["calibrate", file], &bars[..], printer, more].concat();
        let ran = run(folder.path(), &args);
        assert_eq!(ran.code, Some(code), "{more:?}: {}", ran.err);
        assert!(ran.err.contains(words), "{more:?}: {}", ran.err);
    }
    assert!(!folder.path().join("new.toml").exists());
}
