//! Reading job files, and writing files that are whole or not there.

use super::Failure;
use sha2::{Digest, Sha256};
use std::ffi::OsStr;
use std::fs::File;
use std::io::{BufWriter, ErrorKind, Read, Write};
use std::path::{Path, PathBuf};
use tempfile::NamedTempFile;

/// Largest file that is read: far beyond any job or list of strips.
const LARGEST: u64 = 1 << 20;

/// A text and what a person calls it.
pub(super) struct Text {
    pub(super) name: String,
    pub(super) text: String,
}

/// Reads a file, or standard input for `-`.
pub(super) fn read(path: &OsStr) -> Result<Text, Failure> {
    let (name, bytes) = bytes(path, LARGEST)?;
    if bytes.len() as u64 > LARGEST {
        return Err(Failure::Machine(format!(
            "{name} is larger than 1 MiB; a job or a list of strips is a short text"
        )));
    }
    let text = String::from_utf8(bytes).map_err(|e| {
        let at = e.utf8_error().valid_up_to();
        Failure::Machine(format!(
            "{name} is not UTF-8 text (byte {at}); save it again as UTF-8"
        ))
    })?;
    let text = text.strip_prefix('\u{feff}').map(ToOwned::to_owned).unwrap_or(text);
    Ok(Text { name, text })
}

/// What a person calls a file, and its bytes, at most one more than `most`.
pub(super) fn bytes(path: &OsStr, most: u64) -> Result<(String, Vec<u8>), Failure> {
    let (name, bytes) = if path == "-" {
        ("standard input".to_owned(), all(std::io::stdin().lock(), most))
    } else {
        let name = path.to_string_lossy().into_owned();
        (name, File::open(path).and_then(|file| all(file, most)))
    };
    match bytes {
        Ok(bytes) => Ok((name, bytes)),
        Err(e) => Err(Failure::Machine(format!("cannot read {name}: {}", unread(&e)))),
    }
}

fn unread(error: &std::io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => {
            "there is no such file; look at its name and its folder".to_owned()
        }
        ErrorKind::IsADirectory => "it is a folder; give a file in it".to_owned(),
        ErrorKind::PermissionDenied => {
            "it may not be read; look at its rights, or copy it here".to_owned()
        }
        _ => format!("{error}; copy the file elsewhere and try again"),
    }
}

fn all(from: impl Read, most: u64) -> std::io::Result<Vec<u8>> {
    let mut all = Vec::new();
    from.take(most + 1).read_to_end(&mut all)?;
    Ok(all)
}

/// Largest drawing that is taken in; what a print may have is for the stages to say.
pub(super) const LARGEST_DRAWING: u64 = 256 << 20;

/// Makes a folder, if it is not there already.
pub(super) fn folder(path: &Path) -> Result<(), Failure> {
    std::fs::create_dir_all(path).map_err(|e| {
        let shown = path.display();
        Failure::Machine(if path.is_file() {
            format!(
                "{shown} is a file, and no folder to write into; give -o FOLDER elsewhere"
            )
        } else {
            let reason = why(&e, folder_of(path), "-o FOLDER");
            format!("cannot make the folder {shown}: {reason}")
        })
    })
}

/// Where a file goes: to the path that was given, into it under `name` where that is a
/// folder, or under `name` here where none was given.
pub(super) fn place(output: Option<&Path>, name: String) -> Result<PathBuf, Failure> {
    let Some(path) = output else { return Ok(PathBuf::from(name)) };
    if path.is_dir() {
        return Ok(path.join(name));
    }
    if path.as_os_str().to_string_lossy().ends_with(std::path::is_separator) {
        let path = path.display();
        return Err(Failure::Machine(format!(
            "cannot write {path}{name}: there is no folder {path}; make it, or give -o FILE \
             elsewhere"
        )));
    }
    Ok(path.to_owned())
}

/// Says early that a file is there already, before any work is done.
pub(super) fn must_be_free(path: &Path, force: bool) -> Result<(), Failure> {
    if !force && path.exists() {
        return Err(there_already(path));
    }
    Ok(())
}

fn there_already(path: &Path) -> Failure {
    Failure::Machine(format!(
        "{} is there already and was left as it is; give --force to replace it, or \
         -o FILE to write another",
        path.display()
    ))
}

/// What files begin with that are not yet in their place.
pub(super) const DRAFT: &str = ".strapwright-";
/// Letters after that in a batch, which clears away what an earlier one left, and in single
/// files, which another run may be at work on.
pub(super) const IN_BATCH: usize = 6;
const SINGLE: usize = 8;

/// A file that is written beside its place and then renamed there, so that it is whole or
/// not there.
/// A run that is ended from outside may leave it beside its place.
pub(super) struct Draft {
    /// What it is called.
    path: PathBuf,
    /// Where it goes.
    place: PathBuf,
    /// What names another place for it.
    option: &'static str,
    file: BufWriter<NamedTempFile>,
    hash: Sha256,
}

impl Draft {
    /// Begins a file in a folder of many; a link that is in its place is replaced.
    pub(super) fn new(path: &Path) -> Result<Self, Failure> {
        Self::at(path, path.to_owned(), "-o FOLDER", IN_BATCH)
    }

    fn at(
        path: &Path,
        place: PathBuf,
        option: &'static str,
        letters: usize,
    ) -> Result<Self, Failure> {
        let file = tempfile::Builder::new()
            .prefix(DRAFT)
            .rand_bytes(letters)
            .tempfile_in(folder_of(&place))
            .map_err(|e| not_written(path, &place, option, &e))?;
        let (path, file, hash) = (path.to_owned(), BufWriter::new(file), Sha256::new());
        Ok(Self { path, place, option, file, hash })
    }

    /// Says why it could not be written.
    pub(super) fn failed(&self, why: &std::io::Error) -> Failure {
        not_written(&self.path, &self.place, self.option, why)
    }

    /// The SHA-256 of what was written so far.
    pub(super) fn hash(&self) -> [u8; 32] {
        self.hash.clone().finalize().into()
    }

    /// Puts it in its place, and gives the file to be written on.
    pub(super) fn place(self, force: bool) -> Result<File, Failure> {
        let Self { path, place, option, file, hash: _ } = self;
        let fail = |e: &std::io::Error| not_written(&path, &place, option, e);
        let file = file.into_inner().map_err(|e| fail(e.error()))?;
        file.as_file().sync_all().map_err(|e| fail(&e))?;
        readable_by_all(file.as_file()).map_err(|e| fail(&e))?;
        let placed =
            if force { file.persist(&place) } else { file.persist_noclobber(&place) };
        placed.map_err(|e| match e.error.kind() {
            ErrorKind::AlreadyExists => there_already(&path),
            _ => fail(&e.error),
        })
    }
}

impl Write for Draft {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        let written = self.file.write(bytes)?;
        self.hash.update(&bytes[..written]);
        Ok(written)
    }

    fn flush(&mut self) -> std::io::Result<()> {
        self.file.flush()
    }
}

fn folder_of(place: &Path) -> &Path {
    match place.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    }
}

/// Says why the file called `path`, which goes to `place`, could not be written.
fn not_written(
    path: &Path,
    place: &Path,
    option: &str,
    error: &std::io::Error,
) -> Failure {
    let (path, why) = (path.display(), why(error, folder_of(place), option));
    Failure::Machine(format!("cannot write {path}: {why}"))
}

/// Writes a file that is whole or not there. What a link names is written, and the link
/// stays.
pub(super) fn write(path: &Path, bytes: &[u8], force: bool) -> Result<(), Failure> {
    let there = std::fs::canonicalize(path).ok().filter(|_| force);
    if there.as_ref().is_some_and(|place| !place.is_file()) {
        // Renaming over a device would take it away.
        return Err(Failure::Machine(format!(
            "{} is a folder or a device, and no file that can be replaced; give -o FILE, or \
             -o - for standard output",
            path.display()
        )));
    }
    let place = there.unwrap_or_else(|| path.to_owned());
    let mut draft = Draft::at(path, place, "-o FILE", SINGLE)?;
    draft.write_all(bytes).map_err(|e| draft.failed(&e))?;
    draft.place(force).map(drop)
}

/// Why a file cannot be written, and what would do. The full text of the error would name
/// the file that is written beside it.
fn why(error: &std::io::Error, folder: &Path, option: &str) -> String {
    let folder = folder.display();
    match error.kind() {
        ErrorKind::NotFound | ErrorKind::NotADirectory => {
            format!("there is no folder {folder}; make it, or give {option} elsewhere")
        }
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => {
            format!("nothing may be written in {folder}; give {option} elsewhere")
        }
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded | ErrorKind::FileTooLarge => {
            format!(
                "the disk of {folder} is full; make room, or give {option} on another"
            )
        }
        kind => format!("{kind}; give {option} elsewhere"),
    }
}

/// Temporary files are private; a drawing is not.
#[cfg(unix)]
fn readable_by_all(file: &File) -> std::io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    file.set_permissions(std::fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn readable_by_all(_: &File) -> std::io::Result<()> {
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A batch that begins in a folder takes no file away that is being drawn there.
    #[test]
    fn drafts_of_a_batch_are_told_from_others() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("belt.pdf");
        let drafts = [
            Draft::new(&path).ok().unwrap(),
            Draft::at(&path, path.clone(), "", SINGLE).ok().unwrap(),
        ];
        let names = drafts.map(|draft| {
            let name = draft.file.get_ref().path().file_name().unwrap().to_owned();
            name.into_string().unwrap()
        });
        let is_swept = names.map(|name| {
            name.strip_prefix(DRAFT).is_some_and(|rest| rest.len() == IN_BATCH)
        });
        assert_eq!(is_swept, [true, false]);
    }
}
