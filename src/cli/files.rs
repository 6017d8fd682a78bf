//! Reading job files, and writing files that are whole or not there.

use super::{Failure, Result};
use sha2::{Digest, Sha256};
use std::ffi::{OsStr, OsString};
use std::fs::File;
use std::io::{self, BufWriter, ErrorKind, Read, Write};
use std::path::{Path, PathBuf};
use tempfile::NamedTempFile;

/// The largest text that is read, in bytes; a job or a list of strips is far smaller.
const MAX_TEXT: u64 = 1 << 20;
/// The largest PDF that is read, in bytes; a print is far smaller.
pub(super) const MAX_PDF: u64 = 64 << 20;

/// A text and its name in messages.
pub(crate) struct Text {
    pub(crate) name: String,
    pub(crate) text: String,
}

/// The name of a file without its ending; `default` for standard input.
pub(super) fn stem(path: &OsStr, default: &str) -> String {
    let stem = Path::new(path).file_stem().filter(|_| path != "-");
    stem.map_or_else(|| default.to_owned(), |s| s.to_string_lossy().into_owned())
}

/// Checks that no two inputs come from standard input.
///
/// # Errors
/// When more than one path is `-`.
pub(super) fn check_one_stdin<'p>(
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
pub(super) fn read_bytes(path: &OsStr, max: u64) -> Result<(String, Vec<u8>)> {
    let mut bytes = Vec::new();
    let (name, read) = if path == "-" {
        let stdin = io::stdin().lock();
        ("standard input".to_owned(), stdin.take(max + 1).read_to_end(&mut bytes))
    } else {
        let read = File::open(path).and_then(|f| f.take(max + 1).read_to_end(&mut bytes));
        (path.to_string_lossy().into_owned(), read)
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
pub(crate) fn create_folder(path: &Path) -> Result {
    std::fs::create_dir_all(path).map_err(|e| {
        let shown = path.display();
        Failure::System(if path.is_file() {
            format!("{shown} is a file, not a folder; give -o FOLDER elsewhere")
        } else {
            let reason = write_error(&e, parent_folder(path), "-o FOLDER");
            format!("cannot make the folder {shown}: {reason}")
        })
    })
}

/// The path of an output file: `output`; `name` in it if it is a folder; `name` in the
/// working folder if there is no `output`.
///
/// # Errors
/// When `output` ends like a folder and is none.
pub(super) fn resolve(output: Option<&Path>, name: String) -> Result<PathBuf> {
    let Some(path) = output else { return Ok(PathBuf::from(name)) };
    if path.is_dir() {
        return Ok(path.join(name));
    }
    if path.as_os_str().to_string_lossy().ends_with(std::path::is_separator) {
        let path = path.display();
        return Err(Failure::System(format!(
            "cannot write {path}{name}: there is no folder {path}; make it, or give -o FILE \
             elsewhere"
        )));
    }
    Ok(path.to_owned())
}

/// Checks that no file would be replaced, before any work is done.
///
/// # Errors
/// When the file exists and `force` is off.
pub(super) fn check_free(path: &Path, force: bool) -> Result {
    if !force && path.exists() { Err(file_exists(path)) } else { Ok(()) }
}

fn file_exists(path: &Path) -> Failure {
    Failure::System(format!(
        "{} exists already and was not changed; give --force to replace it, or -o FILE to \
         write another file",
        path.display()
    ))
}

/// The names of unfinished files begin with this.
pub(super) const TEMP_PREFIX: &str = ".strapwright-";
/// The number of letters after it in a batch. A batch removes what an earlier batch left.
pub(super) const BATCH_LETTERS: usize = 6;
/// The number of letters for other files. A batch leaves those alone: another run may be
/// writing them.
const FILE_LETTERS: usize = 8;

/// A file that is written under a temporary name and then renamed, so that it is whole or
/// does not exist. A run that is killed may leave the temporary file.
pub(super) struct AtomicFile {
    /// Its path in messages.
    path: PathBuf,
    /// The path that it is renamed to.
    target: PathBuf,
    /// The option that gives another path.
    option: &'static str,
    file: BufWriter<NamedTempFile>,
    hash: Sha256,
}

impl AtomicFile {
    /// Begins a file of a batch. A link at `path` will be replaced.
    ///
    /// # Errors
    /// When the temporary file cannot be made.
    pub(super) fn in_batch(path: &Path) -> Result<Self> {
        Self::new(path, path.to_owned(), "-o FOLDER", BATCH_LETTERS)
    }

    fn new(
        path: &Path,
        target: PathBuf,
        option: &'static str,
        letters: usize,
    ) -> Result<Self> {
        let file = tempfile::Builder::new()
            .prefix(TEMP_PREFIX)
            .rand_bytes(letters)
            .tempfile_in(parent_folder(&target))
            .map_err(|e| not_written(path, &target, option, &e))?;
        let (path, file, hash) = (path.to_owned(), BufWriter::new(file), Sha256::new());
        Ok(Self { path, target, option, file, hash })
    }

    /// The failure to report when it cannot be written.
    pub(super) fn failure(&self, error: &io::Error) -> Failure {
        not_written(&self.path, &self.target, self.option, error)
    }

    /// The SHA-256 of what was written so far.
    pub(super) fn hash(&self) -> [u8; 32] {
        self.hash.clone().finalize().into()
    }

    /// Renames it to its path. Returns the open file.
    ///
    /// # Errors
    /// When it cannot be written, or its path is taken and `force` is off.
    pub(super) fn persist(self, force: bool) -> Result<File> {
        let Self { path, target, option, file, hash: _ } = self;
        let fail = |e: &io::Error| not_written(&path, &target, option, e);
        let file = file.into_inner().map_err(|e| fail(e.error()))?;
        make_readable(file.as_file()).map_err(|e| fail(&e))?;
        file.as_file().sync_all().map_err(|e| fail(&e))?;
        let renamed =
            if force { file.persist(&target) } else { file.persist_noclobber(&target) };
        renamed.map_err(|e| match e.error.kind() {
            ErrorKind::AlreadyExists => file_exists(&path),
            _ => fail(&e.error),
        })
    }
}

impl Write for AtomicFile {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let written = self.file.write(bytes)?;
        self.hash.update(&bytes[..written]);
        Ok(written)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.file.flush()
    }
}

fn parent_folder(path: &Path) -> &Path {
    match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    }
}

/// `path` is the name in the message. The file would have been renamed to `target`.
fn not_written(path: &Path, target: &Path, option: &str, error: &io::Error) -> Failure {
    let reason = write_error(error, parent_folder(target), option);
    Failure::System(format!("cannot write {}: {reason}", path.display()))
}

/// Writes a file that is whole or does not exist. If `path` is a link, the file that it
/// leads to is replaced, and the link stays.
///
/// # Errors
/// When it cannot be written, or exists and `force` is off.
pub(crate) fn write(path: &Path, bytes: &[u8], force: bool) -> Result {
    let existing = std::fs::canonicalize(path).ok().filter(|_| force);
    if existing.as_ref().is_some_and(|target| !target.is_file()) {
        // Renaming over a device would remove it.
        return Err(Failure::System(format!(
            "{} is a folder or a device and cannot be replaced; give -o FILE, or -o - for \
             standard output",
            path.display()
        )));
    }
    let target = existing.unwrap_or_else(|| path.to_owned());
    let mut file = AtomicFile::new(path, target, "-o FILE", FILE_LETTERS)?;
    file.write_all(bytes).map_err(|e| file.failure(&e))?;
    file.persist(force).map(drop)
}

/// Why a file cannot be written, and what to do. The text of the error itself would name the
/// temporary file.
fn write_error(error: &io::Error, folder: &Path, option: &str) -> String {
    let folder = folder.display();
    match error.kind() {
        ErrorKind::NotFound | ErrorKind::NotADirectory => {
            format!("there is no folder {folder}; make it, or give {option} elsewhere")
        }
        ErrorKind::ReadOnlyFilesystem => {
            format!("the disk of {folder} is read-only; give {option} elsewhere")
        }
        ErrorKind::PermissionDenied => {
            format!(
                "you have no permission to write in {folder}; give {option} elsewhere"
            )
        }
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded | ErrorKind::FileTooLarge => {
            format!("the disk of {folder} is full; make room, or give {option} elsewhere")
        }
        kind => format!("{kind}; give {option} elsewhere"),
    }
}

/// Temporary files are private; a drawing is not.
#[cfg(unix)]
fn make_readable(file: &File) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    file.set_permissions(std::fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn make_readable(_: &File) -> io::Result<()> {
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A batch does not remove a file that another run is writing in its folder.
    #[test]
    fn unfinished_files_of_a_batch_differ_from_others() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("belt.pdf");
        let unfinished = [
            AtomicFile::in_batch(&path).ok().unwrap(),
            AtomicFile::new(&path, path.clone(), "", FILE_LETTERS).ok().unwrap(),
        ];
        let names = unfinished.map(|draft| {
            let name = draft.file.get_ref().path().file_name().unwrap().to_owned();
            name.into_string().unwrap()
        });
        let is_removed = names.map(|name| {
            name.strip_prefix(TEMP_PREFIX).is_some_and(|rest| rest.len() == BATCH_LETTERS)
        });
        assert_eq!(is_removed, [true, false]);
    }
}
