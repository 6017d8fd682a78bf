//! What the page writes into the profile of its folder. A change is whole and reads back, or
//! nothing is written.

use super::say::say;
use super::toml_text;
use super::workshop::{WAY, WRITING, Workshop, check_name};
use crate::batch::{ColumnRules, NamedColumn, is_same_name};
use crate::diagnostic::{Finding, Severity};
use crate::disk::workshop::FILE;
use crate::disk::{draft, files};
use crate::profile::Profile;
use crate::template::{TemplateLoader, Text};
use std::path::Path;
use std::sync::PoisonError;

fn is_link(path: &Path) -> bool {
    path.symlink_metadata().is_ok_and(|there| !there.is_file())
}

fn lies_outside() -> String {
    say(
        "The profile that is in force lies outside of this folder, or is not to be changed. \
         Write it there, or start the page in its folder.",
    )
}

impl Workshop {
    /// Writes hardware or leather into the profile: its sort and its name, its measures as a
    /// person types them.
    ///
    /// # Errors
    /// In words, when the name cannot be that of a thing or the profile cannot be changed.
    pub(super) fn keep_thing(
        &self,
        [sort, name]: [&str; 2],
        measures: &[(String, String)],
    ) -> Result<(), String> {
        check_name(name)?;
        let measures = measures.iter().map(|(key, value)| (key.as_str(), value.as_str()));
        self.change_profile(|text| toml_text::with_thing(text, [sort, name], measures))
    }

    /// Writes settings into the profile, each with its key and its value.
    ///
    /// # Errors
    /// In words, when the profile cannot be changed.
    pub(super) fn keep_settings(
        &self,
        settings: &[(&str, String)],
    ) -> Result<(), String> {
        self.change_profile(|text| {
            let mut all = settings.iter();
            all.try_fold(text.to_owned(), |text, (key, value)| {
                toml_text::put(&text, key, value)
            })
        })
    }

    /// Writes into the profile what these columns of orders mean, where it says something else.
    ///
    /// # Errors
    /// In words, when the profile cannot be changed.
    pub(super) fn keep_columns(&self, columns: &[NamedColumn]) -> Result<(), String> {
        let ColumnRules { named, ignored, .. } = &self.profile.orders;
        let is_said = |column: &&NamedColumn| {
            let is = |name: &String| is_same_name(name, &column.name);
            let of = named.iter().find(|other| is(&other.name));
            let is_same = |other: &NamedColumn| {
                (&other.key, &other.unit) == (&column.key, &column.unit)
            };
            of.map_or(column.key.is_empty() && ignored.iter().any(is), is_same)
        };
        let new: Vec<NamedColumn> =
            columns.iter().filter(|c| !is_said(c)).cloned().collect();
        if new.is_empty() {
            return Ok(());
        }
        // A table of columns here would hide the one of another profile.
        let own = files::read(self.folder.join(FILE).as_os_str());
        let own = own.map(|file| Profile::read([(FILE, file.text.as_ref())]).orders);
        if own.unwrap_or_default() != self.profile.orders {
            return Err(lies_outside());
        }
        self.change_profile(|text| toml_text::with_columns(text, &new))
    }

    /// Changes the profile of the folder; `change` gives its new text, or `None`.
    fn change_profile(
        &self,
        change: impl FnOnce(&str) -> Option<String>,
    ) -> Result<(), String> {
        let _turn = WRITING.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(Err(why)) = self.changed() {
            return Err(why);
        }
        let path = self.folder.join(FILE);
        let is_there = path.symlink_metadata().is_ok();
        let own = std::path::absolute(&path).ok();
        let is_own = |text: &Text| {
            text.path.as_ref().and_then(|path| std::path::absolute(path).ok()) == own
        };
        // A new file here would hide that of a folder above.
        let in_force = self.loader.profiles().first();
        if in_force.map_or(is_there, |text| !is_own(text)) || is_link(&path) {
            return Err(lies_outside());
        }
        let old = is_there.then(|| files::read(path.as_os_str())).transpose();
        let old = old.map_err(|why| why.to_string())?;
        let old = old.map(|file| file.text.into_owned()).unwrap_or_default();
        let mistakes = |text: &str| {
            let Profile { findings, flaws, .. } = Profile::read([(FILE, text)]);
            let all = findings.into_iter().chain(flaws);
            all.filter(|finding| finding.severity == Severity::Error).collect::<Vec<_>>()
        };
        let new = change(&old).ok_or_else(|| {
            say("The profile has this name already, or cannot take it. Choose another name.")
        })?;
        let known = mistakes(&old);
        let is_new = |mistake: &Finding| {
            !known.iter().any(|old| {
                (&old.message, &old.found) == (&mistake.message, &mistake.found)
            })
        };
        if let Some(mistake) = mistakes(&new).into_iter().find(is_new) {
            return Err(format!("{}. {}", mistake.message, mistake.remedy));
        }
        draft::write_or(&path, new.as_bytes(), is_there, WAY)
            .map_err(|why| why.to_string())
    }
}
