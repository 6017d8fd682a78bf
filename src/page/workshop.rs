//! The workshop's folder: templates of its own and printer files, the same that the command line
//! reads and writes. Only names that are listed are read, so no name leads out of it.

use super::assets::hash;
use crate::cli::template_loader::FileLoader;
use crate::cli::workshop::WorkshopArgs;
use crate::cli::{draft, files};
use crate::diagnostic::Sources;
use crate::input;
use crate::printer::{self, Printer};
use crate::profile::Profile;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

/// Most job files that are looked at.
const MOST_JOBS: usize = 200;

/// The TOML files of a folder, each with its name without the ending.
fn texts(folder: &Path) -> impl Iterator<Item = (String, PathBuf)> {
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
    let is_toml = |path: &PathBuf| path.extension().is_some_and(|e| e == "toml");
    let paths = entries.map(|entry| entry.path()).filter(is_toml).filter(|p| p.is_file());
    paths.filter_map(|path| Some((path.file_stem()?.to_str()?.to_owned(), path)))
}

/// Checks that a name can be that of a file in the folder.
fn check_name(name: &str) -> Result<(), String> {
    let is_plain = |c: char| c.is_alphanumeric() || c == '-' || c == '_' || c == ' ';
    if name.chars().all(is_plain) && printer::is_name(name) && !name.trim().is_empty() {
        return Ok(());
    }
    let shown: String = name.chars().take(60).collect();
    Err(format!(
        "A name has up to 60 letters, digits, spaces and hyphens, unlike “{shown}”."
    ))
}

/// The folder that the page works in, and what it finds there.
#[derive(Debug)]
pub struct Workshop {
    pub(super) loader: FileLoader,
    /// What `strapwright.toml` says.
    pub(super) profile: Profile,
    /// Where job files lie.
    folder: PathBuf,
    /// Where printer files lie.
    printers: PathBuf,
    /// Held while a file is written: one after the other.
    writing: Mutex<()>,
}

impl Workshop {
    /// The workshop in a folder, with its profile. Its templates lie where that says, else in
    /// `templates`, its printer files in `printers`, where there are such folders.
    ///
    /// # Errors
    /// When profile or templates cannot be read, in words.
    pub fn open(folder: PathBuf) -> Result<Self, String> {
        let templates = Some(folder.join("templates")).filter(|path| path.is_dir());
        let printers = folder.join("printers");
        let opened = WorkshopArgs::default().open_in(&folder, templates);
        let opened = opened.map_err(|why| why.to_string())?;
        let (loader, profile) = (opened.loader, opened.profile);
        Ok(Self { loader, profile, folder, printers, writing: Mutex::new(()) })
    }

    /// The names of the printers, in order.
    pub(super) fn printers(&self) -> Vec<String> {
        let mut names: Vec<String> =
            texts(&self.printers).map(|(name, _)| name).collect();
        names.sort();
        names
    }

    /// The names of the job files, the newest first.
    pub(super) fn jobs(&self) -> Vec<String> {
        let is_job = |path: &Path| {
            let text = files::read(path.as_os_str()).map(|file| file.text);
            let root = input::parse_valid(&text.unwrap_or_default(), 0);
            root.leaf("template").is_some()
        };
        let age = |path: &Path| path.metadata().and_then(|m| m.modified()).ok();
        let all = texts(&self.folder).take(MOST_JOBS).filter(|(_, path)| is_job(path));
        let mut all: Vec<_> = all.map(|(name, path)| (age(&path), name)).collect();
        all.sort_by(|a, b| b.0.cmp(&a.0).then_with(|| a.1.cmp(&b.1)));
        all.into_iter().map(|(_, name)| name).collect()
    }

    /// The text of a job file that is there.
    pub(super) fn job_text(&self, name: &str) -> Option<String> {
        let (_, path) = texts(&self.folder).find(|(listed, _)| listed == name)?;
        files::read(path.as_os_str()).ok().map(|file| file.text)
    }

    /// Writes a job file. `seen` is the text that it had when it was opened, by its hash.
    ///
    /// # Errors
    /// In words, when the name cannot be that of a file, there is another text by now, or the
    /// file cannot be written.
    pub(super) fn keep_job(
        &self,
        name: &str,
        seen: &str,
        text: &str,
    ) -> Result<(), String> {
        check_name(name)?;
        let _turn = self.writing.lock().unwrap_or_else(PoisonError::into_inner);
        let path = self.folder.join(format!("{name}.toml"));
        let old = self.job_text(name);
        if old.as_ref().map_or_else(|| path.exists(), |old| hash(old) != seen) {
            return Err(format!(
                "There is another {name}.toml, or it has changed since you opened it. Choose \
                 another name, or open it again."
            ));
        }
        draft::write(&path, text.as_bytes(), old.is_some()).map_err(|why| why.to_string())
    }

    fn printer_file(&self, name: &str) -> PathBuf {
        self.printers.join(format!("{name}.toml"))
    }

    /// The text of a printer file that is listed.
    fn printer_text(&self, name: &str) -> Option<String> {
        let is_listed = self.printers().iter().any(|listed| listed == name);
        let path = Some(self.printer_file(name)).filter(|_| is_listed)?;
        files::read(path.as_os_str()).ok().map(|file| file.text)
    }

    /// A printer by its name; `None` where there is none or its file has a mistake.
    pub(super) fn printer(&self, name: &str) -> Option<Printer> {
        let text = self.printer_text(name)?;
        printer::read(&mut Sources::default(), name, &text).printer
    }

    /// Writes a printer file: `change` gets the text that is there, if any, and gives the new
    /// one. What is written reads back, or nothing is written.
    ///
    /// # Errors
    /// In words, when the name cannot be that of a file, `change` refuses, or the file cannot
    /// be written.
    pub(super) fn keep_printer(
        &self,
        name: &str,
        change: impl FnOnce(Option<String>) -> Result<String, String>,
    ) -> Result<(), String> {
        check_name(name)?;
        let _turn = self.writing.lock().unwrap_or_else(PoisonError::into_inner);
        let old = self.printer_text(name);
        let is_there = old.is_some();
        let text = change(old)?;
        if printer::read(&mut Sources::default(), name, &text).printer.is_none() {
            return Err(
                "These readings cannot be kept: they do not read back.".to_owned()
            );
        }
        files::create_folder(&self.printers).map_err(|why| why.to_string())?;
        draft::write(&self.printer_file(name), text.as_bytes(), is_there)
            .map_err(|why| why.to_string())
    }
}
