//! Every crate that is used is reasoned: Cargo.toml against the table in DEVELOPERS.md.

use std::collections::BTreeSet;
use toml::Table;

/// The names in back quotes.
fn quoted(text: &str) -> BTreeSet<String> {
    text.split('`').skip(1).step_by(2).map(ToOwned::to_owned).collect()
}

#[test]
fn the_table_names_every_crate_and_no_other() {
    let manifest: Table = include_str!("../../Cargo.toml").parse().expect("a manifest");
    let keys = |name: &str| -> BTreeSet<String> {
        let table = manifest[name].as_table().expect("a table of crates");
        table.keys().cloned().collect()
    };
    let text = include_str!("../../DEVELOPERS.md");
    let (_, section) = text.split_once("\n## Dependencies\n").expect("the section");
    let section = section.split("\n## ").next().unwrap_or_default();
    let (table, after) =
        section.split_once("\nFor tests and benches:").expect("the tests' crates");
    let rows: Vec<&str> = table.lines().filter(|l| l.starts_with("| `")).collect();
    let named = rows.iter().flat_map(|row| {
        let mut cells = row.split('|').map(str::trim).skip(1);
        let (crates, serves) = (cells.next(), cells.next());
        assert!(serves.is_some_and(|s| s.len() > 5), "{row}: what does it serve?");
        quoted(crates.unwrap_or_default())
    });
    let named: BTreeSet<String> = named.collect();
    assert_eq!(named, keys("dependencies"), "each crate has its row in DEVELOPERS.md");
    let paragraph = after.split("\n\n").next().unwrap_or_default();
    assert_eq!(
        quoted(paragraph),
        keys("dev-dependencies"),
        "each is told in DEVELOPERS.md"
    );
}
