//! What the guide and the templates say of each key.

use crate::guide::{KeyTable, key_tables, without_markup};
use crate::job::PieceSpec;
use crate::template::Key;

/// The tables of keys of the guide.
pub(super) struct Words(Vec<KeyTable>);

impl Words {
    pub(super) fn read() -> Self {
        Self(key_tables())
    }

    fn table(&self, name: &str) -> Option<&KeyTable> {
        self.0.iter().find(|table| table.name == name)
    }

    /// What a table is.
    pub(super) fn of_table(&self, name: &str) -> Option<String> {
        self.table(name).map(|table| without_markup(table.what))
    }

    /// What a key of a table or of a kind is.
    pub(super) fn of_key(&self, name: &str, key: &str) -> Option<String> {
        let every = if PieceSpec::NAMES.contains(&name) {
            "Every piece"
        } else {
            "Every feature"
        };
        let rows = [name, every].into_iter().filter_map(|name| self.table(name));
        let mut rows = rows.flat_map(|table| &table.rows);
        rows.find(|(own, _)| *own == key).map(|(_, cells)| told(cells))
    }

    /// What a key of a kind of hardware is.
    pub(super) fn of_hardware(&self, kind: &str, key: &str) -> Option<String> {
        let is_of = |of: &str| of == "all" || of.split(", ").any(|of| of == kind);
        let mut rows = self.table("Hardware")?.rows.iter();
        let row = rows.find(|(own, cells)| *own == key && is_of(cells[0]));
        row.map(|(_, cells)| told(cells))
    }
}

/// What a key means, and what holds without it.
fn told(cells: &[&str]) -> String {
    let [.., without, meaning] = cells else { return String::new() };
    let without = if without.starts_with("needed") {
        (*without).to_owned()
    } else {
        format!("when left out: {without}")
    };
    without_markup(&format!("{meaning} ({without})"))
}

/// What a template says of a key of its own.
pub(super) fn of_template(key: &Key) -> String {
    let default = key.default.as_ref();
    let default = default.map_or_else(String::new, |d| format!(" (default: {d})"));
    format!("{}{default}", key.what)
}
