//! A file is whole or not there, whatever happens while it is written.

#![cfg(unix)]
use crate::common::program::{command, folder_with, is_pdf, names, run};
use rustix::process::{Pid, Signal, kill_process};
use std::fs;
use std::os::unix::fs::{PermissionsExt, symlink};
use std::os::unix::process::ExitStatusExt;
use std::path::Path;
use std::process::{Child, Command, ExitStatus, Output, Stdio};
use std::time::{Duration, Instant};
use tempfile::TempDir;

/// Whether any file in the folder is one that is being written.
fn is_writing(folder: &Path) -> bool {
    let entries = fs::read_dir(folder).unwrap();
    entries
        .flatten()
        .any(|e| e.file_name().to_string_lossy().starts_with(".strapwright-"))
}

/// Draws over `belt.pdf` and ends the program when `when` says so.
fn killed(folder: &TempDir, when: impl Fn(Duration) -> bool) -> ExitStatus {
    let mut command = command(folder.path(), &["draw", "--force", "-o", "belt.pdf"]);
    command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    let start = Instant::now();
    let mut child = command.spawn().unwrap();
    loop {
        if let Some(status) = child.try_wait().unwrap() {
            return status;
        }
        if when(start.elapsed()) {
            child.kill().unwrap();
            return child.wait().unwrap();
        }
    }
}

#[test]
fn a_killed_run_leaves_the_old_file_or_the_new_one() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("belt.pdf");
    let start = Instant::now();
    assert_eq!(run(folder.path(), &["draw", "-o", "belt.pdf"]).code, Some(0));
    let whole = start.elapsed();
    let new = fs::read(&path).unwrap();
    assert!(is_pdf(&new));
    let (mut ended, mut left) = (0, 0);
    let mut look = |status: ExitStatus, old: Option<&[u8]>| {
        ended += u32::from(!status.success());
        let found = fs::read(&path).ok();
        let is_old = found.as_deref() == old;
        assert!(is_old || found.as_deref() == Some(&new), "a torn file");
        left += u32::from(is_writing(folder.path()));
    };
    let before = |old: Option<&[u8]>| {
        for entry in fs::read_dir(folder.path()).unwrap() {
            fs::remove_file(entry.unwrap().path()).unwrap();
        }
        if let Some(bytes) = old {
            fs::write(&path, bytes).unwrap();
        }
    };
    for step in 0..12 {
        // Over a file and where there is none; at any time, and while it is written.
        let old = (step % 2 == 0).then_some(&b"what was there before"[..]);
        before(old);
        look(killed(&folder, |passed| passed >= whole * step / 10), old);
        before(old);
        look(killed(&folder, |_| is_writing(folder.path())), old);
    }
    assert!(ended >= 6, "only {ended} runs were ended before their time");
    // What an ended run leaves behind.
    fs::write(folder.path().join(".strapwright-aB3dE6gH.draft"), "half a drawing")
        .unwrap();
    let again = run(folder.path(), &["draw", "--force", "-o", "belt.pdf"]);
    assert_eq!((again.code, again.out()), (Some(0), ""), "{}", again.err);
    assert!(fs::read(&path).unwrap() == new);
    assert!(left <= ended, "a run that came to its end left {left} files");
    assert_eq!(names(&folder), ["belt.pdf"], "the next run clears drafts away");
}

const ORDERS: usize = 60;

/// A batch that has begun: the file is there.
fn begun(folder: &TempDir, flags: &[&str], file: &str) -> Child {
    let args = [&["batch", "orders.csv", "-o", "day"], flags].concat();
    let mut command = command(folder.path(), &args);
    command.env("RAYON_NUM_THREADS", "2").stdin(Stdio::null()).stderr(Stdio::piped());
    let mut child = command.spawn().unwrap();
    while !folder.path().join("day").join(file).exists() {
        assert!(child.try_wait().unwrap().is_none(), "it ended before {file}");
        std::thread::sleep(Duration::from_millis(1));
    }
    child
}

fn signalled(child: Child, signals: &[Signal]) -> Output {
    for signal in signals {
        kill_process(Pid::from_child(&child), *signal).unwrap();
        std::thread::sleep(Duration::from_millis(2));
    }
    child.wait_with_output().unwrap()
}

#[test]
fn a_batch_ends_in_good_order_by_the_first_signal_and_at_once_by_the_second() {
    let rows = (0..ORDERS).map(|n| format!("n{n},belt,{} in", 30 + n % 12));
    let table = ["order,template,measure.value".to_owned()].into_iter().chain(rows);
    let table = table.collect::<Vec<_>>().join("\n");
    let folder = folder_with("orders.csv", table);
    let at = |name: &str| folder.path().join("day").join(name);
    let ended = |done: &Output| {
        (done.status.signal(), String::from_utf8_lossy(&done.stderr).into_owned())
    };
    for signal in [Signal::INT, Signal::TERM] {
        let (by, words) = ended(&signalled(begun(&folder, &[], "n0.pdf"), &[signal]));
        assert_eq!(by, Some(signal.as_raw()), "{words}");
        let summary = fs::read_to_string(at("summary.csv")).unwrap();
        let drawn = summary.lines().count() - 1;
        assert!(words.contains(&format!("{} orders left", ORDERS - drawn)), "{words}");
        let pdfs = (0..ORDERS).filter(|n| at(&format!("n{n}.pdf")).exists()).count();
        assert!(pdfs == drawn && drawn < ORDERS, "{pdfs} files, {drawn} in the list");
        assert!(at("hardware.csv").exists() && !is_writing(&folder.path().join("day")));
        let again = run(folder.path(), &["batch", "orders.csv", "-o", "day"]);
        assert_eq!(again.code, Some(0), "{}", again.err);
        assert!(
            again.err.contains(&format!("{drawn} of them existed already")),
            "{}",
            again.err
        );
        fs::remove_dir_all(folder.path().join("day")).unwrap();
    }
    // The second comes too late where the orders at work are done before it.
    let ends_at_once = || {
        let child = begun(&folder, &[], "n0.pdf");
        let (by, words) = ended(&signalled(child, &[Signal::INT, Signal::TERM]));
        assert!(by.is_some(), "{words}");
        let is_listed = at("summary.csv").exists();
        fs::remove_dir_all(folder.path().join("day")).unwrap();
        !is_listed
    };
    assert!((0..20).any(|_| ends_at_once()), "the second signal is waited for");
    // The one file of all orders is not half a file.
    let child = begun(&folder, &["--merge"], ".strapwright.made");
    std::thread::sleep(Duration::from_millis(50));
    let (by, words) = ended(&signalled(child, &[Signal::INT]));
    assert_eq!(by, Some(Signal::INT.as_raw()), "{words}");
    assert!(words.contains("orders.pdf was not written"), "{words}");
    assert!(!at("orders.pdf").exists() && !at("summary.csv").exists());
}

/// The program under a limit to the size of its files, as on a disk that fills up.
fn limited(folder: &TempDir, script: &str) -> Output {
    let draw = "exec \"$0\" draw --force -o belt.pdf";
    Command::new("sh")
        .args(["-c", &format!("{script}; {draw}"), env!("CARGO_BIN_EXE_strapwright")])
        .current_dir(folder.path())
        .output()
        .unwrap()
}

#[test]
fn a_disk_that_fills_up_leaves_what_was_there() {
    let folder = folder_with("belt.pdf", "what was there before");
    let path = folder.path().join("belt.pdf");
    // Two blocks of 512 bytes. First the error is the program's to tell, then it is ended.
    let told = limited(&folder, "trap '' XFSZ; ulimit -f 2");
    let words = String::from_utf8(told.stderr).unwrap();
    assert_eq!(told.status.code(), Some(3), "{words}");
    for part in ["cannot write belt.pdf", "is full", "-o FILE"] {
        assert!(words.contains(part), "{words}");
    }
    assert_eq!(names(&folder), ["belt.pdf"]);
    let ended = limited(&folder, "ulimit -c 0; ulimit -f 2");
    assert!(ended.status.code().is_none_or(|code| code != 0));
    assert_eq!(fs::read(&path).unwrap(), b"what was there before");
}

#[test]
fn a_pipe_that_fills_up_is_told() {
    if !Path::new("/dev/full").exists() {
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let mut command = command(folder.path(), &["draw", "-o", "-", "--format=pdf"]);
    let full = fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
    let done = command.stdout(full).output().unwrap();
    let words = String::from_utf8(done.stderr).unwrap();
    assert_eq!(done.status.code(), Some(3), "{words}");
    assert!(words.contains("cannot write to standard output"), "{words}");
}

#[test]
fn a_folder_that_takes_no_file_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let said = |to: &str| {
        let done = run(folder.path(), &["draw", "--force", "-o", to]);
        assert_eq!(done.code, Some(3), "{to}: {}", done.err);
        assert!(done.err.contains(to) && done.err.contains("-o FILE"), "{}", done.err);
        done.err
    };
    assert!(said("gone/belt.pdf").contains("no folder gone"));
    fs::write(folder.path().join("file"), "no folder").unwrap();
    assert!(said("file/belt.pdf").contains("no folder file"));
    // A folder takes the file, unless its name is a folder's there too.
    fs::create_dir_all(folder.path().join("folder/demo-belt.pdf")).unwrap();
    assert!(said("folder").contains("is a folder"));
    // A device is written to, and stays one.
    for flags in [&["-o", "/dev/null"][..], &["-o", "/dev/null", "--force"]] {
        let args = [&["draw", "--format=pdf"], flags].concat();
        assert_eq!(run(folder.path(), &args).code, Some(0));
        assert!(!Path::new("/dev/null").is_file(), "a device was replaced");
    }

    let closed = folder.path().join("closed");
    fs::create_dir(&closed).unwrap();
    fs::set_permissions(&closed, fs::Permissions::from_mode(0o555)).unwrap();
    // The superuser writes everywhere; .ci/run has a disk that is read only for it.
    if fs::write(closed.join("probe"), "").is_err() {
        assert!(said("closed/belt.pdf").contains("no permission to write in closed"));
    }
    let left = names(&folder);
    assert_eq!(left, ["closed", "file", "folder"], "something was left behind");
}

#[test]
fn a_folder_that_goes_away_meanwhile_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let going = folder.path().join("going");
    fs::create_dir(&going).unwrap();
    let mut command = command(folder.path(), &["draw", "-", "-o", "going/belt.pdf"]);
    command.stdin(Stdio::piped()).stderr(Stdio::piped());
    let mut child = command.spawn().unwrap();
    // It waits for its job while the folder goes.
    fs::remove_dir(&going).unwrap();
    let mut stdin = child.stdin.take().unwrap();
    std::io::Write::write_all(&mut stdin, b"template = \"belt\"\n").unwrap();
    drop(stdin);
    let done = child.wait_with_output().unwrap();
    let words = String::from_utf8(done.stderr).unwrap();
    assert_eq!(done.status.code(), Some(3), "{words}");
    assert!(words.contains("no folder going"), "{words}");
    assert_eq!(names(&folder), [""; 0]);
}

#[test]
fn a_link_stays_a_link() {
    let folder = folder_with("true.pdf", "old");
    symlink("true.pdf", folder.path().join("belt.pdf")).unwrap();
    let done = run(folder.path(), &["draw", "--force", "-o", "belt.pdf"]);
    assert_eq!(done.code, Some(0), "{}", done.err);
    assert!(folder.path().join("belt.pdf").is_symlink());
    assert!(is_pdf(&fs::read(folder.path().join("true.pdf")).unwrap()));
    assert_eq!(names(&folder), ["belt.pdf", "true.pdf"]);
}

/// What a link leads to is written, the link itself never: not one to nothing, and not one
/// to what a process has open.
#[test]
fn links_and_streams_stay_what_they_are() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    symlink("real.pdf", at("belt.pdf")).unwrap();
    let drawn = run(folder.path(), &["draw", "-o", "belt.pdf"]);
    assert_eq!(drawn.code, Some(0), "{}", drawn.err);
    assert!(at("belt.pdf").is_symlink() && !at("real.pdf").is_symlink());
    let bytes = fs::read(at("real.pdf")).unwrap();
    symlink("a.pdf", at("b.pdf")).unwrap();
    symlink("b.pdf", at("a.pdf")).unwrap();
    let circle = run(folder.path(), &["draw", "-o", "a.pdf", "--force"]);
    assert_eq!(circle.code, Some(3), "{}", circle.err);
    assert!(circle.err.contains("lead in a circle"), "{}", circle.err);
    let piped =
        run(folder.path(), &["draw", "--format=pdf", "-o", "/dev/stdout", "--force"]);
    assert!(piped.out == bytes, "{}", piped.err);
    assert!(Path::new("/dev/stdout").is_symlink());
    let script = "exec \"$0\" draw --format=pdf -o /dev/fd/3 3>third.pdf";
    let mut shell = Command::new("sh");
    shell
        .args(["-c", script, env!("CARGO_BIN_EXE_strapwright")])
        .current_dir(folder.path());
    assert!(shell.status().unwrap().success());
    assert!(fs::read(at("third.pdf")).unwrap() == bytes);
    assert_eq!(names(&folder), ["a.pdf", "b.pdf", "belt.pdf", "real.pdf", "third.pdf"]);
}

/// A new file has the mode that the umask leaves, and one that is replaced keeps its own.
#[test]
fn modes_follow_the_umask_and_the_file() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("belt.pdf");
    let mode = || fs::metadata(&path).unwrap().permissions().mode() & 0o7777;
    for (umask, wanted) in [("022", 0o644), ("077", 0o600), ("002", 0o664)] {
        let _ = fs::remove_file(&path);
        assert!(limited(&folder, &format!("umask {umask}")).status.success());
        assert_eq!(mode(), wanted, "{umask}");
    }
    fs::set_permissions(&path, fs::Permissions::from_mode(0o4640)).unwrap();
    assert!(limited(&folder, "umask 022").status.success());
    assert_eq!(mode(), 0o640, "without the bit that changes who a program runs as");
}

/// A folder that is there takes the file under its own name; one that is not is named.
#[test]
fn a_folder_takes_the_file_under_its_own_name() {
    const RACK: &str = "template = \"belt\"\ntitle = \"Rack\"\nstock.sizes = [\"34 in\", \
                        \"36 in\"]\n";
    let folder = folder_with("rack.toml", RACK);
    fs::create_dir(folder.path().join("friday")).unwrap();
    let at = |args: &[&str]| run(folder.path(), args);
    for (args, made) in [
        (&["draw", "rack.toml", "-o", "friday"][..], "rack.pdf"),
        (&["draw", "rack.toml", "--size", "34", "-o", "."], "../rack.pdf"),
        (&["draw", "rack.toml", "-o", "friday/", "--nested"], "rack-nested.pdf"),
        (&["reprint", "rack.toml", "--size=36", "-o", "friday"], "rack-36-in.pdf"),
    ] {
        let ran = at(args);
        assert_eq!(ran.code, Some(0), "{args:?}: {}", ran.err);
        assert!(folder.path().join("friday").join(made).is_file(), "{args:?}");
        assert_eq!(at(args).code, Some(0), "its own print is drawn anew");
        let path = folder.path().join("friday").join(made);
        let drawn = fs::read(&path).unwrap();
        fs::write(&path, "a letter to keep").unwrap();
        let again = at(args);
        fs::write(&path, drawn).unwrap();
        assert_eq!(again.code, Some(3), "{args:?}: {}", again.err);
        let file = made.trim_start_matches("../");
        assert!(
            again.err.contains(file) && again.err.contains("--force"),
            "{}",
            again.err
        );
    }
    for args in [["draw", "-o", "gone/"], ["draw", "-o", "rack.toml/"]] {
        let gone = at(&args);
        assert_eq!(gone.code, Some(3), "{}", gone.err);
        let words = format!("there is no folder {}", args[2]);
        assert!(gone.err.contains(&words), "{}", gone.err);
    }
    for (flags, code, words) in [
        (["--size=36", "-o", "x.svg"], 2, "draw JOB -o FILE.svg"),
        (
            ["--size=36", "--after", "rack.toml"],
            3,
            "the PDF that was drawn last: --after",
        ),
    ] {
        let other = at(&[&["reprint", "rack.toml"], &flags[..]].concat());
        assert_eq!(other.code, Some(code), "{}", other.err);
        assert!(other.err.contains(words), "{}", other.err);
    }
    let whole = at(&["reprint", "rack.toml", "--all", "-o", "rack.toml"]);
    assert_eq!(whole.code, Some(3), "{}", whole.err);
    assert!(whole.err.contains("rack.toml is a file"), "{}", whole.err);
    assert_eq!(names(&folder), ["friday", "rack.pdf", "rack.toml"]);
}
