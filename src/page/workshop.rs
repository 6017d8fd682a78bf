//! The workshop's folder: templates of its own and printer files, the same that the command line
//! reads and writes. Only names that are listed are read, so no name leads out of it.

use crate::cli::files;
use crate::cli::template_loader::FileLoader;
use crate::diagnostic::Sources;
use crate::printer::{self, Printer};
use std::path::PathBuf;
use std::sync::{Mutex, PoisonError};

/// The folder that the page works in, and what it finds there.
#[derive(Debug)]
pub struct Workshop {
    pub(super) loader: FileLoader,
    /// Where printer files lie.
    printers: PathBuf,
    /// Held while a file is written: one after the other.
    writing: Mutex<()>,
}

impl Workshop {
    /// The workshop in a folder. Its templates lie in `templates`, its printer files in
    /// `printers`, where there are such folders.
    ///
    /// # Errors
    /// When the templates cannot be read, in words.
    pub fn open(folder: PathBuf) -> Result<Self, String> {
        let templates = Some(folder.join("templates")).filter(|path| path.is_dir());
        let printers = folder.join("printers");
        let loader =
            FileLoader::open(folder, templates).map_err(|why| why.to_string())?;
        Ok(Self { loader, printers, writing: Mutex::new(()) })
    }

    /// The names of the printers, in order.
    pub(super) fn printers(&self) -> Vec<String> {
        let entries = std::fs::read_dir(&self.printers).into_iter().flatten().flatten();
        let mut names: Vec<String> = entries
            .map(|entry| entry.path())
            .filter(|path| path.extension().is_some_and(|e| e == "toml"))
            .filter_map(|path| Some(path.file_stem()?.to_str()?.to_owned()))
            .collect();
        names.sort();
        names
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
        let is_plain = |c: char| c.is_alphanumeric() || c == '-' || c == '_' || c == ' ';
        if name.is_empty() || !name.chars().all(is_plain) || !printer::is_name(name) {
            let why = "has to be up to 60 letters, digits, spaces and hyphens";
            return Err(format!("The name of a printer {why}; `{name}` is not."));
        }
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
        files::write(&self.printer_file(name), text.as_bytes(), is_there)
            .map_err(|why| why.to_string())
    }
}
