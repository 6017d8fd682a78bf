//! The workshop that a command runs in, by its flags.

use super::terminal::show_findings;
use super::{Result, check_allowed};
use crate::disk::workshop::Search;
pub(super) use crate::disk::workshop::Workshop;
use clap::Args;
use std::ffi::OsStr;
use std::path::{Path, PathBuf};

#[derive(Args, Clone, Debug, Default)]
pub(super) struct WorkshopArgs {
    /// A folder of your own templates; they come before the built-in ones
    #[arg(long, value_name = "DIR")]
    templates: Option<PathBuf>,
    /// The profile of your workshop [default: the nearest strapwright.toml, from the folder of
    /// the job upward]
    #[arg(long, value_name = "FILE")]
    profile: Option<PathBuf>,
    /// Read no profile
    #[arg(long, conflicts_with = "profile")]
    no_profile: bool,
}

impl WorkshopArgs {
    /// The workshop for the job at `job`, or the table of a batch. Shows the findings of the
    /// profile.
    ///
    /// # Errors
    /// When a profile or the folder of templates cannot be read, or findings forbid it.
    pub(super) fn open(&self, job: Option<&OsStr>) -> Result<Workshop> {
        self.open_in(folder_of(job))
    }

    /// The same for a folder.
    ///
    /// # Errors
    /// Those of [`open`](Self::open).
    pub(super) fn open_in(&self, folder: &Path) -> Result<Workshop> {
        let workshop = self.read(folder)?;
        show_findings(&workshop.profile.findings, &workshop.profile.sources);
        check_allowed(&workshop.profile.findings)?;
        Ok(workshop)
    }

    /// The same, whatever its findings are, which are not shown.
    ///
    /// # Errors
    /// When a profile or the folder of `--templates` cannot be read.
    pub(super) fn read(&self, folder: &Path) -> Result<Workshop> {
        self.search(folder).open()
    }

    /// The files that decide the workshop of a job, also those that are not there yet.
    pub(super) fn files(&self, job: &OsStr) -> Vec<PathBuf> {
        self.search(folder_of(Some(job))).files()
    }

    fn search<'a>(&'a self, folder: &'a Path) -> Search<'a> {
        Search {
            folder,
            templates: self.templates.as_deref(),
            else_templates: None,
            profile: self.profile.as_deref(),
            no_profile: self.no_profile,
        }
    }
}

/// The folder that paths in a job begin in; without a job, or on standard input, the working
/// folder.
pub(super) fn folder_of(job: Option<&OsStr>) -> &Path {
    let job = job.filter(|path| *path != "-").map(Path::new);
    job.and_then(Path::parent).unwrap_or(Path::new(""))
}
