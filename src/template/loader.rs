//! Where templates are looked for: those that the program carries, and whatever its user
//! lays beside them.

use super::find;
use std::borrow::Cow;

/// The text of a template.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Text {
    /// What a person calls it: `template belt`, or the path of its file.
    pub name: String,
    /// The whole text.
    pub text: Cow<'static, str>,
    /// Whether the program carries it.
    pub carried: bool,
}

/// Why a name gives no template.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Missing {
    /// No template is called so.
    Unknown,
    /// The name is a path, and no file is there.
    NoFile {
        /// The path that was tried.
        path: String,
    },
    /// There is a file, but it is no text.
    Unreadable {
        /// What is wrong with it.
        why: String,
    },
}

/// Finds templates by the name that `template = ` gives.
pub trait TemplateLoader {
    /// The template of that name, as the text `by` names it, a job where it is `None`.
    ///
    /// # Errors
    ///
    /// There is none, or it cannot be read.
    fn find(&self, name: &str, by: Option<&Text>) -> Result<Text, Missing>;

    /// All names, those that are found first before the others.
    fn names(&self) -> Vec<String>;
}

/// The templates that the program carries, and no others.
#[derive(Clone, Copy, Debug, Default)]
pub struct BuiltIn;

impl TemplateLoader for BuiltIn {
    fn find(&self, name: &str, _: Option<&Text>) -> Result<Text, Missing> {
        let template = find(name).ok_or(Missing::Unknown)?;
        Ok(Text {
            name: format!("template {name}"),
            text: Cow::Borrowed(template.text),
            carried: true,
        })
    }

    fn names(&self) -> Vec<String> {
        super::REGISTER.iter().map(|t| t.name.to_owned()).collect()
    }
}
