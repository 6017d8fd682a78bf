//! Templates that the user wrote: beside the job, or in a folder.

use super::files;
use crate::diagnostic::shown_path;
use crate::template::{BuiltIn, Missing, TemplateLoader, Text};
use std::collections::{BTreeMap, BTreeSet};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

/// Finds the templates of a folder, then the built-in ones, and template files by their paths.
#[derive(Debug)]
pub(crate) struct FileLoader {
    /// Paths in the job begin here.
    job_folder: PathBuf,
    folder: Option<PathBuf>,
    /// The names in the folder.
    names: BTreeSet<String>,
    /// The profiles of the workshop, the nearest first.
    profiles: Vec<Text>,
    /// The files that were read: each is read once, also while somebody edits it.
    read: Mutex<BTreeMap<PathBuf, Result<Text, Missing>>>,
}

impl FileLoader {
    /// The loader for jobs in a folder, with the profiles of their workshop.
    pub(crate) fn new(job_folder: &Path, profiles: Vec<Text>) -> Self {
        let (job_folder, read) = (job_folder.to_owned(), Mutex::default());
        Self { job_folder, folder: None, names: BTreeSet::new(), profiles, read }
    }

    /// Adds a folder of own templates.
    ///
    /// # Errors
    /// When it cannot be read.
    pub(crate) fn add_folder(&mut self, folder: PathBuf) -> io::Result<()> {
        for entry in std::fs::read_dir(&folder)? {
            let path = entry?.path();
            let name = path.file_stem().and_then(|stem| stem.to_str());
            let is_toml = path.extension().is_some_and(|e| e == "toml");
            self.names.extend(name.filter(|_| is_toml).map(ToOwned::to_owned));
        }
        self.folder = Some(folder);
        Ok(())
    }

    /// The files of the folder's templates, and the paths that were read so far or looked for.
    pub(crate) fn files(&self) -> Vec<PathBuf> {
        let read = self.read.lock().unwrap_or_else(PoisonError::into_inner);
        let own = self.names.iter().filter_map(|name| self.in_folder(name));
        own.chain(read.keys().cloned()).collect()
    }

    fn read(&self, path: &Path) -> Result<Text, Missing> {
        let mut all = self.read.lock().unwrap_or_else(PoisonError::into_inner);
        all.entry(path.to_owned()).or_insert_with(|| read(path)).clone()
    }

    /// The folder of own templates.
    pub(crate) fn folder(&self) -> Option<&Path> {
        self.folder.as_deref()
    }

    /// The names of the folder's own templates.
    pub(crate) fn own_names(&self) -> impl Iterator<Item = &str> {
        self.names.iter().map(String::as_str)
    }

    /// The folder's file of that name.
    fn in_folder(&self, name: &str) -> Option<PathBuf> {
        let folder = self.folder.as_ref().filter(|_| self.names.contains(name))?;
        Some(folder.join(format!("{name}.toml")))
    }
}

impl TemplateLoader for FileLoader {
    fn find(&self, name: &str, by: Option<&Text>) -> Result<Text, Missing> {
        if is_path(name) {
            let folder = match by {
                Some(text) => text.path.as_deref().and_then(Path::parent),
                None => Some(self.job_folder.as_path()),
            };
            let folder = folder.unwrap_or(Path::new(""));
            return self.read(&folder.join(name));
        }
        match self.in_folder(name) {
            // A template that names its own name lies over the one that it hides.
            Some(path) if by.is_none_or(|text| text.path.as_ref() != Some(&path)) => {
                self.read(&path)
            }
            _ => BuiltIn.find(name, by),
        }
    }

    fn profiles(&self) -> &[Text] {
        &self.profiles
    }

    fn names(&self) -> Vec<String> {
        let carried = BuiltIn.names().into_iter().filter(|n| !self.names.contains(n));
        self.names.iter().cloned().chain(carried).collect()
    }
}

/// Whether the name of a template is the path of its file.
pub(crate) fn is_path(name: &str) -> bool {
    let is_file = Path::new(name).extension().is_some_and(|e| e == "toml");
    is_file || name.contains(['/', '\\'])
}

fn read(path: &Path) -> Result<Text, Missing> {
    if !path.exists() {
        return Err(Missing::NoFile { path: shown_path(path) });
    }
    let text = files::read(path.as_os_str());
    text.map_err(|e| Missing::Unreadable { why: e.to_string() })
}
