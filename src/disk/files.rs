//! Names of files, reading them, and why one cannot be written.

use super::{Failure, Result};
use crate::diagnostic::shown_path;
use std::ffi::{OsStr, OsString};
use std::fs::File;
use std::io::{self, ErrorKind, Read};
use std::path::{Path, PathBuf};

/// The largest text that is read, in bytes; a job or a list of strips is far smaller.
const MAX_TEXT: u64 = 1 << 20;
/// The largest PDF that is read, in bytes; a print is far smaller.
pub(crate) const MAX_PDF: u64 = 64 << 20;

/// A text and its name in messages.
pub(crate) struct Text {
    pub(crate) name: String,
    pub(crate) text: String,
}

/// The name of a file without its ending; `default` for standard input.
pub(crate) fn stem(path: &OsStr, default: &str) -> String {
    let stem = Path::new(path).file_stem().filter(|_| path != "-");
    stem.map_or_else(|| default.to_owned(), |s| s.to_string_lossy().into_owned())
}

/// Checks that no two inputs come from standard input.
///
/// # Errors
/// When more than one path is `-`.
pub(crate) fn check_one_stdin<'p>(
    paths: impl IntoIterator<Item = &'p OsString>,
) -> Result {
    if paths.into_iter().filter(|path| *path == "-").count() > 1 {
        return Err(Failure::Usage(
            "only one input can come from standard input: give files for the others"
                .to_owned(),
        ));
    }
    Ok(())
}

/// Reads a UTF-8 text from a file, or from standard input for `-`, without its byte order
/// mark.
///
/// # Errors
/// When it cannot be read, is larger than 1 MiB or is not UTF-8.
pub(crate) fn read(path: &OsStr) -> Result<Text> {
    let (name, bytes) = read_bytes(path, MAX_TEXT)?;
    if bytes.len() as u64 > MAX_TEXT {
        return Err(Failure::System(format!(
            "{name} is larger than 1 MiB; a job or a list of strips is a short text"
        )));
    }
    let text = String::from_utf8(bytes).map_err(|e| {
        let at = e.utf8_error().valid_up_to();
        Failure::System(format!(
            "{name} is not UTF-8 text (byte {at}); save it again as UTF-8"
        ))
    })?;
    let text = text.strip_prefix('\u{feff}').map(ToOwned::to_owned).unwrap_or(text);
    Ok(Text { name, text })
}

/// Reads at most `max` + 1 bytes from a file, or from standard input for `-`. Returns the
/// name for messages too.
///
/// # Errors
/// When the file cannot be read.
pub(crate) fn read_bytes(path: &OsStr, max: u64) -> Result<(String, Vec<u8>)> {
    let mut bytes = Vec::new();
    let (name, read) = if path == "-" {
        let stdin = io::stdin().lock();
        ("standard input".to_owned(), stdin.take(max + 1).read_to_end(&mut bytes))
    } else {
        let read = File::open(path).and_then(|f| f.take(max + 1).read_to_end(&mut bytes));
        (shown_path(Path::new(path)), read)
    };
    let reason = match read {
        Ok(_) => return Ok((name, bytes)),
        Err(e) => match e.kind() {
            ErrorKind::NotFound => {
                "there is no such file; check its name and its folder".to_owned()
            }
            ErrorKind::IsADirectory => "it is a folder; give a file in it".to_owned(),
            ErrorKind::PermissionDenied => {
                "you have no permission to read it; change that, or copy it here"
                    .to_owned()
            }
            _ => format!("{e}; copy the file elsewhere and try again"),
        },
    };
    Err(Failure::System(format!("cannot read {name}: {reason}")))
}

/// Makes a folder, if it does not exist.
///
/// # Errors
/// When it cannot be made.
pub(crate) fn create_folder(path: &Path, way: &str) -> Result {
    std::fs::create_dir_all(path).map_err(|e| {
        let shown = shown_path(path);
        Failure::System(if path.is_file() {
            format!("{shown} is a file, not a folder; {way}")
        } else {
            let reason = write_error(&e, parent_folder(path), way);
            format!("cannot make the folder {shown}: {reason}")
        })
    })
}

/// The path of an output file: `output`; `name` in it if it is a folder; `name` in the
/// working folder if there is no `output`.
///
/// # Errors
/// When `output` ends like a folder and is none.
pub(crate) fn resolve(output: Option<&Path>, name: String) -> Result<PathBuf> {
    let Some(path) = output else { return Ok(PathBuf::from(name)) };
    if path.is_dir() {
        return Ok(path.join(name));
    }
    if path.as_os_str().to_string_lossy().ends_with(std::path::is_separator) {
        let path = shown_path(path);
        return Err(Failure::System(format!(
            "cannot write {path}{name}: there is no folder {path}; make it, or give -o FILE \
             elsewhere"
        )));
    }
    Ok(path.to_owned())
}

/// Whether a path is standard output: `-`, or what the system calls it.
pub(crate) fn is_stdout(path: &Path) -> bool {
    ["-", "/dev/stdout", "/dev/fd/1", "/proc/self/fd/1"]
        .iter()
        .any(|p| path == Path::new(p))
}

/// Whether a path leads to what is there already and is neither a file nor a folder: a pipe, a
/// device, or what another process has open. It is written to, and never replaced.
pub(crate) fn is_special(path: &Path) -> bool {
    let is_process = |path: &Path| {
        let folder = std::fs::canonicalize(parent_folder(path));
        folder.is_ok_and(|folder| folder.starts_with("/proc"))
    };
    path.metadata().is_ok_and(|there| !there.is_file() && !there.is_dir())
        || cfg!(unix)
            && path.exists()
            && follow(path).is_ok_and(|steps| steps.iter().any(|p| is_process(p)))
}

/// A path and what its links lead to, step by step. The last may not exist.
///
/// # Errors
/// When links lead in a circle.
pub(crate) fn follow(path: &Path) -> Result<Vec<PathBuf>> {
    let mut steps = vec![path.to_owned()];
    // As many as the system follows (Linux, path_resolution(7)).
    for _ in 0..40 {
        let last = &steps[steps.len() - 1];
        let Ok(to) = std::fs::read_link(last) else { return Ok(steps) };
        let next = parent_folder(last).join(to);
        steps.push(next);
    }
    Err(Failure::System(format!(
        "cannot write {}: its links lead in a circle; give -o FILE elsewhere",
        shown_path(path)
    )))
}

/// The bytes of a plain file that is no larger than any print; `None` for anything else.
pub(crate) fn read_plain(path: &Path) -> Option<Vec<u8>> {
    let is_print = |m: &std::fs::Metadata| m.is_file() && m.len() <= MAX_PDF;
    path.metadata().ok().filter(is_print)?;
    std::fs::read(path).ok()
}

/// Checks that no file would be replaced that must not be, before any work is done.
///
/// # Errors
/// When the file exists and `may_replace` is off.
pub(crate) fn check_free(path: &Path, may_replace: bool) -> Result {
    if may_replace || !path.exists() {
        return Ok(());
    }
    Err(Failure::System(format!(
        "{} exists already, is no print of this job as it was drawn, and was not changed; give \
         --force to replace it, or -o FILE to write another file",
        shown_path(path)
    )))
}

pub(crate) fn parent_folder(path: &Path) -> &Path {
    match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    }
}

/// `path` is the name in the message. The file would have been renamed to `target`.
pub(crate) fn not_written(
    path: &Path,
    target: &Path,
    way: &str,
    error: &io::Error,
) -> Failure {
    let reason = write_error(error, parent_folder(target), way);
    Failure::System(format!("cannot write {}: {reason}", shown_path(path)))
}

/// Why a file cannot be written, and what to do. The text of the error itself would name the
/// temporary file.
fn write_error(error: &io::Error, folder: &Path, way: &str) -> String {
    let folder = shown_path(folder);
    match error.kind() {
        ErrorKind::NotFound | ErrorKind::NotADirectory => {
            format!("there is no folder {folder}; make it, or {way}")
        }
        ErrorKind::ReadOnlyFilesystem => {
            format!("the disk of {folder} is read-only; {way}")
        }
        ErrorKind::PermissionDenied => {
            format!("you have no permission to write in {folder}; {way}")
        }
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded | ErrorKind::FileTooLarge => {
            format!(
                "the disk of {folder} is full; make room and run this again, or {way}"
            )
        }
        kind => format!("{kind}; {way}"),
    }
}
