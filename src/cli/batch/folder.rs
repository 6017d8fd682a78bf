//! The folder of a batch: which files are in it, which of them a batch made, and writing
//! files that are whole.
//!
//! A list in the folder keeps for each file that a batch made the key of what it was drawn
//! from and the SHA-256 of its bytes. Its line is written before the file is put in its
//! place, so that a batch recognises its files even if it was killed.

use super::super::draft::{self, Draft};
use super::super::{Failure, Result, files};
use crate::batch::CacheKey;
use crate::diagnostic::shown_path;
use crate::export::hex;
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::fs::{self, File, TryLockError};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

/// The name of the list.
const LIST: &str = ".strapwright.made";
const LIST_HEADER: &str = "# What strapwright batch made here: the key of what it was made from, the \
                           SHA-256 of the file, its name.\n";

/// What has the path of a file that a batch is about to write.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Existing {
    Nothing,
    /// The file itself, up to date.
    UpToDate,
    /// A file that a batch made from something else, unchanged since.
    Outdated,
    /// A file that no batch made, or that was changed since.
    Foreign,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Entry {
    key: CacheKey,
    hash: [u8; 32],
}

/// The versions of a file, the latest last; never empty.
#[derive(Debug, Default)]
struct Known {
    versions: Vec<Entry>,
    state: RunState,
}

/// What this run did with a file.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
enum RunState {
    #[default]
    Untouched,
    /// The file belongs to this run.
    Claimed,
    /// The file is in its place and up to date.
    Written,
}

pub(super) struct OutputFolder {
    path: PathBuf,
    force: bool,
    made: Mutex<Made>,
    /// Keeps other batches out.
    _lock: Option<File>,
}

struct Made {
    list: File,
    known: BTreeMap<String, Known>,
}

/// How a file came to be in its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Written {
    New,
    /// A file with the same bytes was there already.
    Kept,
}

impl OutputFolder {
    /// Makes the folder if it does not exist, and removes unfinished files of an earlier
    /// batch. With `force`, files that no batch made are replaced.
    ///
    /// # Errors
    /// When the folder cannot be made, read or written, or another batch is using it.
    pub(super) fn open(path: &Path, force: bool) -> Result<Self> {
        files::create_folder(path, "give -o FOLDER elsewhere")?;
        let lock = lock(path)?;
        draft::sweep(path);
        let known = read_list(&path.join(LIST));
        let list = write_list(path, &known)?;
        let made = Mutex::new(Made { list, known });
        Ok(Self { path: path.to_owned(), force, made, _lock: lock })
    }

    pub(super) fn join(&self, name: &str) -> PathBuf {
        self.path.join(name)
    }

    /// What is at the path of `name`, which is to be made from what `key` stands for.
    pub(super) fn existing(&self, name: &str, key: CacheKey) -> Existing {
        let metadata = fs::symlink_metadata(self.join(name));
        if metadata.is_err_and(|e| e.kind() == io::ErrorKind::NotFound) {
            return Existing::Nothing;
        }
        let Some(hash) = self.hash_of(name) else { return Existing::Foreign };
        let made = self.made();
        let versions = made.known.get(name).map(|known| known.versions.iter().rev());
        match versions.into_iter().flatten().find(|entry| entry.hash == hash) {
            Some(entry) if entry.key == key => Existing::UpToDate,
            Some(_) => Existing::Outdated,
            None => Existing::Foreign,
        }
    }

    /// The SHA-256 of a file; `None` if it is no plain file or cannot be read.
    fn hash_of(&self, name: &str) -> Option<[u8; 32]> {
        let path = self.join(name);
        fs::symlink_metadata(&path).ok().filter(fs::Metadata::is_file)?;
        hash_of(&path)
    }

    /// Begins a file of the folder.
    ///
    /// # Errors
    /// When it cannot be made.
    pub(super) fn create(&self, name: &str) -> Result<Draft> {
        Draft::in_batch(&self.join(name))
    }

    /// Writes a file; `None` if another file has its path.
    ///
    /// # Errors
    /// When it cannot be written.
    pub(super) fn write(
        &self,
        name: &str,
        key: CacheKey,
        bytes: &[u8],
    ) -> Result<Option<Written>> {
        let mut file = self.create(name)?;
        file.write_all(bytes).map_err(|e| file.failure(&e))?;
        self.persist(name, key, file)
    }

    /// Puts a written file in its place; `None` if another file has its path.
    ///
    /// # Errors
    /// When it cannot be written.
    pub(super) fn persist(
        &self,
        name: &str,
        key: CacheKey,
        file: Draft,
    ) -> Result<Option<Written>> {
        let hash = file.hash();
        let existing = self.existing(name, key);
        let is_same = existing != Existing::Nothing && self.hash_of(name) == Some(hash);
        let is_folder = self.join(name).is_dir() && !self.join(name).is_symlink();
        if existing == Existing::Foreign && !is_same && (!self.force || is_folder) {
            self.claim(name);
            return Ok(None);
        }
        self.record(name, Entry { key, hash })?;
        if !is_same {
            file.persist(self.force || existing != Existing::Nothing)?;
        }
        self.raise_state(name, RunState::Written);
        Ok(Some(if is_same { Written::Kept } else { Written::New }))
    }

    /// Notes that a file belongs to this run.
    pub(super) fn claim(&self, name: &str) {
        self.raise_state(name, RunState::Claimed);
    }

    fn raise_state(&self, name: &str, state: RunState) {
        if let Some(known) = self.made().known.get_mut(name) {
            known.state = known.state.max(state);
        }
    }

    /// Adds a version of a file to the list, unless it is the latest already.
    fn record(&self, name: &str, entry: Entry) -> Result {
        let mut made = self.made();
        let known = made.known.entry(name.to_owned()).or_default();
        known.state = known.state.max(RunState::Claimed);
        if known.versions.last() == Some(&entry) {
            return Ok(());
        }
        known.versions.reserve_exact(1);
        known.versions.push(entry);
        let line = list_line(name, entry);
        let written = made.list.write_all(line.as_bytes());
        // The line is there before the file is, also when the power fails.
        written.and_then(|()| made.list.sync_data()).map_err(|e| {
            let path = self.join(LIST);
            Failure::System(format!("cannot write {}: {}", shown_path(&path), e.kind()))
        })
    }

    /// Writes the list again without versions that are of no more use. Returns the names of
    /// files of earlier runs that do not belong to this one.
    ///
    /// # Errors
    /// When the list cannot be written.
    pub(super) fn close(&self) -> Result<Vec<String>> {
        let mut made = self.made();
        made.known.retain(|name, known| {
            if known.state == RunState::Written {
                known.versions.drain(..known.versions.len() - 1);
            }
            fs::symlink_metadata(self.join(name)).is_ok()
        });
        made.list = write_list(&self.path, &made.known)?;
        draft::sync_folder(&self.path);
        let others = made.known.iter().filter(|(_, k)| k.state == RunState::Untouched);
        Ok(others.map(|(name, _)| name.clone()).collect())
    }

    fn made(&self) -> MutexGuard<'_, Made> {
        self.made.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// Locks the folder; `None` where folders cannot be locked.
fn lock(path: &Path) -> Result<Option<File>> {
    let Ok(folder) = File::open(path) else { return Ok(None) };
    match folder.try_lock() {
        Ok(()) => Ok(Some(folder)),
        Err(TryLockError::WouldBlock) => Err(Failure::System(format!(
            "another batch is writing to {}; wait until it ends, or give another folder",
            shown_path(path)
        ))),
        Err(TryLockError::Error(_)) => Ok(None),
    }
}

fn list_line(name: &str, Entry { key, hash }: Entry) -> String {
    format!("{} {} {name}\n", hex(&key.0), hex(&hash))
}

/// Reads a list. Lines that are torn or have another form are skipped; a list that cannot be
/// read is empty.
fn read_list(path: &Path) -> BTreeMap<String, Known> {
    let mut known: BTreeMap<String, Known> = BTreeMap::new();
    let is_file = fs::symlink_metadata(path).is_ok_and(|there| there.is_file());
    let bytes = if is_file { fs::read(path).unwrap_or_default() } else { Vec::new() };
    let text = String::from_utf8_lossy(&bytes);
    // A last line without its end may have lost a part of the name.
    let whole = text.rsplit_once('\n').map_or("", |(whole, _)| whole);
    for line in whole.lines() {
        let mut parts = line.splitn(3, ' ');
        let mut number = || parts.next().and_then(parse_hex);
        let (Some(key), Some(hash)) = (number(), number()) else { continue };
        let Some(name) = parts.next() else { continue };
        let known = known.entry(name.to_owned()).or_default();
        // Most files have one version: reserve no more.
        known.versions.reserve_exact(1);
        known.versions.push(Entry { key: CacheKey(key), hash });
    }
    known
}

/// Writes a list, and returns the file to append to.
fn write_list(folder: &Path, known: &BTreeMap<String, Known>) -> Result<File> {
    let mut file = Draft::in_batch(&folder.join(LIST))?;
    let entries = known.iter().flat_map(|(name, known)| {
        known.versions.iter().map(move |e| list_line(name, *e))
    });
    for line in [LIST_HEADER.to_owned()].into_iter().chain(entries) {
        file.write_all(line.as_bytes()).map_err(|e| file.failure(&e))?;
    }
    file.persist(true)
}

/// The SHA-256 of a file; `None` if it cannot be read.
fn hash_of(path: &Path) -> Option<[u8; 32]> {
    let mut file = File::open(path).ok()?;
    let mut hash = Sha256::new();
    let mut block = vec![0; 1 << 16];
    loop {
        match file.read(&mut block).ok()? {
            0 => return Some(hash.finalize().into()),
            n => hash.update(&block[..n]),
        }
    }
}

/// The program that runs, by its version and its bytes: another build may draw otherwise.
pub(super) fn build() -> String {
    let bytes = std::env::current_exe().ok().and_then(|path| hash_of(&path));
    format!(
        "{} {}",
        env!("CARGO_PKG_VERSION"),
        bytes.map_or_else(String::new, |b| hex(&b))
    )
}

fn parse_hex(text: &str) -> Option<[u8; 32]> {
    if text.len() != 64 {
        return None;
    }
    let mut bytes = [0; 32];
    for (i, byte) in bytes.iter_mut().enumerate() {
        *byte = u8::from_str_radix(text.get(2 * i..2 * i + 2)?, 16).ok()?;
    }
    Some(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A run that is killed between the line of a file and the file leaves the older file. A
    /// later run still knows that file, even if it does not come to draw it.
    #[test]
    fn a_file_is_known_until_another_is_in_its_place() {
        let place = tempfile::tempdir().unwrap();
        let open = || OutputFolder::open(place.path(), false).ok().unwrap();
        let [old, new] = ["old", "new"].map(|text| CacheKey::new([text]));
        let folder = open();
        folder.write("a.pdf", old, b"old").ok().unwrap();
        folder.close().ok().unwrap();
        drop(folder);
        let folder = open();
        folder.record("a.pdf", Entry { key: new, hash: [7; 32] }).ok().unwrap();
        drop(folder);
        let folder = open();
        folder.claim("a.pdf");
        folder.close().ok().unwrap();
        assert_eq!(folder.existing("a.pdf", new), Existing::Outdated);
        assert_eq!(folder.existing("a.pdf", old), Existing::UpToDate);
        folder.write("a.pdf", new, b"new").ok().unwrap();
        folder.close().ok().unwrap();
        let list = fs::read_to_string(place.path().join(LIST)).unwrap();
        assert_eq!(list.lines().count(), 2, "about, and one line: {list}");
    }
}
