//! The folder that a batch fills: what is in it already, what was made here, and putting
//! files into it that are whole.
//!
//! What was made is kept in a list in the folder: for each file the key of what it was drawn
//! from and the SHA-256 of its bytes. A line is written before its file is put in place, so
//! that a batch that ends at any instant knows its own files again.

use super::super::{Failure, files};
use crate::batch::Key;
use files::Draft;
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::fs::{self, File, TryLockError};
use std::io::{BufWriter, Read, Write};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

/// The list of what was made.
const LIST: &str = ".strapwright.made";
const ABOUT: &str = "# What strapwright batch made here: the key of what it was made from, the \
                     SHA-256 of the file, its name.\n";

/// What is in a file's place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Standing {
    /// Nothing.
    Free,
    /// The file itself.
    Same,
    /// A file that was made here from something else, and is as it was made.
    Ours,
    /// A file that was not made here, or was altered since.
    Foreign,
}

/// A file that was made here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Entry {
    key: Key,
    bytes: [u8; 32],
}

/// All that a file may be. Most have been one thing only, for which no more room is taken.
#[derive(Debug)]
struct Known {
    last: Entry,
    before: Vec<Entry>,
    run: Run,
}

/// What this run had to do with a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Run {
    Not,
    /// It came to it.
    Met,
    /// It put it in its place, or found it there as it is to be.
    Placed,
}

impl Known {
    fn new(last: Entry) -> Self {
        Self { last, before: Vec::new(), run: Run::Not }
    }

    fn push(&mut self, entry: Entry) {
        self.before.push(std::mem::replace(&mut self.last, entry));
    }

    fn met(&mut self) {
        if self.run == Run::Not {
            self.run = Run::Met;
        }
    }

    /// The latest of them with these bytes.
    fn with(&self, bytes: &[u8; 32]) -> Option<&Entry> {
        std::iter::once(&self.last)
            .chain(self.before.iter().rev())
            .find(|e| e.bytes == *bytes)
    }
}

pub(super) struct Folder {
    path: PathBuf,
    force: bool,
    made: Mutex<Made>,
    /// Keeps another batch out while this one is at work.
    _lock: Option<File>,
}

struct Made {
    list: File,
    known: BTreeMap<String, Known>,
}

impl Folder {
    /// Makes the folder if it is not there, and clears away what a batch that was ended left
    /// half written. With `force`, whatever is in the way is replaced.
    pub(super) fn open(path: &Path, force: bool) -> Result<Self, Failure> {
        files::folder(path)?;
        let lock = lock(path)?;
        sweep(path)?;
        let known = read(&path.join(LIST));
        let list = write(path, &known)?;
        let made = Mutex::new(Made { list, known });
        Ok(Self { path: path.to_owned(), force, made, _lock: lock })
    }

    pub(super) fn join(&self, name: &str) -> PathBuf {
        self.path.join(name)
    }

    /// What is in the place of `name`, whose key is `key`.
    pub(super) fn standing(&self, name: &str, key: Key) -> Standing {
        let path = self.join(name);
        match fs::symlink_metadata(&path) {
            Err(e) if e.kind() == std::io::ErrorKind::NotFound => return Standing::Free,
            Ok(there) if there.is_file() => {}
            _ => return Standing::Foreign,
        }
        let Some(bytes) = hash(&path) else { return Standing::Foreign };
        let made = self.made();
        match made.known.get(name).and_then(|known| known.with(&bytes)) {
            Some(entry) if entry.key == key => Standing::Same,
            Some(_) => Standing::Ours,
            None => Standing::Foreign,
        }
    }

    /// Whether the file that is there has these bytes, whoever wrote it.
    pub(super) fn has(&self, name: &str, bytes: &[u8; 32]) -> bool {
        let path = self.join(name);
        let is_file = fs::symlink_metadata(&path).is_ok_and(|there| there.is_file());
        is_file && hash(&path).is_some_and(|there| there == *bytes)
    }

    /// Begins a file of the folder.
    pub(super) fn draft(&self, name: &str) -> Result<Draft, Failure> {
        Draft::new(&self.join(name))
    }

    /// Puts a file in its place, and says whether it was put there; `None` where another
    /// file is in the way.
    pub(super) fn put(
        &self,
        name: &str,
        key: Key,
        bytes: &[u8],
    ) -> Result<Option<Put>, Failure> {
        let mut draft = self.draft(name)?;
        draft.write_all(bytes).map_err(|e| draft.failed(&e))?;
        self.settle(name, key, draft)
    }

    /// The same for a file that is written already.
    pub(super) fn settle(
        &self,
        name: &str,
        key: Key,
        draft: Draft,
    ) -> Result<Option<Put>, Failure> {
        let bytes = draft.hash();
        let standing = self.standing(name, key);
        let is_there = standing != Standing::Free && self.has(name, &bytes);
        if standing == Standing::Foreign && !is_there && !self.force {
            self.meet(name);
            return Ok(None);
        }
        self.keep(name, Entry { key, bytes })?;
        if !is_there {
            draft.place(self.force || standing != Standing::Free)?;
        }
        if let Some(known) = self.made().known.get_mut(name) {
            known.run = Run::Placed;
        }
        Ok(Some(if is_there { Put::ThereAlready } else { Put::New }))
    }

    /// Says that this run has to do with a file.
    pub(super) fn meet(&self, name: &str) {
        if let Some(known) = self.made().known.get_mut(name) {
            known.met();
        }
    }

    fn keep(&self, name: &str, entry: Entry) -> Result<(), Failure> {
        let mut made = self.made();
        if let Some(known) = made.known.get_mut(name) {
            known.met();
            if known.last == entry {
                return Ok(());
            }
            known.push(entry);
        } else {
            let new = Known { run: Run::Met, ..Known::new(entry) };
            made.known.insert(name.to_owned(), new);
        }
        let line = line(name, entry);
        let why = made.list.write_all(line.as_bytes());
        why.map_err(|e| self.list_failed(&e))
    }

    fn list_failed(&self, why: &std::io::Error) -> Failure {
        Failure::Machine(format!(
            "cannot write {}: {}",
            self.join(LIST).display(),
            why.kind()
        ))
    }

    /// Writes the list anew, each file once unless a run was ended before it put the file in
    /// its place, and names the files of earlier runs that this one had nothing to do with.
    pub(super) fn close(&self) -> Result<Vec<String>, Failure> {
        let mut made = self.made();
        made.known.retain(|name, known| {
            if known.run == Run::Placed {
                known.before = Vec::new();
            }
            fs::symlink_metadata(self.path.join(name)).is_ok()
        });
        made.list = write(&self.path, &made.known)?;
        let others = made.known.iter().filter(|(_, known)| known.run == Run::Not);
        Ok(others.map(|(name, _)| name.clone()).collect())
    }

    fn made(&self) -> MutexGuard<'_, Made> {
        self.made.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// How a file came to be in its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Put {
    New,
    ThereAlready,
}

/// Keeps the folder to this batch. Where folders cannot be locked, nothing is.
fn lock(path: &Path) -> Result<Option<File>, Failure> {
    let Ok(folder) = File::open(path) else { return Ok(None) };
    match folder.try_lock() {
        Ok(()) => Ok(Some(folder)),
        Err(TryLockError::WouldBlock) => Err(Failure::Machine(format!(
            "another batch is at work in {}; wait for it to end, or give another folder",
            path.display()
        ))),
        Err(TryLockError::Error(_)) => Ok(None),
    }
}

/// Takes away what was begun and never put in its place: plain files whose names are those of
/// drafts.
fn sweep(path: &Path) -> Result<(), Failure> {
    let fail = |e: &std::io::Error| {
        Failure::Machine(format!("cannot read {}: {}", path.display(), e.kind()))
    };
    for entry in fs::read_dir(path).map_err(|e| fail(&e))? {
        let entry = entry.map_err(|e| fail(&e))?;
        let name = entry.file_name();
        let rest = name.to_str().and_then(|n| n.strip_prefix(files::DRAFT));
        let is_draft = rest.is_some_and(|r| {
            r.len() == files::IN_BATCH && r.bytes().all(|b| b.is_ascii_alphanumeric())
        });
        if is_draft && entry.file_type().is_ok_and(|t| t.is_file()) {
            fs::remove_file(entry.path()).map_err(|e| {
                let path = entry.path();
                Failure::Machine(format!(
                    "cannot remove {}: {}",
                    path.display(),
                    e.kind()
                ))
            })?;
        }
    }
    Ok(())
}

fn hash(path: &Path) -> Option<[u8; 32]> {
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

fn line(name: &str, Entry { key, bytes }: Entry) -> String {
    format!("{} {} {name}\n", hex(&key.0), hex(&bytes))
}

/// Reads a list. A line that is torn or none of ours is passed over; a list that cannot be
/// read is none.
fn read(path: &Path) -> BTreeMap<String, Known> {
    let mut known: BTreeMap<String, Known> = BTreeMap::new();
    if !fs::symlink_metadata(path).is_ok_and(|there| there.is_file()) {
        return known;
    }
    let text = fs::read(path).unwrap_or_default();
    let text = String::from_utf8_lossy(&text);
    // A last line without its end may have lost a part of the name.
    let whole = text.rsplit_once('\n').map_or("", |(whole, _)| whole);
    for line in whole.lines() {
        let mut parts = line.splitn(3, ' ');
        let mut number = || parts.next().and_then(unhex);
        let (Some(key), Some(bytes)) = (number(), number()) else { continue };
        let Some(name) = parts.next() else { continue };
        let entry = Entry { key: Key(key), bytes };
        known
            .entry(name.to_owned())
            .and_modify(|known| known.push(entry))
            .or_insert_with(|| Known::new(entry));
    }
    known
}

/// Writes a list, and gives the file to go on with.
fn write(folder: &Path, known: &BTreeMap<String, Known>) -> Result<File, Failure> {
    let mut draft = Draft::new(&folder.join(LIST))?;
    let mut all = || {
        let mut list = BufWriter::new(&mut draft);
        list.write_all(ABOUT.as_bytes())?;
        for (name, known) in known {
            for entry in known.before.iter().chain([&known.last]) {
                list.write_all(line(name, *entry).as_bytes())?;
            }
        }
        list.flush()
    };
    all().map_err(|e| draft.failed(&e))?;
    draft.place(true)
}

pub(super) fn hex(bytes: &[u8; 32]) -> String {
    bytes.iter().fold(String::with_capacity(64), |mut text, byte| {
        // Writing to a string cannot fail.
        let _ = std::fmt::Write::write_fmt(&mut text, format_args!("{byte:02x}"));
        text
    })
}

fn unhex(text: &str) -> Option<[u8; 32]> {
    let mut bytes = [0; 32];
    if text.len() != 64 || !text.is_ascii() {
        return None;
    }
    for (i, byte) in bytes.iter_mut().enumerate() {
        *byte = u8::from_str_radix(text.get(2 * i..2 * i + 2)?, 16).ok()?;
    }
    Some(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A run that is ended between the line of a file and the file leaves the one before it;
    /// a run that then does not come to draw it still knows it.
    #[test]
    fn a_file_is_known_until_another_is_in_its_place() {
        let place = tempfile::tempdir().unwrap();
        let open = || Folder::open(place.path(), false).ok().unwrap();
        let [old, new] = ["old", "new"].map(|text| Key::of([text]));
        let folder = open();
        folder.put("a.pdf", old, b"old").ok().unwrap();
        folder.close().ok().unwrap();
        drop(folder);
        let folder = open();
        folder.keep("a.pdf", Entry { key: new, bytes: [7; 32] }).ok().unwrap();
        drop(folder);
        let folder = open();
        folder.meet("a.pdf");
        folder.close().ok().unwrap();
        assert_eq!(folder.standing("a.pdf", new), Standing::Ours);
        assert_eq!(folder.standing("a.pdf", old), Standing::Same);
        folder.put("a.pdf", new, b"new").ok().unwrap();
        folder.close().ok().unwrap();
        let list = fs::read_to_string(place.path().join(LIST)).unwrap();
        assert_eq!(list.lines().count(), 2, "about, and one line: {list}");
    }
}
