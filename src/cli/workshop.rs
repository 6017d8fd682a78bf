//! The workshop that a command runs in: its profile, and its own templates.

use super::template_loader::FileLoader;
use super::terminal::show_findings;
use super::{Failure, Result, check_allowed, files};
use crate::diagnostic::{Finding, Spanned, shown_path};
use crate::profile::{Profile, rule};
use crate::template;
use crate::words::Units;
use clap::Args;
use etcetera::BaseStrategy as _;
use std::borrow::Cow;
use std::ffi::{OsStr, OsString};
use std::path::{Path, PathBuf};

/// The name of a profile's file.
const FILE: &str = "strapwright.toml";

#[derive(Args, Clone, Debug, Default)]
pub(crate) struct WorkshopArgs {
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

/// What a command works with, besides its job.
pub(crate) struct Workshop {
    pub(crate) profile: Profile,
    pub(crate) loader: FileLoader,
    /// Where the folder of templates was given, if not in the profile.
    pub(super) templates_flag: bool,
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
        self.open_in(job.and_then(Path::parent).unwrap_or(Path::new("")), None)
    }

    /// The same for a folder, with a folder of templates for want of another.
    ///
    /// # Errors
    /// Those of [`open`](Self::open).
    pub(crate) fn open_in(
        &self,
        folder: &Path,
        templates: Option<PathBuf>,
    ) -> Result<Workshop> {
        let default = templates;
        let (paths, passed_over) = self.find_profiles(folder)?;
        let read = |path: &PathBuf| files::read(path.as_os_str());
        let texts: Vec<files::Text> = paths.iter().map(read).collect::<Result<_>>()?;
        let named = texts.iter().map(|t| (t.name.as_str(), t.text.as_str()));
        let mut profile = Profile::read(named);
        profile.findings.extend(passed_over);
        let own = profile.templates.as_ref().map(|own| path_of(&profile, own));
        let is_own = self.templates.is_none() && own.is_some();
        let templates = self.templates.clone().or(own).or(default);
        let text = |t: files::Text| {
            let (name, text) = (t.name, Cow::Owned(t.text));
            template::Text { name, text, carried: false }
        };
        let profiles = texts.into_iter().map(text).collect();
        let loader = FileLoader::open(folder, templates, profiles)?;
        if is_own {
            profile.findings.extend(hidden(&profile, &loader));
        }
        show_findings(&profile.findings, &profile.sources);
        check_allowed(&profile.findings)?;
        Ok(Workshop { profile, loader, templates_flag: self.templates.is_some() })
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

    /// The nearest profile, and below it that of the user; each with a finding if it is passed
    /// over.
    fn find_profiles(&self, folder: &Path) -> Result<(Vec<PathBuf>, Vec<Finding>)> {
        let (mut found, mut findings) = (Vec::new(), Vec::new());
        if self.no_profile {
            return Ok((found, findings));
        }
        let of_user = etcetera::choose_base_strategy()
            .ok()
            .map(|folders| folders.config_dir().join("strapwright").join(FILE))
            .filter(|path| path.is_file());
        if let Some(path) = &self.profile {
            found.push(path.clone());
        } else {
            let absolute = std::path::absolute(folder.join(FILE)).map_err(|e| {
                Failure::System(format!("cannot find the folder of the job: {e}"))
            })?;
            let mut upward = absolute.ancestors().skip(1).map(|f| f.join(FILE));
            let nearest = upward.find(|path| path.is_file());
            let here = std::env::current_dir().unwrap_or_default();
            let short = |path: PathBuf| match path.strip_prefix(&here) {
                Ok(short) => short.to_owned(),
                Err(_) => path,
            };
            found.extend(nearest.filter(|p| Some(p) != of_user.as_ref()).map(short));
        }
        found.extend(of_user);
        found.retain(|path| {
            // One that the user named may be anybody's.
            let is_named = Some(path) == self.profile.as_ref();
            let why = why_passed_over(path).filter(|_| !is_named);
            findings.extend(why.map(|why| passed_over(path, why)));
            why.is_none()
        });
        Ok((found, findings))
    }
}

impl Workshop {
    /// The units that come first, where no flag says so.
    pub(super) fn units(&self) -> Units {
        self.profile.wording().units
    }

    /// The path of the profile's printer file.
    pub(crate) fn printer(&self) -> Option<PathBuf> {
        Some(path_of(&self.profile, self.profile.printer.as_ref()?))
    }
}

/// A path of a profile, which begins in the profile's folder.
fn path_of(profile: &Profile, given: &Spanned<String>) -> PathBuf {
    let place = given.span.as_ref().and_then(|span| profile.place(span));
    let folder = place.and_then(|(name, _)| Path::new(name).parent());
    folder.unwrap_or(Path::new("")).join(&given.value)
}

/// Finds templates of the profile's folder that hide one of the program's: without the
/// profile, a job would silently be another strap.
fn hidden(profile: &Profile, loader: &FileLoader) -> Option<Finding> {
    let name = loader.own_names().find(|name| template::find(name).is_some())?;
    let message = format!("an own template is called `{name}`, as one of the program's");
    let span = profile.templates.as_ref().and_then(|given| given.span.clone());
    Some(
        Finding::error(rule::PROFILE_VALUE, message)
            .at(span)
            .expected(format!("{name}.toml in this folder"), "names of their own")
            .remedy(format!(
                "call it house-{name}.toml; or leave this line out and give --templates each \
                 time"
            )),
    )
}

fn passed_over(path: &Path, why: &str) -> Finding {
    let message = format!("the profile {} is not read: {why}", shown_path(path));
    Finding::warning(rule::PROFILE_PASSED_OVER, message)
        .expected("a file that another could have planted", "a file of your own")
        .remedy(
            "look at it; then make it yours (chown, chmod o-w), or give --profile FILE",
        )
}

/// Why a file that was only found may not be believed: measures that somebody planted would
/// ruin leather.
#[cfg(unix)]
fn why_passed_over(path: &Path) -> Option<&'static str> {
    use std::os::unix::fs::MetadataExt;
    let metadata = std::fs::metadata(path).ok()?;
    let own = rustix::process::geteuid().as_raw();
    if ![0, own].contains(&metadata.uid()) {
        return Some("it is another user's");
    }
    (metadata.mode() & 0o002 != 0).then_some("everybody may write it")
}

#[cfg(not(unix))]
fn why_passed_over(_: &Path) -> Option<&'static str> {
    None
}
