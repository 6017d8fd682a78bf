//! The guide for users: one topic a Markdown file, which the README links and `guide` shows.

#[cfg(test)]
mod tests;

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
