//! The guide for users: one topic a Markdown file, which the README links and `guide` shows.

mod keys;
#[cfg(test)]
mod tests;

pub use keys::{KeyTable, key_tables};

/// One topic.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Topic {
    /// What `guide` calls it: the name of its file without `.md`.
    pub name: &'static str,
    /// The Markdown file.
    pub text: &'static str,
}

impl Topic {
    /// What the topic is about: the first paragraph of the file, one line.
    pub fn summary(&self) -> &'static str {
        self.text.lines().nth(2).unwrap_or_default()
    }
}

/// Markdown without links and bold type: links as their text, pictures as nothing.
pub(crate) fn without_markup(text: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some((before, shown, after)) = link(rest) {
        match before.strip_suffix('!') {
            Some(before) => out += before,
            None => out = out + before + shown,
        }
        rest = after;
    }
    (out + rest).replace("**", "")
}

/// The first link: what stands before it, its text, and what comes after it.
fn link(text: &str) -> Option<(&str, &str, &str)> {
    let (before, after) = text.split_once("](")?;
    let (before, shown) = before.rsplit_once('[')?;
    Some((before, shown, after.split_once(')')?.1))
}

macro_rules! topics {
    ($($name:literal),+ $(,)?) => {
        /// All topics, in the order in which a newcomer needs them.
        pub const REGISTER: &[Topic] = &[
            $(Topic { name: $name, text: include_str!(concat!($name, ".md")) },)+
        ];
    };
}

topics![
    "jobs",
    "page",
    "profile",
    "printing",
    "own-strap",
    "stock-sizes",
    "orders",
    "cutting",
    "reading-back",
    "job-language",
];
