//! A workshop: its profile, and its own templates.

use super::template_loader::FileLoader;
use super::{Failure, Result, files};
use crate::diagnostic::{Finding, Span, Spanned, shown_path};
use crate::profile::{Profile, rule};
use crate::template::{self, TemplateLoader as _};
use etcetera::BaseStrategy as _;
use std::path::{Path, PathBuf};

/// The name of a profile's file.
pub(crate) const FILE: &str = "strapwright.toml";

/// Where a workshop is looked for.
pub(crate) struct Search<'a> {
    /// Paths in a job begin here, and profiles are looked for from here upward.
    pub(crate) folder: &'a Path,
    /// The folder of templates that comes before that of the profile.
    pub(crate) templates: Option<&'a Path>,
    /// The one for want of another.
    pub(crate) else_templates: Option<PathBuf>,
    /// The profile; `None` to look for one.
    pub(crate) profile: Option<&'a Path>,
    pub(crate) no_profile: bool,
}

/// What a command works with, besides its job.
pub(crate) struct Workshop {
    /// With all that was found on the way.
    pub(crate) profile: Profile,
    pub(crate) loader: FileLoader,
    /// Where the folder of templates was given, if not in the profile.
    pub(crate) templates_flag: bool,
}

impl Search<'_> {
    /// Opens the workshop. Findings are in its profile.
    ///
    /// # Errors
    /// When a profile or the folder of templates cannot be read.
    pub(crate) fn open(&self) -> Result<Workshop> {
        let (paths, passed_over) = self.find_profiles();
        let read = |path: &PathBuf| files::read(path.as_os_str());
        let texts: Vec<template::Text> = paths.iter().map(read).collect::<Result<_>>()?;
        let named = texts.iter().map(|t| (t.name.as_str(), t.text.as_ref()));
        let mut profile = Profile::read(named);
        profile.findings.extend(passed_over);
        let mut loader = FileLoader::new(self.folder, texts);
        let own = profile.templates.as_ref().filter(|_| self.templates.is_none());
        let own = own.map(|own| (path_of(&loader, own), own.span.clone()));
        let flag = self.templates.map(Path::to_owned);
        let folder = flag
            .or_else(|| own.as_ref().map(|own| own.0.clone()))
            .or(self.else_templates.clone());
        let added = folder.map_or(Ok(()), |folder| {
            let shown = shown_path(&folder);
            loader.add_folder(folder).map_err(|e| format!("{shown}: {e}"))
        });
        let finding = match (added, own) {
            (Ok(()), own) => own.and_then(|(_, span)| hidden(&loader, span)),
            (Err(why), Some((_, span))) => Some(
                Finding::error(rule::PROFILE_VALUE, "the templates cannot be read")
                    .at(span)
                    .expected(why, "a folder with templates, one TOML file each")
                    .remedy(
                        "make it, or correct the path, which begins where this file is",
                    ),
            ),
            (Err(why), None) => {
                let what = "give a folder with templates, one TOML file each";
                return Err(Failure::System(format!("--templates {why}; {what}")));
            }
        };
        profile.findings.extend(finding);
        Ok(Workshop { profile, loader, templates_flag: self.templates.is_some() })
    }

    /// Where profiles are looked for: the one that is named, or the places from the folder
    /// upward; and that of the user. The first of each that is there counts.
    fn profile_paths(&self) -> [Vec<PathBuf>; 2] {
        if self.no_profile {
            return [const { Vec::new() }; 2];
        }
        let of_user = etcetera::choose_base_strategy().ok();
        let of_user = of_user.map(|all| all.config_dir().join("strapwright").join(FILE));
        let upward = std::path::absolute(self.folder.join(FILE)).unwrap_or_default();
        let upward = upward.ancestors().skip(1).map(|folder| folder.join(FILE));
        let upward = upward.filter(|path| Some(path) != of_user.as_ref());
        let named = self.profile.map(|path| vec![path.to_owned()]);
        [named.unwrap_or_else(|| upward.collect()), of_user.into_iter().collect()]
    }

    /// The files that decide the workshop of a job, also those that are not there yet.
    pub(crate) fn files(&self) -> Vec<PathBuf> {
        self.profile_paths().concat()
    }

    /// The nearest profile, and below it that of the user; each with a finding if it is passed
    /// over.
    fn find_profiles(&self) -> (Vec<PathBuf>, Vec<Finding>) {
        let here = std::env::current_dir().unwrap_or_default();
        let short = |path: &PathBuf| path.strip_prefix(&here).unwrap_or(path).to_owned();
        // One that the user named may be anybody's.
        let is_named = |path: &PathBuf| Some(path.as_path()) == self.profile;
        let is_there = |path: &PathBuf| is_named(path) || path.is_file();
        let found = self.profile_paths().into_iter();
        let mut found: Vec<PathBuf> =
            found.filter_map(|places| places.into_iter().find(is_there)).collect();
        let mut findings = Vec::new();
        found.retain(|path| {
            let why = why_passed_over(path).filter(|_| !is_named(path));
            findings.extend(why.map(|why| passed_over(&short(path), why)));
            why.is_none()
        });
        (found.iter().map(short).collect(), findings)
    }
}

impl Workshop {
    /// The path of the profile's printer file.
    pub(crate) fn printer(&self) -> Option<PathBuf> {
        Some(path_of(&self.loader, self.profile.printer.as_ref()?))
    }
}

/// A path of a profile, which begins in the profile's folder.
fn path_of(loader: &FileLoader, given: &Spanned<String>) -> PathBuf {
    let text = given.span.as_ref().and_then(|span| loader.profiles().get(span.source));
    let folder = text.and_then(|text| text.path.as_deref()?.parent());
    folder.unwrap_or(Path::new("")).join(&given.value)
}

/// Finds templates of the profile's folder that hide one of the program's: without the
/// profile, a job would silently be another strap.
fn hidden(loader: &FileLoader, span: Option<Span>) -> Option<Finding> {
    let name = loader.own_names().find(|name| template::find(name).is_some())?;
    let message = format!("an own template is called `{name}`, as one of the program's");
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
