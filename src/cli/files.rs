//! Reading job files, and writing files that are whole or not there.

use super::Failure;
use std::ffi::OsStr;
use std::io::{ErrorKind, Read, Write};
use std::path::Path;

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
        (name, std::fs::File::open(path).and_then(|file| all(file, most)))
    };
    match bytes {
        Ok(bytes) => Ok((name, bytes)),
        Err(e) => Err(Failure::Machine(format!("cannot read {name}: {e}"))),
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
    std::fs::create_dir_all(path)
        .map_err(|e| Failure::Machine(format!("cannot make {}: {e}", path.display())))
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

/// Writes a file beside its place and renames it there, so that it is whole or not there.
/// What a link names is written, and the link stays. A run that is ended from outside may
/// leave its own file beside it, called `.strapwright-` and some letters.
pub(super) fn write(path: &Path, bytes: &[u8], force: bool) -> Result<(), Failure> {
    let there = std::fs::canonicalize(path).ok().filter(|_| force);
    let place = there.as_deref().unwrap_or(path);
    if there.is_some() && !place.is_file() {
        // Renaming over a device would take it away.
        return Err(Failure::Machine(format!(
            "{} is a folder or a device, and no file that can be replaced; give -o FILE, or \
             -o - for standard output",
            path.display()
        )));
    }
    let folder = match place.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    let fail = |e: &std::io::Error| {
        let (path, why) = (path.display(), why(e, folder));
        Failure::Machine(format!("cannot write {path}: {why}"))
    };
    let mut file = tempfile::Builder::new()
        .prefix(".strapwright-")
        .tempfile_in(folder)
        .map_err(|e| fail(&e))?;
    file.write_all(bytes).map_err(|e| fail(&e))?;
    file.as_file().sync_all().map_err(|e| fail(&e))?;
    readable_by_all(file.as_file()).map_err(|e| fail(&e))?;
    let placed = if force { file.persist(place) } else { file.persist_noclobber(place) };
    placed.map(|_| ()).map_err(|e| match e.error.kind() {
        ErrorKind::AlreadyExists => there_already(path),
        _ => fail(&e.error),
    })
}

/// Why a file cannot be written, and what would do. The full text of the error would name
/// the file that is written beside it.
fn why(error: &std::io::Error, folder: &Path) -> String {
    let folder = folder.display();
    match error.kind() {
        ErrorKind::NotFound | ErrorKind::NotADirectory => {
            format!("there is no folder {folder}; make it, or give -o FILE in another")
        }
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => {
            format!("nothing may be written in {folder}; give -o FILE in another folder")
        }
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded | ErrorKind::FileTooLarge => {
            format!("the disk of {folder} is full; make room, or give -o FILE on another")
        }
        kind => format!("{kind}; give -o FILE in another folder"),
    }
}

/// Temporary files are private; a drawing is not.
#[cfg(unix)]
fn readable_by_all(file: &std::fs::File) -> std::io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    file.set_permissions(std::fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn readable_by_all(_: &std::fs::File) -> std::io::Result<()> {
    Ok(())
}
