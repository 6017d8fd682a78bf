//! All drawings in one file.

use super::super::Failure;
use super::super::files::Draft;
use super::done::{Day, Done};
use super::folder::{Folder, Standing, hex};
use super::lists::Written;
use crate::batch::{Key, Names, Order, Row, Status};
use crate::export::pdf::Merger;
use rayon::prelude::*;
use std::ffi::OsStr;
use std::path::Path;

/// The one file.
pub(super) struct One {
    pub(super) name: String,
    /// What it is called by its readers.
    title: String,
    /// What the orders so far are drawn from.
    key: Key,
    /// The file as far as it is written; `None` where it is there already.
    merger: Option<Merger<Draft>>,
    path: String,
}

impl One {
    /// Begins the file of the day, called like the table, unless it is there and right.
    ///
    /// # Errors
    /// When another file is in its place, or it cannot be written.
    pub(super) fn new(orders: &OsStr, day: &Day<'_>) -> Result<Self, Failure> {
        let stem = Path::new(orders).file_stem().filter(|_| orders != "-");
        let title = stem.map_or("orders".into(), |s| s.to_string_lossy()).into_owned();
        let name = format!("{}.pdf", Names::default().give(&title));
        let folder = day.folder;
        let path = folder.join(&name).display().to_string();
        let begun = Key::of(["all"]);
        let free = Self { name, title, key: begun, merger: None, path };
        let is_there = !day.force && folder.join(&free.name).symlink_metadata().is_ok();
        let standing = if is_there {
            // The keys of all orders cost little beside their drawings.
            folder.standing(&free.name, all(day, begun))
        } else {
            Standing::Free
        };
        let merger = match standing {
            Standing::Same => None,
            Standing::Free | Standing::Ours => Some(free.begin(folder)?),
            Standing::Foreign => {
                return Err(Failure::Machine(format!(
                    "{} is there already and was not made by this batch, or was altered \
                     since; it was left as it is: give --force to replace it, or -o FOLDER \
                     to write to another folder",
                    free.path
                )));
            }
        };
        Ok(Self { merger, ..free })
    }

    fn begin(&self, folder: &Folder) -> Result<Merger<Draft>, Failure> {
        Merger::new(folder.draft(&self.name)?).map_err(|e| self.failed(&e))
    }

    pub(super) fn is_there(&self) -> bool {
        self.merger.is_none()
    }

    /// Takes an order's drawing in.
    pub(super) fn add(&mut self, done: &Done) -> Result<(), Failure> {
        let (Some(merger), Some(bytes)) = (&mut self.merger, &done.bytes) else {
            return Ok(());
        };
        merger.add(&done.order.name, bytes).map(drop).map_err(|e| self.failed(&e))
    }

    /// Counts an order, drawn or not, among what the file is made from. One that failed is to
    /// be tried again: a file without it is never taken for the right one.
    pub(super) fn count(&mut self, order: &Order, status: Status) {
        self.key = next(self.key, &order.name, order.key);
        if status == Status::Failed {
            self.key = next(self.key, status.word(), order.key);
        }
    }

    /// Puts the file in its place.
    pub(super) fn finish(
        mut self,
        folder: &Folder,
        written: &mut Written,
    ) -> Result<(), Failure> {
        let Some(merger) = self.merger.take() else {
            folder.meet(&self.name);
            written.note(&self.name, true);
            return Ok(());
        };
        let draft = merger.finish(&self.title).map_err(|e| self.failed(&e))?;
        let put = folder.settle(&self.name, self.key, draft)?;
        written.note(&self.name, put.is_some());
        Ok(())
    }

    fn failed(&self, why: &std::io::Error) -> Failure {
        Failure::Machine(format!("cannot write {}: {}", self.path, why.kind()))
    }
}

/// The key of the whole day.
fn all(day: &Day<'_>, begun: Key) -> Key {
    let mut rows = day.table.rows();
    let mut key = begun;
    loop {
        let some: Vec<Row> = rows.by_ref().take(super::AT_A_TIME).collect();
        if some.is_empty() {
            return key;
        }
        let keys: Vec<(String, Key)> = some.par_iter().map(|row| day.key(row)).collect();
        key = keys.iter().fold(key, |key, (name, own)| next(key, name, *own));
    }
}

fn next(before: Key, name: &str, own: Key) -> Key {
    Key::of([hex(&before.0).as_str(), name, hex(&own.0).as_str()])
}
