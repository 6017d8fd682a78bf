//! Which keys each table of a job may have: what its reader asks for.

use super::feature::FeatureKind;
use super::hardware::HardwareKind;
use super::origin::Origin;
use super::piece::PieceSpec;
use super::resolve::{SECTIONS, job};
use super::section::{JOB, reader};
use super::shape::ABOUT;
use crate::diagnostic::Sources;
use crate::input::{self, Takes};
use std::collections::BTreeMap;

/// What a feature is called whose reader is asked.
const PROBE: &str = "probe";
/// What the reader needs of a measure before it goes on to the other tables.
const MEASURE: &str = "taken = \"tape\"\nbody = \"waist\"\n";
/// Values that make a reader ask for further keys.
const CHOICES: [&str; 4] =
    ["", "to = \"strap.zero\"", "along = \"line\"", "use = \"fastener\""];

/// The tables that have no `kind`.
pub fn plain_tables() -> impl Iterator<Item = &'static str> {
    std::iter::once(ABOUT).chain(SECTIONS)
}

/// The words that `kind = ` takes, those of features first.
pub fn kinds() -> impl Iterator<Item = &'static str> {
    FeatureKind::names().chain(PieceSpec::NAMES)
}

/// The keys that stand outside any table, and what they take.
pub fn top_keys() -> BTreeMap<String, Takes> {
    let mut keys = asked("kind", "", "");
    keys.retain(|_, takes| *takes != Takes::Table);
    keys
}

/// The keys that the reader of a table asks for, and what they take. `name` is one of [`plain_tables`] or one
/// of [`kinds`]; the answer for any other name is empty.
pub fn keys_of(name: &str) -> BTreeMap<String, Takes> {
    let table = if kinds().any(|kind| kind == name) { PROBE } else { name };
    asked("kind", name, table)
}

/// The words that `hardware = ` takes.
pub fn hardware_kinds() -> impl Iterator<Item = &'static str> {
    HardwareKind::names()
}

/// The keys that the reader of a table of hardware asks for, and what they take.
pub fn hardware_keys(name: &str) -> BTreeMap<String, Takes> {
    asked("hardware", name, PROBE)
}

/// The keys that are asked for in `table` where the probe's `key` is `name`.
fn asked(key: &str, name: &str, table: &str) -> BTreeMap<String, Takes> {
    let mut plain = String::new();
    for table in plain_tables() {
        let given = if table == "measure" { MEASURE } else { "" };
        plain = plain + "[" + table + "]\n" + given;
    }
    let mut keys = BTreeMap::new();
    for choice in CHOICES {
        let mut sources = Sources::default();
        let text = format!("{plain}[{PROBE}]\n{key} = \"{name}\"\n{choice}\n");
        let source = sources.add(PROBE, text);
        let root = input::parse(&JOB, &sources, source, &mut Vec::new());
        let reader = reader(&root);
        job(&reader, &root, String::new(), Origin::default());
        for (key, takes) in reader.keys_asked(table) {
            let known = keys.entry(key).or_insert(Takes::Any);
            if *known == Takes::Any {
                *known = takes;
            }
        }
    }
    keys
}

#[cfg(test)]
mod tests {
    use super::*;
    use toml::{Table, Value};

    #[test]
    fn the_keys_of_a_kind_depend_on_the_kind_alone() {
        let slot = keys_of("slot");
        for key in ["kind", "on", "mirror-about", "from", "by", "length", "rows"] {
            assert!(slot.contains_key(key), "{key} in {slot:?}");
        }
        assert!(!slot.contains_key("slit"));
        for (kind, key) in [
            ("button-hole", "slit"),
            ("row", "to-by"),
            ("crease", "across"),
            ("measure", "rest"),
        ] {
            assert!(keys_of(kind).contains_key(key), "{key} of {kind}");
        }
        assert!(keys_of("no-such").is_empty());
    }

    /// A reader says of every key what it takes, also where the key is not there.
    #[test]
    fn every_key_says_what_it_takes() {
        let own = plain_tables().chain(kinds()).map(|name| (name, keys_of(name)));
        let hardware = hardware_kinds().map(|name| (name, hardware_keys(name)));
        for (name, keys) in own.chain(hardware).chain([("", top_keys())]) {
            for (key, takes) in keys {
                assert!(takes != Takes::Any, "{name}: {key}");
            }
        }
        assert_eq!(keys_of("keeper")["count"], Takes::Count(0..=20));
        assert_eq!(keys_of("row")["places"], Takes::Lengths);
        assert_eq!(keys_of("lining")["of"], Takes::Text);
    }

    /// What the templates say is asked for: no key of theirs is read only after a choice
    /// that is not tried here. Lengths that a table has for its own sums are left out.
    #[test]
    fn the_keys_of_the_templates_are_among_them() {
        for template in crate::template::REGISTER {
            let root: Table = template.text.parse().expect("a template is TOML");
            let sums = template.text;
            for (name, table) in root.iter().filter_map(|(n, t)| Some((n, t.as_table()?)))
            {
                let kind = table.get("kind").and_then(Value::as_str);
                let keys = keys_of(kind.unwrap_or(name));
                for key in table.keys().filter(|_| !keys.is_empty()) {
                    let is_input = sums.contains(&format!("{name}.{key}"));
                    assert!(
                        keys.contains_key(key) || is_input,
                        "{}: {name}.{key}",
                        template.name
                    );
                }
            }
        }
    }
}
