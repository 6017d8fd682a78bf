//! What a template says of itself.

use crate::input::{Leaf, Table, Value, parse_valid};

/// What a template is for and what it can be told, as its `about` table says.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct About {
    /// The strap in one line.
    pub summary: String,
    /// Its keys.
    pub keys: Vec<Key>,
    /// The keys of what is to be measured, in the order in which they are asked.
    pub asked: Vec<String>,
}

/// One key of a template.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Key {
    /// The dotted name.
    pub name: String,
    /// What it is, and where its default comes from; may be empty in an own template.
    pub what: String,
    /// How and where it is measured; may be empty.
    pub how: String,
    /// The default as TOML; `None` when the job may leave it out.
    pub default: Option<String>,
    /// What it may be before a word is said.
    pub limits: Option<Limits>,
    /// Whether it belongs to a feature or a piece, which a job seldom changes, and not to a
    /// table of measures and choices.
    pub of_feature: bool,
}

/// The least and the most that a key may be, in the words of the template.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Limits {
    /// The least.
    pub from: Option<String>,
    /// The most.
    pub to: Option<String>,
    /// Where they come from.
    pub source: String,
}

/// Reads the merged `about` tables of a chain of templates, the lowest first. Keys that no
/// table describes come last.
pub fn about_chain(texts: &[&str]) -> About {
    let mut root = Table::default();
    for (source, text) in texts.iter().enumerate() {
        root.merge(parse_valid(text, source));
    }
    let about = |key| root.table("about")?.table(key);
    let text = |leaf: &Leaf| leaf.value.text().unwrap_or_default().to_owned();
    let toml = |leaf: &Leaf| texts[leaf.span.source][leaf.span.range.clone()].to_owned();
    let described = about("keys").map(|keys| keys.entries.as_slice()).unwrap_or_default();
    let mut names: Vec<String> = described.iter().map(|e| e.key.clone()).collect();
    let is_own = |(table, key): (&str, &str)| table != "about" && key != "kind";
    let rest = root
        .dotted_keys()
        .into_iter()
        .filter(|name| name.split_once('.').is_some_and(is_own) && !names.contains(name));
    let rest: Vec<String> = rest.collect();
    names.extend(rest);
    let keys: Vec<Key> = names
        .into_iter()
        .map(|name| {
            let section =
                name.split_once('.').and_then(|(section, _)| root.table(section));
            let said = |sort| about(sort).and_then(|all| all.leaf(&name)).map(text);
            let limits = about("limits").and_then(|limits| limits.table(&name));
            let bound =
                |leaf: &Leaf| leaf.value.text().map_or_else(|| toml(leaf), Into::into);
            Key {
                what: said("keys").unwrap_or_default(),
                how: said("how").unwrap_or_default(),
                default: root.dotted_leaf(&name).map(toml),
                of_feature: section.is_some_and(|s| s.get("kind").is_some()),
                limits: limits.map(|limits| Limits {
                    from: limits.leaf("from").map(bound),
                    to: limits.leaf("to").map(bound),
                    source: limits.leaf("source").map(text).unwrap_or_default(),
                }),
                name,
            }
        })
        .collect();
    let summary = root.table("about").and_then(|about| about.leaf("summary"));
    let asked = root.table("about").and_then(|about| about.leaf("asked"));
    let asked = if let Some(Value::List(asked)) = asked.map(|leaf| &leaf.value) {
        asked.iter().map(|(key, _)| key.clone()).collect()
    } else {
        // All measures and choices that it describes.
        let is_asked = |key: &&Key| {
            let table = key.name.split('.').next().unwrap_or_default();
            !key.of_feature
                && !key.what.is_empty()
                && !["stock", "blank"].contains(&table)
        };
        keys.iter().filter(is_asked).map(|key| key.name.clone()).collect()
    };
    About { keys, asked, summary: summary.map(text).unwrap_or_default() }
}
