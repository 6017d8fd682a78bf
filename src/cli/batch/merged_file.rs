//! One PDF of all orders, for `--merge`.

use super::super::{Failure, Result, files};
use super::folder::Existing;
use super::lists::Lists;
use super::order::{OrderResult, Shared};
use crate::batch::{CacheKey, FileNames, Row, Status};
use crate::diagnostic::shown_path;
use crate::export::hex;
use crate::export::pdf::Merger;
use rayon::prelude::*;
use std::ffi::OsStr;
use std::path::PathBuf;

pub(super) struct MergedFile {
    pub(super) name: String,
    /// The title in the document information.
    title: String,
    /// The key of the orders so far.
    key: CacheKey,
    /// The orders so far; `None` if the file exists and is up to date.
    merger: Option<Merger>,
    path: PathBuf,
}

impl MergedFile {
    /// Begins the file, which has the name of the table, unless it is up to date.
    ///
    /// # Errors
    /// When a file that no batch made has its path.
    pub(super) fn new(orders: &OsStr, shared: &Shared<'_>) -> Result<Self> {
        let title = files::stem(orders, "orders");
        let name = format!("{}.pdf", FileNames::default().assign(&title));
        let folder = shared.folder;
        let path = folder.join(&name);
        let key = CacheKey::new(["all"]);
        let is_there =
            !shared.args.force && folder.join(&name).symlink_metadata().is_ok();
        let existing = if is_there {
            // To lay out all orders takes little time compared with drawing them.
            folder.existing(&name, key_of_all(shared, key))
        } else {
            Existing::Nothing
        };
        let merger = match existing {
            Existing::UpToDate => None,
            Existing::Nothing | Existing::Outdated => Some(Merger::default()),
            Existing::Foreign => {
                return Err(Failure::System(format!(
                    "{} exists and was not made by this batch, or was changed since; it was \
                     not changed now: give --force to replace it, or -o FOLDER to write to \
                     another folder",
                    shown_path(&path)
                )));
            }
        };
        Ok(Self { name, title, key, merger, path })
    }

    pub(super) fn is_up_to_date(&self) -> bool {
        self.merger.is_none()
    }

    /// Adds an order: its drawing, if there is one, and its key. An order that failed changes
    /// the key in another way, so that a file without it is never up to date.
    ///
    /// # Errors
    /// When the drawing cannot be read.
    pub(super) fn add(&mut self, result: &OrderResult) -> Result {
        let OrderResult { order, summary, bytes, .. } = result;
        if let (Some(merger), Some(bytes)) = (&mut self.merger, bytes) {
            merger.add(&order.name, bytes).map_err(|e| self.failure(&e))?;
        }
        self.key = next_key(self.key, &order.name, order.key);
        if summary.status == Status::Failed {
            self.key = next_key(self.key, "failed", order.key);
        }
        Ok(())
    }

    /// Writes the file and puts it in its place.
    ///
    /// # Errors
    /// When it cannot be written.
    pub(super) fn finish(mut self, lists: &mut Lists<'_>) -> Result {
        let Some(merger) = self.merger.take() else {
            lists.folder.claim(&self.name);
            lists.note(&self.name, true);
            return Ok(());
        };
        let mut file = lists.folder.create(&self.name)?;
        merger.finish(&self.title, &mut file).map_err(|e| self.failure(&e))?;
        let written = lists.folder.persist(&self.name, self.key, file)?;
        lists.note(&self.name, written.is_some());
        Ok(())
    }

    fn failure(&self, error: &std::io::Error) -> Failure {
        files::not_written(&self.path, &self.path, "give -o FOLDER elsewhere", error)
    }
}

/// The key of a file of all orders, if none fails.
fn key_of_all(shared: &Shared<'_>, mut key: CacheKey) -> CacheKey {
    let mut rows = shared.inputs.table.rows();
    loop {
        let chunk: Vec<Row> = rows.by_ref().take(super::CHUNK).collect();
        if chunk.is_empty() {
            return key;
        }
        let keys: Vec<(String, CacheKey)> =
            chunk.par_iter().map(|row| shared.key(row)).collect();
        key = keys.iter().fold(key, |key, (name, own)| next_key(key, name, *own));
    }
}

fn next_key(before: CacheKey, name: &str, own: CacheKey) -> CacheKey {
    CacheKey::new([hex(&before.0).as_str(), name, hex(&own.0).as_str()])
}
