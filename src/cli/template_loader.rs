//! Templates that the user wrote: beside the job, or in a folder.

use super::{Failure, Result, files};
use crate::template::{BuiltIn, Missing, TemplateLoader, Text};
use clap::Args;
use std::borrow::Cow;
use std::collections::BTreeSet;
use std::ffi::OsStr;
use std::path::{Path, PathBuf};

#[derive(Args, Clone, Debug, Default)]
pub(super) struct TemplateArgs {
    /// A folder of your own templates; they come before the built-in ones
    #[arg(long, value_name = "DIR")]
    templates: Option<PathBuf>,
}

impl TemplateArgs {
    /// The loader for the job at `job`. Paths in the job begin in its folder; without a job,
    /// or on standard input, in the working folder.
    ///
    /// # Errors
    /// When the folder of templates cannot be read.
    pub(super) fn open(&self, job: Option<&OsStr>) -> Result<FileLoader> {
        let job = job.filter(|path| *path != "-").map(Path::new);
        let job_folder = job.and_then(Path::parent).unwrap_or(Path::new("")).to_owned();
        FileLoader::open(job_folder, self.templates.clone())
    }
}

/// Finds the templates of a folder, then the built-in ones, and template files by their paths.
#[derive(Debug)]
pub(crate) struct FileLoader {
    /// Paths in the job begin here.
    job_folder: PathBuf,
    folder: Option<PathBuf>,
    /// The names in the folder.
    names: BTreeSet<String>,
}

impl FileLoader {
    /// The loader of a folder of templates, for jobs whose paths begin in `job_folder`.
    ///
    /// # Errors
    /// When the folder of templates cannot be read.
    pub(crate) fn open(job_folder: PathBuf, folder: Option<PathBuf>) -> Result<Self> {
        let names =
            folder.as_deref().map(template_names).transpose()?.unwrap_or_default();
        Ok(Self { job_folder, folder, names })
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
            return read(&folder.join(name));
        }
        match self.in_folder(name) {
            // A template that names its own name lies over the one that it hides.
            Some(path) if by.is_none_or(|text| Path::new(&text.name) != path) => {
                read(&path)
            }
            _ => BuiltIn.find(name, by),
        }
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
    let shown = path.display().to_string();
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
            "--templates {}: {e}; give a folder with templates, one TOML file each",
            folder.display()
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
