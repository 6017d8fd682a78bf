//! A workshop: its profile, and its own templates.

use super::template_loader::FileLoader;
use super::{Failure, Result, files};
use crate::diagnostic::{Finding, Spanned, shown_path};
use crate::profile::{Profile, rule};
use crate::template;
use crate::words::Units;
use etcetera::BaseStrategy as _;
use std::borrow::Cow;
use std::path::{Path, PathBuf};

/// The name of a profile's file.
const FILE: &str = "strapwright.toml";

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
    pub(crate) fn open(self) -> Result<Workshop> {
        let (paths, passed_over) = self.find_profiles()?;
        let read = |path: &PathBuf| files::read(path.as_os_str());
        let texts: Vec<files::Text> = paths.iter().map(read).collect::<Result<_>>()?;
        let named = texts.iter().map(|t| (t.name.as_str(), t.text.as_str()));
        let mut profile = Profile::read(named);
        profile.findings.extend(passed_over);
        let own = profile.templates.as_ref().map(|own| path_of(&profile, own));
        let given = self.templates.map(Path::to_owned);
        let is_own = given.is_none() && own.is_some();
        let templates = given.or(own).or(self.else_templates);
        let text = |t: files::Text| {
            let (name, text) = (t.name, Cow::Owned(t.text));
            template::Text { name, text, carried: false }
        };
        let profiles = texts.into_iter().map(text).collect();
        let loader = FileLoader::open(self.folder, templates, profiles)?;
        if is_own {
            profile.findings.extend(hidden(&profile, &loader));
        }
        Ok(Workshop { profile, loader, templates_flag: self.templates.is_some() })
    }

    /// The nearest profile, and below it that of the user; each with a finding if it is passed
    /// over.
    fn find_profiles(&self) -> Result<(Vec<PathBuf>, Vec<Finding>)> {
        let (mut found, mut findings) = (Vec::new(), Vec::new());
        if self.no_profile {
            return Ok((found, findings));
        }
        let of_user = etcetera::choose_base_strategy()
            .ok()
            .map(|folders| folders.config_dir().join("strapwright").join(FILE))
            .filter(|path| path.is_file());
        if let Some(path) = self.profile {
            found.push(path.to_owned());
        } else {
            let absolute = std::path::absolute(self.folder.join(FILE)).map_err(|e| {
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
            let is_named = Some(path.as_path()) == self.profile;
            let why = why_passed_over(path).filter(|_| !is_named);
            findings.extend(why.map(|why| passed_over(path, why)));
            why.is_none()
        });
        Ok((found, findings))
    }
}

impl Workshop {
    /// The units that come first, where no flag says so.
    pub(crate) fn units(&self) -> Units {
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
