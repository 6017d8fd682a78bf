//! Templates that the user wrote: beside the job, or in a folder.

use super::{Failure, Result, files};
use crate::diagnostic::shown_path;
use crate::template::{BuiltIn, Missing, TemplateLoader, Text};
use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};
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
    read: Mutex<BTreeMap<PathBuf, std::result::Result<Text, Missing>>>,
}

impl FileLoader {
    /// All TOML files of the job's folder and of the folder of templates.
    pub(crate) fn files(&self) -> Vec<PathBuf> {
        let here = Path::new(".");
        let beside =
            if self.job_folder == Path::new("") { here } else { &self.job_folder };
        let folders = std::iter::once(beside).chain(self.folder.as_deref());
        let entries = folders.filter_map(|f| std::fs::read_dir(f).ok()).flatten();
        let paths = entries.flatten().map(|entry| entry.path());
        paths.filter(|path| path.extension().is_some_and(|e| e == "toml")).collect()
    }

    /// The loader for jobs in `job_folder`, with a folder of own templates if there is one.
    ///
    /// # Errors
    /// When the folder of templates cannot be read.
    pub(crate) fn open(
        job_folder: &Path,
        folder: Option<PathBuf>,
        profiles: Vec<Text>,
    ) -> Result<Self> {
        let names = folder.as_deref().map(template_names).transpose()?;
        let (job_folder, names) = (job_folder.to_owned(), names.unwrap_or_default());
        Ok(Self { job_folder, folder, names, profiles, read: Mutex::default() })
    }

    fn read(&self, path: &Path) -> std::result::Result<Text, Missing> {
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
    fn find(&self, name: &str, by: Option<&Text>) -> std::result::Result<Text, Missing> {
        if is_path(name) {
            let folder = match by {
                Some(text) if text.carried => Path::new(""),
                Some(text) => Path::new(&text.name).parent().unwrap_or(Path::new("")),
                None => &self.job_folder,
            };
            return self.read(&folder.join(name));
        }
        match self.in_folder(name) {
            // A template that names its own name lies over the one that it hides.
            Some(path) if by.is_none_or(|text| Path::new(&text.name) != path) => {
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

fn read(path: &Path) -> std::result::Result<Text, Missing> {
    let shown = shown_path(path);
    if !path.exists() {
        return Err(Missing::NoFile { path: shown });
    }
    let files::Text { name, text } = files::read(path.as_os_str())
        .map_err(|e| Missing::Unreadable { why: e.to_string() })?;
    Ok(Text { name, text: Cow::Owned(text), carried: false })
}

/// The names of the templates in a folder.
fn template_names(folder: &Path) -> Result<BTreeSet<String>> {
    let fail = |e: &std::io::Error| {
        Failure::System(format!(
            "--templates {} (or `templates` of a profile): {e}; give a folder with templates, one TOML file each",
            shown_path(folder)
        ))
    };
    let mut names = BTreeSet::new();
    for entry in std::fs::read_dir(folder).map_err(|e| fail(&e))? {
        let path = entry.map_err(|e| fail(&e))?.path();
        if path.extension().is_some_and(|e| e == "toml") {
            names.extend(path.file_stem().map(|s| s.to_string_lossy().into_owned()));
        }
    }
    Ok(names)
}
