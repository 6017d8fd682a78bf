//! Running the program as a person or a script does.

#![expect(clippy::disallowed_methods, reason = "files of tests need not be whole")]

use std::fs;
use std::io::{ErrorKind, Write};
use std::path::Path;
use std::process::{Command, Stdio};
use tempfile::TempDir;

/// How it ended, and what it said.
pub(crate) struct Ran {
    pub(crate) code: Option<i32>,
    pub(crate) out: Vec<u8>,
    pub(crate) err: String,
}

impl Ran {
    pub(crate) fn out(&self) -> &str {
        std::str::from_utf8(&self.out).unwrap()
    }
}

pub(crate) fn command(folder: &Path, args: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_strapwright"));
    command.current_dir(folder).args(args);
    // No profile of whoever runs the tests.
    command.env("XDG_CONFIG_HOME", folder.join(".config"));
    for name in ["NO_COLOR", "CLICOLOR", "CLICOLOR_FORCE"] {
        command.env_remove(name);
    }
    command
}

pub(crate) fn run_with(mut command: Command, input: &[u8]) -> Ran {
    command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = command.spawn().unwrap();
    let mut stdin = child.stdin.take().unwrap();
    // A program that has no use for its input may be gone before it is written.
    match stdin.write_all(input) {
        Err(e) if e.kind() != ErrorKind::BrokenPipe => unreachable!("{e}"),
        _ => drop(stdin),
    }
    let output = child.wait_with_output().unwrap();
    Ran {
        code: output.status.code(),
        out: output.stdout,
        err: String::from_utf8(output.stderr).unwrap(),
    }
}

pub(crate) fn run(folder: &Path, args: &[&str]) -> Ran {
    run_with(command(folder, args), b"")
}

pub(crate) fn names(folder: &TempDir) -> Vec<String> {
    let entries = fs::read_dir(folder.path()).unwrap();
    let mut all: Vec<String> =
        entries.map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
    all.sort();
    all
}

pub(crate) fn folder_with(name: &str, text: impl AsRef<[u8]>) -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join(name), text).unwrap();
    folder
}

pub(crate) fn is_pdf(bytes: &[u8]) -> bool {
    bytes.starts_with(b"%PDF-") && bytes.trim_ascii_end().ends_with(b"%%EOF")
}
