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
        Err(e) => Err(Failure::Machine(format!("cannot read {name}: {e}"))),
    }
}

fn all(from: impl Read, most: u64) -> std::io::Result<Vec<u8>> {
    let mut all = Vec::new();
    from.take(most + 1).read_to_end(&mut all)?;
    Ok(all)
}

/// Largest drawing that is read back: 200 sheets, and much to spare.
const LARGEST_DRAWING: u64 = 1 << 26;

/// The bytes of a drawing.
pub(super) fn bytes_of(path: &Path) -> Result<Vec<u8>, Failure> {
    let mut all = Vec::new();
    File::open(path)
        .and_then(|file| file.take(LARGEST_DRAWING).read_to_end(&mut all))
        .map_err(|e| Failure::Machine(format!("cannot read {}: {e}", path.display())))?;
    Ok(all)
}

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

/// What files begin with that are not yet in their place.
pub(super) const DRAFT: &str = ".strapwright-";

/// A file that is written beside its place and then renamed there, so that it is whole or
/// not there.
pub(super) struct Draft {
    path: PathBuf,
    file: BufWriter<NamedTempFile>,
    hash: Sha256,
}

impl Draft {
    pub(super) fn new(path: &Path) -> Result<Self, Failure> {
        let folder = match path.parent() {
            Some(parent) if !parent.as_os_str().is_empty() => parent,
            _ => Path::new("."),
        };
        let file = tempfile::Builder::new()
            .prefix(DRAFT)
            .tempfile_in(folder)
            .map_err(|e| not_written(path, &e))?;
        let (path, hash) = (path.to_owned(), Sha256::new());
        Ok(Self { path, file: BufWriter::new(file), hash })
    }

    /// Says why it could not be written.
    pub(super) fn failed(&self, why: &std::io::Error) -> Failure {
        not_written(&self.path, why)
    }

    /// The SHA-256 of what was written so far.
    pub(super) fn hash(&self) -> [u8; 32] {
        self.hash.clone().finalize().into()
    }

    /// Puts it in its place, and gives the file to be written on.
    pub(super) fn place(self, force: bool) -> Result<File, Failure> {
        let Self { path, file, hash: _ } = self;
        let fail = |e: &std::io::Error| not_written(&path, e);
        let file = file.into_inner().map_err(|e| fail(e.error()))?;
        file.as_file().sync_all().map_err(|e| fail(&e))?;
        readable_by_all(file.as_file()).map_err(|e| fail(&e))?;
        let placed =
            if force { file.persist(&path) } else { file.persist_noclobber(&path) };
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

fn not_written(path: &Path, why: &std::io::Error) -> Failure {
    // The kind alone: the full text would name the file that is written beside it.
    Failure::Machine(format!("cannot write {}: {}", path.display(), why.kind()))
}

/// Writes a file that is whole or not there.
pub(super) fn write(path: &Path, bytes: &[u8], force: bool) -> Result<(), Failure> {
    let mut draft = Draft::new(path)?;
    draft.write_all(bytes).map_err(|e| draft.failed(&e))?;
    draft.place(force).map(drop)
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
