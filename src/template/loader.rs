//! Loading templates by name: the built-in ones, and those of a user.

use super::find;
use std::borrow::Cow;
use std::path::PathBuf;

/// A text that is read: a job, a template, a profile or another of a workshop.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Text {
    /// The name that findings show: `template belt`, or the path of its file.
    pub name: String,
    /// The whole text.
    pub text: Cow<'static, str>,
    /// Its file; `None` for a built-in template and for standard input.
    pub path: Option<PathBuf>,
}

/// Why a name gives no template.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Missing {
    /// There is no template of that name.
    Unknown,
    /// The name is a path, and no file is there.
    NoFile {
        /// The path that was tried.
        path: String,
    },
    /// There is a file, but it cannot be read as text.
    Unreadable {
        /// What is wrong with it.
        why: String,
    },
}

/// Finds templates by the name that `template = ` gives.
pub trait TemplateLoader {
    /// The template that the text `by` names; `None` stands for a job.
    ///
    /// # Errors
    /// There is no such template, or it cannot be read.
    fn find(&self, name: &str, by: Option<&Text>) -> Result<Text, Missing>;

    /// The profiles whose hardware and leather a text may name, the nearest first. Each is TOML.
    fn profiles(&self) -> &[Text] {
        &[]
    }

    /// All names, in the order in which they are looked for.
    fn names(&self) -> Vec<String>;
}

/// Loads built-in templates only.
#[derive(Clone, Copy, Debug, Default)]
pub struct BuiltIn;

impl TemplateLoader for BuiltIn {
    fn find(&self, name: &str, _: Option<&Text>) -> Result<Text, Missing> {
        let template = find(name).ok_or(Missing::Unknown)?;
        Ok(Text {
            name: format!("template {name}"),
            text: Cow::Borrowed(template.text),
            path: None,
        })
    }

    fn names(&self) -> Vec<String> {
        super::REGISTER.iter().map(|t| t.name.to_owned()).collect()
    }
}
