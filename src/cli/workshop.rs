//! The workshop that a command runs in, by its flags.

use super::terminal::show_findings;
use super::{Result, check_allowed};
use crate::disk::workshop::Search;
pub(super) use crate::disk::workshop::Workshop;
use clap::Args;
use std::ffi::{OsStr, OsString};
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
    /// The workshop for the job at `job`, or the table of a batch. Paths in the job begin in its
    /// folder; without a job, or on standard input, in the working folder. Shows the findings
    /// of the profile.
    ///
    /// # Errors
    /// When a profile or the folder of templates cannot be read, or findings forbid it.
    pub(super) fn open(&self, job: Option<&OsStr>) -> Result<Workshop> {
        let job = job.filter(|path| *path != "-").map(Path::new);
        let search = Search {
            folder: job.and_then(Path::parent).unwrap_or(Path::new("")),
            templates: self.templates.as_deref(),
            else_templates: None,
            profile: self.profile.as_deref(),
            no_profile: self.no_profile,
        };
        let workshop = search.open()?;
        let profile = &workshop.profile;
        show_findings(&profile.findings, &profile.sources);
        check_allowed(&profile.findings)?;
        Ok(workshop)
    }

    /// The same flags as words of a command line.
    pub(super) fn words(&self) -> Vec<OsString> {
        let mut words = Vec::new();
        for (flag, path) in
            [("--templates", &self.templates), ("--profile", &self.profile)]
        {
            if let Some(path) = path {
                words.extend([OsString::from(flag), path.as_os_str().to_owned()]);
            }
        }
        words.extend(self.no_profile.then(|| OsString::from("--no-profile")));
        words
    }
}
