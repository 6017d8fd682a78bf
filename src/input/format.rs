//! How the kinds of TOML file differ: the rules of their findings, and some of the words.

use crate::diagnostic::RuleId;

/// A kind of TOML file.
#[derive(Debug)]
pub(crate) struct Format {
    /// What the file is: `job`, `printer file`.
    pub(crate) name: &'static str,
    /// The rules that its mistakes break.
    pub(crate) rules: Rules,
    /// What an unknown key should have been; `None` lists the keys that there are.
    pub(crate) known_key: Option<&'static str>,
    /// What to do about a text that is not TOML.
    pub(crate) syntax_remedy: &'static str,
    /// What to do about a text that is too large.
    pub(crate) size_remedy: &'static str,
    /// What follows `add KEY` where a key is missing.
    pub(crate) add_to: &'static str,
}

/// The rules that the mistakes of one kind of file break.
#[derive(Debug)]
pub(crate) struct Rules {
    /// The text is not TOML.
    pub(crate) syntax: RuleId,
    /// The text is too large.
    pub(crate) size: RuleId,
    /// Nothing reads a key.
    pub(crate) unknown_key: RuleId,
    /// A key is missing.
    pub(crate) missing_key: RuleId,
    /// A key has a value that it cannot take.
    pub(crate) bad_value: RuleId,
    /// The same for a length.
    pub(crate) bad_length: RuleId,
}
