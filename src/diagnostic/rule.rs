//! What tells one rule from another.

use serde::Serialize;
use std::fmt;

/// A rule that a finding is about. Each stage declares its own with `rules!`, and each design
/// rule in its file; people see the text of it in brackets.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(transparent)]
pub struct RuleId(&'static str);

impl RuleId {
    pub(crate) const fn new(id: &'static str) -> Self {
        Self(id)
    }

    /// The text that findings show and `explain` takes.
    pub fn as_str(self) -> &'static str {
        self.0
    }
}

impl fmt::Display for RuleId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.0)
    }
}

/// Declares the rules of a stage, `NAME = "id": "what it is about";`: a constant for each, and
/// `RULES`, the list of all.
macro_rules! rules {
    ($($name:ident = $id:literal: $what:literal;)+) => {
        $(pub(crate) const $name: $crate::diagnostic::RuleId =
            $crate::diagnostic::RuleId::new($id);)+

        /// Every rule of this stage, each with what it is about.
        pub const RULES: &[($crate::diagnostic::RuleId, &str)] = &[$(($name, $what)),+];
    };
}
pub(crate) use rules;
