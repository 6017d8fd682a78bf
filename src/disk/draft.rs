//! Writing files that are whole or not there.
//!
//! A draft has no name until it is whole, where the system has such files (`O_TMPFILE`), so a run
//! that is ended leaves nothing. Elsewhere, and for the moment in which it replaces a file, it has
//! a name and a lock: a draft whose lock is free has no writer, and the next run removes it.

use super::files::{follow, is_special, not_written, parent_folder};
use super::{Failure, Result};
use crate::diagnostic::shown_path;
use sha2::{Digest, Sha256};
use std::fs::{self, File, TryLockError};
use std::io::{self, BufWriter, ErrorKind, Write};
use std::path::{Path, PathBuf};
use tempfile::TempPath;

/// The names of drafts: this, so many letters and digits, and this.
const PREFIX: &str = ".strapwright-";
const LETTERS: usize = 8;
const SUFFIX: &str = ".draft";

/// A file that is being written.
pub(crate) struct Draft {
    /// Its path in messages.
    path: PathBuf,
    /// The path that it will have.
    target: PathBuf,
    /// What would do where it cannot be written.
    way: &'static str,
    file: BufWriter<File>,
    /// Its name while it is a draft, if it has one.
    name: Option<TempPath>,
    hash: Sha256,
}

impl Draft {
    /// Begins a file of a batch. A link at `path` will be replaced.
    ///
    /// # Errors
    /// When the folder takes no file.
    pub(crate) fn in_batch(path: &Path) -> Result<Self> {
        Self::new(path, path.to_owned(), "give -o FOLDER elsewhere")
    }

    fn new(path: &Path, target: PathBuf, way: &'static str) -> Result<Self> {
        let (file, name) = open(parent_folder(&target))
            .map_err(|e| not_written(path, &target, way, &e))?;
        let (path, file, hash) = (path.to_owned(), BufWriter::new(file), Sha256::new());
        Ok(Self { path, target, way, file, name, hash })
    }

    /// The failure to report when it cannot be written.
    pub(crate) fn failure(&self, error: &io::Error) -> Failure {
        not_written(&self.path, &self.target, self.way, error)
    }

    /// The SHA-256 of what was written so far.
    pub(crate) fn hash(&self) -> [u8; 32] {
        self.hash.clone().finalize().into()
    }

    /// Gives it its path. A file that it replaces passes on its mode. Returns the open file.
    ///
    /// # Errors
    /// When it cannot be written, or its path is taken and `replaces` is off.
    pub(crate) fn persist(self, replaces: bool) -> Result<File> {
        let Self { path, target, way, file, name, hash: _ } = self;
        let placed = file.into_inner().map_err(io::IntoInnerError::into_error);
        let placed =
            placed.and_then(|file| place(&file, name, &target, replaces).map(|()| file));
        placed.map_err(|e| match e.kind() {
            ErrorKind::AlreadyExists if !replaces => Failure::System(format!(
                "{} exists already, and was not changed; {way}",
                shown_path(&path)
            )),
            _ => not_written(&path, &target, way, &e),
        })
    }
}

impl Write for Draft {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let written = self.file.write(bytes)?;
        self.hash.update(&bytes[..written]);
        Ok(written)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.file.flush()
    }
}

/// Writes a file that is whole or does not exist. If `path` is a link, what it leads to is
/// written, and the link stays. What a pipe or a device takes is copied there.
///
/// # Errors
/// When it cannot be written, or exists and `replaces` is off.
pub(crate) fn write(path: &Path, bytes: &[u8], replaces: bool) -> Result {
    write_or(path, bytes, replaces, "give -o FILE elsewhere")
}

/// The same; `way` is what would do where it cannot be written.
///
/// # Errors
/// Those of [`write`].
pub(crate) fn write_or(
    path: &Path,
    bytes: &[u8],
    replaces: bool,
    way: &'static str,
) -> Result {
    let steps = follow(path)?;
    let target = steps.last().map_or_else(|| path.to_owned(), Clone::clone);
    if is_special(path) {
        // Renaming over it would remove it.
        let opened = File::options().write(true).open(path);
        return opened
            .and_then(|mut file| file.write_all(bytes))
            .map_err(|e| not_written(path, &target, way, &e));
    }
    if target.is_dir() {
        return Err(Failure::System(format!(
            "{} is a folder and cannot be replaced; {way}",
            shown_path(path)
        )));
    }
    sweep(parent_folder(&target));
    let mut file = Draft::new(path, target.clone(), way)?;
    file.write_all(bytes).map_err(|e| file.failure(&e))?;
    file.persist(replaces)?;
    sync_folder(parent_folder(&target));
    Ok(())
}

/// Makes sure that a file can be written there, without writing it.
///
/// # Errors
/// When the folder takes no file.
pub(crate) fn check(path: &Path) -> Result {
    Draft::new(path, path.to_owned(), "give -o FILE elsewhere").map(drop)
}

/// Makes sure that the names in a folder outlast a failure of power, where a folder can be
/// synced.
pub(crate) fn sync_folder(folder: &Path) {
    let _ = File::open(folder).and_then(|folder| folder.sync_all());
}

/// Removes drafts that nobody is writing: plain files with the names of drafts whose locks are
/// free. Where that fails, the draft is in nobody's way.
pub(crate) fn sweep(folder: &Path) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    for entry in entries.flatten() {
        let name = entry.file_name();
        let letters = name
            .to_str()
            .and_then(|name| name.strip_prefix(PREFIX)?.strip_suffix(SUFFIX));
        let is_draft = letters.is_some_and(|letters| {
            letters.len() == LETTERS && letters.bytes().all(|b| b.is_ascii_alphanumeric())
        });
        if is_draft && entry.file_type().is_ok_and(|t| t.is_file()) {
            let is_free =
                File::open(entry.path()).is_ok_and(|file| file.try_lock().is_ok());
            if is_free {
                let _ = fs::remove_file(entry.path());
            }
        }
    }
}

/// A file without a name, or else one with a name and a lock.
fn open(folder: &Path) -> io::Result<(File, Option<TempPath>)> {
    if let Some(file) = unnamed(folder) {
        return Ok((file, None));
    }
    loop {
        let mut names = names();
        #[cfg(unix)]
        names.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
        let (file, name) = names.tempfile_in(folder)?.into_parts();
        // A sweep that came before holds the lock, or has removed the name. Where there are no
        // locks the draft is written all the same.
        let is_swept = matches!(file.try_lock(), Err(TryLockError::WouldBlock));
        if !is_swept && name.exists() {
            return Ok((file, Some(name)));
        }
    }
}

fn names() -> tempfile::Builder<'static, 'static> {
    let mut names = tempfile::Builder::new();
    names.prefix(PREFIX).rand_bytes(LETTERS).suffix(SUFFIX);
    names
}

#[cfg(target_os = "linux")]
fn unnamed(folder: &Path) -> Option<File> {
    use rustix::fs::{CWD, Mode, OFlags, openat};
    // Without it the file could not be given a name.
    Path::new("/proc/self/fd").exists().then_some(())?;
    let flags = OFlags::TMPFILE | OFlags::RDWR | OFlags::CLOEXEC;
    openat(CWD, folder, flags, Mode::from_raw_mode(0o666)).ok().map(File::from)
}

#[cfg(not(target_os = "linux"))]
fn unnamed(_: &Path) -> Option<File> {
    None
}

/// Gives a file without a name this one, if it is free.
#[cfg(target_os = "linux")]
fn link(file: &File, path: &Path) -> io::Result<()> {
    use rustix::fs::{AtFlags, CWD, linkat};
    use std::os::fd::AsRawFd;
    let own = format!("/proc/self/fd/{}", file.as_raw_fd());
    Ok(linkat(CWD, own, CWD, path, AtFlags::SYMLINK_FOLLOW)?)
}

#[cfg(not(target_os = "linux"))]
fn link(_: &File, _: &Path) -> io::Result<()> {
    Err(ErrorKind::Unsupported.into())
}

fn place(
    file: &File,
    name: Option<TempPath>,
    target: &Path,
    replaces: bool,
) -> io::Result<()> {
    let old = fs::symlink_metadata(target).ok().filter(|_| replaces);
    if let Some(old) = old.as_ref().filter(|old| old.is_file()) {
        take_mode(file, old)?;
    }
    file.sync_all()?;
    match name {
        None if old.is_none() => link(file, target),
        None => {
            let _ = file.try_lock();
            let named =
                names().make_in(parent_folder(target), |path| link(file, path))?;
            named.into_temp_path().persist(target).map_err(|e| e.error)
        }
        Some(name) if replaces => name.persist(target).map_err(|e| e.error),
        Some(name) => name.persist_noclobber(target).map_err(|e| e.error),
    }
}

/// The mode and, where that is allowed, the owner of the file that is replaced.
#[cfg(unix)]
fn take_mode(file: &File, old: &fs::Metadata) -> io::Result<()> {
    use std::os::unix::fs::{MetadataExt, PermissionsExt, fchown};
    let _ = fchown(file, Some(old.uid()), Some(old.gid()));
    // Without the bits that change who a program runs as.
    file.set_permissions(fs::Permissions::from_mode(old.mode() & 0o777))
}

#[cfg(not(unix))]
fn take_mode(_: &File, _: &fs::Metadata) -> io::Result<()> {
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A draft with a name is swept when its writer is gone, and not before.
    #[test]
    fn a_sweep_leaves_what_is_being_written() {
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        let is_there = |name: &str| at(name).exists();
        let mine = [".strapwright-settings", ".strapwright-notes.draft", "b"];
        for name in [".strapwright-aB3dE6gH.draft"].iter().chain(&mine) {
            drop(File::create(at(name)).unwrap());
        }
        let writing = File::create(at(".strapwright-written1.draft")).unwrap();
        writing.try_lock().unwrap();
        sweep(folder.path());
        assert!(!is_there(".strapwright-aB3dE6gH.draft"));
        assert!(is_there(".strapwright-written1.draft"));
        drop(writing);
        sweep(folder.path());
        assert!(!is_there(".strapwright-written1.draft"));
        assert!(mine.iter().all(|name| is_there(name)));
    }

    /// Whether the system has files without names or not.
    #[test]
    fn a_named_draft_comes_to_its_place_too() {
        let folder = tempfile::tempdir().unwrap();
        let target = folder.path().join("belt.pdf");
        for (replaces, words) in [(false, "one"), (true, "two")] {
            let (mut file, name) =
                names().tempfile_in(folder.path()).unwrap().into_parts();
            file.write_all(words.as_bytes()).unwrap();
            place(&file, Some(name), &target, replaces).unwrap();
            assert_eq!(fs::read_to_string(&target).unwrap(), words);
        }
        let (file, name) = names().tempfile_in(folder.path()).unwrap().into_parts();
        let taken = place(&file, Some(name), &target, false).unwrap_err();
        assert_eq!(taken.kind(), ErrorKind::AlreadyExists);
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1, "a draft is left");
    }
}
