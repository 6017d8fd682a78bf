//! Files of a workshop: its profile and its templates, what is read and what is written. The
//! commands and the page both work by it.

pub(crate) mod draft;
pub(crate) mod files;
pub(crate) mod template_loader;
pub(crate) mod today;
pub(crate) mod workshop;

use std::fmt;

/// Why something was not done.
#[derive(Debug)]
pub(crate) enum Failure {
    /// Findings forbid it. They are shown already.
    Forbidden,
    /// The command was used in a wrong way.
    Usage(String),
    /// A file, the system or the program itself failed.
    System(String),
}

pub(crate) type Result<T = ()> = std::result::Result<T, Failure>;

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Forbidden => f.write_str("findings forbid it"),
            Self::Usage(text) | Self::System(text) => f.write_str(text),
        }
    }
}
