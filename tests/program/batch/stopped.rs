//! A batch that ends before its time, and goes on.

use super::{batch, day, files, is_drawing, told};
use crate::common::program::{command, folder_with, is_pdf, run, run_with};
use std::collections::BTreeSet;
use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::Stdio;
use std::time::Duration;

/// Another build may draw otherwise, so it takes nothing for granted that the first has made:
/// the list of what was made gets other keys.
#[test]
#[cfg(unix)]
fn another_build_draws_anew() {
    let folder = folder_with("orders.csv", day(2));
    let args = ["batch", "orders.csv", "-o", "day"];
    let keys = || {
        let list =
            fs::read_to_string(folder.path().join("day/.strapwright.made")).unwrap();
        let lines = list.lines().filter(|line| line.contains(".pdf"));
        lines.map(ToOwned::to_owned).collect::<BTreeSet<String>>()
    };
    assert_eq!(run(folder.path(), &args).code, Some(0));
    let first = keys();
    assert_eq!(first.len(), 2);
    assert_eq!(run(folder.path(), &args).code, Some(0));
    assert_eq!(keys(), first);
    // What follows the end of a program is not read.
    let other = folder.path().join("other");
    fs::copy(env!("CARGO_BIN_EXE_strapwright"), &other).unwrap();
    fs::OpenOptions::new().append(true).open(&other).unwrap().write_all(b"2").unwrap();
    let mut by_other = std::process::Command::new(&other);
    by_other.current_dir(folder.path()).args(args);
    assert_eq!(run_with(by_other, b"").code, Some(0));
    assert!(keys().is_disjoint(&first));
}

/// A file that the list takes for right, and that shows another order, is found when kept files
/// are read back.
#[test]
fn kept_files_are_read_back_on_request() {
    let folder = folder_with("orders.csv", day(2));
    let args = ["orders.csv", "-o", "day", "--format", "json"];
    assert_eq!(batch(folder.path(), &args).code, Some(0));
    let at = |name: &str| folder.path().join("day").join(name);
    let right = fs::read(at("0.pdf")).unwrap();
    fs::copy(at("1.pdf"), at("0.pdf")).unwrap();
    let list = fs::read_to_string(at(".strapwright.made")).unwrap();
    let hash = |name: &str| {
        let line = list.lines().find(|line| line.ends_with(name)).unwrap();
        line.split(' ').nth(1).unwrap()
    };
    let list = list.replace(hash("0.pdf"), hash("1.pdf"));
    fs::write(at(".strapwright.made"), list).unwrap();
    let kept = |more: &[&str]| -> Vec<bool> {
        let ran = batch(folder.path(), &[&args[..], more].concat());
        assert_eq!(ran.code, Some(0), "{}", ran.err);
        told(&ran).iter().map(|(_, _, kept)| *kept).collect()
    };
    assert_eq!(kept(&[]), [true, true]);
    assert_eq!(kept(&["--check-kept"]), [false, true]);
    assert!(fs::read(at("0.pdf")).unwrap() == right);
}

#[test]
fn only_what_changed_is_drawn_again() {
    let folder = folder_with("orders.csv", day(6));
    let args = ["orders.csv", "-o", "day", "--format", "json"];
    let first = batch(folder.path(), &args);
    assert_eq!(first.code, Some(0), "{}", first.err);
    assert!(told(&first).iter().all(|(_, _, kept)| !kept));
    let day_folder = folder.path().join("day");
    let before = files(&day_folder);
    let written =
        |name: &str| fs::metadata(day_folder.join(name)).unwrap().modified().unwrap();
    let times: Vec<_> = (0..6).map(|i| written(&format!("{i}.pdf"))).collect();

    let again = batch(folder.path(), &args);
    assert!(told(&again).iter().all(|(_, status, kept)| status == "drawn" && *kept));
    assert!(files(&day_folder) == before);

    // One is changed, one is gone, one is put between, and one is no longer asked for.
    let table = day(6).replace("Order 1,", "Order one,").replace("5,cuff,", "six,cuff,");
    let table = table.replace("2,cuff", "new,belt,New,,90 cm\n2,cuff");
    fs::write(folder.path().join("orders.csv"), table).unwrap();
    fs::remove_file(day_folder.join("3.pdf")).unwrap();
    let third = batch(folder.path(), &args);
    let kept: Vec<(String, bool)> =
        told(&third).into_iter().map(|(order, _, kept)| (order, kept)).collect();
    let wanted = [
        ("0", true),
        ("1", false),
        ("new", false),
        ("2", true),
        ("3", false),
        ("4", true),
        ("six", false),
    ];
    assert_eq!(kept, wanted.map(|(order, kept)| (order.to_owned(), kept)));
    let after = files(&day_folder);
    for i in [0, 2, 4] {
        assert_eq!(written(&format!("{i}.pdf")), times[i], "{i} was not touched");
    }
    assert!(after["1.pdf"] != before["1.pdf"] && after["3.pdf"] == before["3.pdf"]);
    assert!(after["5.pdf"] == before["5.pdf"] && is_pdf(&after["new.pdf"]));

    // Another paper is another drawing; what is no longer asked for is named and left.
    let text = batch(folder.path(), &["orders.csv", "-o", "day", "--paper", "letter"]);
    assert!(!text.err.contains("there already"), "{}", text.err);
    assert!(text.err.contains("still there from earlier: 5.pdf"), "{}", text.err);

    // Without its list the batch knows its files by drawing them again.
    fs::remove_file(day_folder.join(".strapwright.made")).unwrap();
    let letter = ["orders.csv", "-o", "day", "--paper", "letter", "--format", "json"];
    let blind = batch(folder.path(), &letter);
    assert_eq!(blind.code, Some(0), "{}", blind.err);
    assert!(told(&blind).iter().all(|(_, _, kept)| *kept));
}

/// Kills a batch at one instant after another. Whatever is there then is whole, and the run
/// after that completes the folder as if nothing had been.
#[test]
fn a_batch_that_is_killed_leaves_whole_files_and_goes_on() {
    for merge in [false, true] {
        let folder = folder_with("orders.csv", day(24));
        let whole = ["orders.csv", "-o", "whole"];
        let cut = ["orders.csv", "-o", "cut"];
        let with = |args: &[&'static str]| -> Vec<&'static str> {
            args.iter().copied().chain(merge.then_some("--merge")).collect()
        };
        let ran = batch(folder.path(), &with(&whole));
        assert_eq!(ran.code, Some(0), "{}", ran.err);
        let wanted = files(&folder.path().join("whole"));
        let mut killed = 0;
        let mut delay = 7;
        for _ in 0..12 {
            let args = [&["batch"], &with(&cut)[..]].concat();
            let mut child = command(folder.path(), &args)
                .stdin(Stdio::null())
                .stdout(Stdio::null())
                .stderr(Stdio::null())
                .spawn()
                .unwrap();
            // Instants that differ from run to run and cover the whole of one.
            delay = (delay * 37 + 11) % 400;
            std::thread::sleep(Duration::from_millis(delay));
            killed += usize::from(child.try_wait().unwrap().is_none());
            child.kill().unwrap();
            child.wait().unwrap();
            check(&folder.path().join("cut"), &wanted);
            if delay % 3 == 0 {
                // Begin anew at times, so that the first moments are met too.
                fs::remove_dir_all(folder.path().join("cut")).unwrap_or_default();
            }
        }
        assert!(killed > 2, "{killed} were killed at work");
        let ran = batch(folder.path(), &with(&cut));
        assert_eq!(ran.code, Some(0), "{}", ran.err);
        let done = files(&folder.path().join("cut"));
        assert!(done == wanted, "{:?} {:?}", done.keys(), wanted.keys());
    }
}

/// Every file that is in its place is the one that belongs there; drafts are none.
fn check(folder: &Path, wanted: &std::collections::BTreeMap<String, Vec<u8>>) {
    if !folder.exists() {
        return;
    }
    for (name, bytes) in files(folder) {
        if !name.starts_with(".strapwright") {
            assert!(wanted.get(&name) == Some(&bytes), "{name} is torn");
        }
    }
}

/// A limit on the size of files stands for a disk that is full.
#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_stops_the_batch_and_harms_nothing() {
    let folder = folder_with("orders.csv", day(9));
    let reference = batch(folder.path(), &["orders.csv", "-o", "whole"]);
    assert_eq!(reference.code, Some(0), "{}", reference.err);
    let wanted = files(&folder.path().join("whole"));
    let sizes = || wanted.iter().filter(|(name, _)| is_drawing(name));
    let (least, most) = (
        sizes().map(|(_, b)| b.len()).min().unwrap(),
        sizes().map(|(_, b)| b.len()).max().unwrap(),
    );
    // Between the smallest and the largest drawing, in KiB.
    let limit = usize::midpoint(least, most) / 1_024;
    let script = format!(
        "trap '' XFSZ; ulimit -f {limit}; exec {} batch orders.csv -o full",
        env!("CARGO_BIN_EXE_strapwright")
    );
    let ran = std::process::Command::new("bash")
        .args(["-c", &script])
        .current_dir(folder.path())
        .output()
        .unwrap();
    let err = String::from_utf8(ran.stderr).unwrap();
    assert_eq!(ran.status.code(), Some(3), "{err}");
    assert!(
        err.contains("cannot write full/") && err.contains("the disk of full is full"),
        "{err}"
    );
    assert!(err.contains("run the same command again"), "{err}");
    let there = files(&folder.path().join("full"));
    let whole = there.iter().filter(|(name, _)| is_drawing(name));
    assert!(whole.clone().count() > 0, "some fit");
    check(&folder.path().join("full"), &wanted);
    assert!(!there.keys().any(|name| name.starts_with(".strapwright-")), "{there:?}");

    let ran = batch(folder.path(), &["orders.csv", "-o", "full"]);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    assert!(files(&folder.path().join("full")) == wanted);
}

#[cfg(unix)]
#[test]
fn a_folder_that_vanishes_is_said() {
    let folder = folder_with("orders.csv", day(300));
    let mut child = command(folder.path(), &["batch", "orders.csv", "-o", "day"])
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let day_folder = folder.path().join("day");
    let first = || {
        let names = fs::read_dir(&day_folder).into_iter().flatten().flatten();
        names.map(|e| e.file_name()).any(|n| n.to_string_lossy().ends_with(".pdf"))
    };
    while child.try_wait().unwrap().is_none() && !first() {
        std::thread::sleep(Duration::from_millis(2));
    }
    fs::rename(&day_folder, folder.path().join("moved")).unwrap();
    let output = child.wait_with_output().unwrap();
    let err = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(3), "{err}");
    assert!(err.contains("cannot write day/"), "{err}");
    assert!(!err.contains("panicked"), "{err}");
    for (name, bytes) in files(&folder.path().join("moved")) {
        assert!(name.starts_with(".strapwright") || is_pdf(&bytes), "{name}");
    }
}
