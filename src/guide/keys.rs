//! The tables of keys in the topic about the job language.

use super::REGISTER;

/// The table below one heading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeyTable {
    /// What the table of a job is called, or its kind.
    pub name: &'static str,
    /// What the heading says of it; may be empty.
    pub what: &'static str,
    /// Each key with the further cells of its row, its meaning last.
    pub rows: Vec<(&'static str, Vec<&'static str>)>,
}

/// All of them, in their order.
pub fn key_tables() -> Vec<KeyTable> {
    let language = REGISTER.iter().find(|topic| topic.name == "job-language");
    let parts = language.into_iter().flat_map(|topic| topic.text.split("\n### ").skip(1));
    let tables = parts.map(|part| {
        let heading = part.lines().next().unwrap_or_default();
        let (name, what) = heading.split_once(": ").unwrap_or((heading, ""));
        let rows = part.lines().filter_map(|line| {
            let (key, cells) = line.strip_prefix("| `")?.split_once("` | ")?;
            Some((key, cells.trim_end_matches(" |").split(" | ").collect()))
        });
        KeyTable { name: name.trim_matches('`'), what, rows: rows.collect() }
    });
    tables.collect()
}
