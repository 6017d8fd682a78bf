//! Names that people give, and whether a built-in template gave them.

use serde::Serialize;
use std::fmt;

/// What a piece, a feature, a stamp or a strap is called. It is shown, and never tells one
/// thing from another: that is what the ids of [`crate::job`] are for.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Name {
    text: String,
    built_in: bool,
}

impl Name {
    /// A name that a user gave. It is shown as it is in every language.
    pub fn given(text: impl Into<String>) -> Self {
        Self { text: text.into(), built_in: false }
    }

    /// A name that a built-in template gave. [`super::Wording::name`] translates it.
    pub fn built_in(text: impl Into<String>) -> Self {
        Self { text: text.into(), built_in: true }
    }

    /// The name as it was written.
    pub fn as_str(&self) -> &str {
        &self.text
    }

    /// Whether a built-in template gave it.
    pub fn is_built_in(&self) -> bool {
        self.built_in
    }
}

impl fmt::Display for Name {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.text)
    }
}
