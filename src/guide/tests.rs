//! The register against the folder, and the job language against its reader.

use super::{KeyTable, REGISTER, key_tables};
use crate::job::{
    Hazard, hardware_keys, hardware_kinds, keys_of, kinds, plain_tables, top_keys,
};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

#[test]
fn the_register_and_the_folder_agree() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/guide");
    let files = std::fs::read_dir(folder).expect("the folder of the guide");
    let names = files.filter_map(|file| {
        let name = file.expect("a file").file_name().into_string().expect("a plain name");
        name.strip_suffix(".md").map(ToOwned::to_owned)
    });
    let registered: BTreeSet<String> =
        REGISTER.iter().map(|t| t.name.to_owned()).collect();
    assert_eq!(names.collect::<BTreeSet<_>>(), registered);
}

/// A title, and what the topic is about in a line that fits a list.
#[test]
fn every_topic_has_a_title_and_a_summary_and_is_linked() {
    let readme = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md"));
    for topic in REGISTER {
        let mut lines = topic.text.lines();
        assert!(lines.next().is_some_and(|l| l.starts_with("# ")), "{}", topic.name);
        assert_eq!(lines.next(), Some(""), "{}", topic.name);
        let length = topic.summary().len();
        assert!((20..=64).contains(&length), "{}: {}", topic.name, topic.summary());
        assert_eq!(lines.nth(1), Some(""), "{}: a summary of one line", topic.name);
        assert!(
            readme.contains(&format!("(src/guide/{}.md)", topic.name)),
            "{}",
            topic.name
        );
    }
}

/// The keys in the table below each heading of the job language, by the heading's name.
fn documented() -> BTreeMap<&'static str, BTreeSet<String>> {
    let keys = |table: KeyTable| {
        let keys = table.rows.iter().map(|(key, _)| (*key).to_owned());
        (table.name, keys.collect())
    };
    key_tables().into_iter().map(keys).collect()
}

fn keys<T>(of: BTreeMap<String, T>) -> BTreeSet<String> {
    of.into_keys().collect()
}

#[test]
fn every_hazard_is_in_the_job_language() {
    let language = REGISTER.iter().find(|t| t.name == "job-language").expect("the topic");
    for (name, _) in Hazard::WORDS {
        assert!(language.text.contains(&format!("\n| {name} | ")), "{name}");
    }
}

/// The table of hardware names for each key the kinds that have it.
#[test]
fn the_job_language_has_every_key_of_every_kind_of_hardware() {
    let mut tables = key_tables().into_iter();
    let table = tables.find(|table| table.name == "Hardware").expect("the table");
    let mut documented: BTreeMap<&str, BTreeSet<String>> = BTreeMap::new();
    for (key, cells) in table.rows {
        let of: Vec<&str> = match cells[0] {
            "all" => hardware_kinds().collect(),
            of => of.split(", ").collect(),
        };
        for kind in of {
            documented.entry(kind).or_default().insert(key.to_owned());
        }
    }
    for kind in hardware_kinds() {
        assert_eq!(documented.remove(kind), Some(keys(hardware_keys(kind))), "{kind}");
    }
    assert!(documented.is_empty(), "no such hardware: {documented:?}");
}

#[test]
fn the_job_language_has_every_key_that_a_reader_asks_for_and_no_other() {
    let mut documented = documented();
    let of_pieces = documented.remove("Every piece").expect("the keys of pieces");
    let of_features = documented.remove("Every feature").expect("the keys of features");
    assert_eq!(documented.remove("No table"), Some(keys(top_keys())), "the top");
    for name in plain_tables() {
        assert_eq!(documented.remove(name), Some(keys(keys_of(name))), "table {name}");
    }
    for kind in kinds() {
        let own = documented.remove(kind).expect(kind);
        let is_piece = ["piece", "keeper", "lining"].contains(&kind);
        let common = if is_piece { &of_pieces } else { &of_features };
        assert!(own.is_disjoint(common), "{kind}");
        assert_eq!(
            own.union(common).cloned().collect::<BTreeSet<_>>(),
            keys(keys_of(kind)),
            "{kind}"
        );
    }
    assert!(documented.remove("Hardware").is_some(), "the keys of hardware");
    assert!(documented.is_empty(), "no reader asks for {documented:?}");
}
