//! What a template says of itself.

use super::Template;
use toml::{Table, Value};

/// What a template is for and what it can be told, as its `about` table says.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct About {
    /// The strap in one line.
    pub summary: String,
    /// Its keys.
    pub keys: Vec<Key>,
}

/// One key of a template.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Key {
    /// The dotted name.
    pub name: String,
    /// What it is, and where its default comes from; may be empty in an own template.
    pub what: String,
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

/// Reads the `about` table of a template that the program carries.
pub fn about(template: Template) -> About {
    about_chain(&[template.text])
}

/// Reads the `about` tables of templates that lie over each other, the lowest first. Keys
/// that no table describes come last.
pub fn about_chain(texts: &[&str]) -> About {
    let mut root = Table::new();
    for text in texts {
        lay(&mut root, text.parse().unwrap_or_default());
    }
    let in_about = |key: &str| root.get("about")?.as_table()?.get(key);
    let word = |value: Option<&Value>| {
        value.and_then(Value::as_str).unwrap_or_default().to_owned()
    };
    let described = in_about("keys").and_then(Value::as_table);
    let described = || described.into_iter().flatten();
    let has = |name: &str| described().any(|(key, _)| key == name);
    let all =
        root.iter().filter(|(name, _)| *name != "about").flat_map(|(name, table)| {
            let keys = table.as_table().into_iter().flat_map(Table::keys);
            keys.filter(|key| *key != "kind").map(move |key| format!("{name}.{key}"))
        });
    let rest = all.filter(|name| !has(name)).map(|name| (name, String::new()));
    let named = described().map(|(name, what)| (name.clone(), word(Some(what))));
    let keys = named.chain(rest).map(|(name, what)| {
        let (section, key) = name.split_once('.').unwrap_or((&name, ""));
        let section = root.get(section).and_then(Value::as_table);
        let limits = in_about("limits").and_then(|limits| limits.get(&name));
        Key {
            default: section.and_then(|s| s.get(key)).map(ToString::to_string),
            of_feature: section.is_some_and(|s| s.contains_key("kind")),
            limits: limits.map(|limits| {
                let bound = |key: &str| {
                    let value = limits.get(key)?;
                    Some(value.as_str().map_or_else(|| value.to_string(), str::to_owned))
                };
                let (from, to) = (bound("from"), bound("to"));
                Limits { from, to, source: word(limits.get("source")) }
            }),
            name,
            what,
        }
    });
    About { keys: keys.collect(), summary: word(in_about("summary")) }
}

/// Lays a table over another, key by key, as a job is laid over its template.
fn lay(below: &mut Table, above: Table) {
    for (key, value) in above {
        match (below.get_mut(&key), value) {
            (Some(Value::Table(mine)), Value::Table(over)) => lay(mine, over),
            (_, value) => {
                below.insert(key, value);
            }
        }
    }
}
