//! Named places along the strap.

use crate::geom::Length;
use crate::job::DatumRef;
use std::collections::BTreeMap;

/// The datums known so far, by their full name.
#[derive(Debug, Default)]
pub(super) struct Datums {
    known: BTreeMap<String, Length>,
    start: Option<Length>,
}

/// The datum that a feature waits for.
#[derive(Debug)]
pub(super) struct Missing(pub(super) DatumRef);

impl Datums {
    pub(super) fn publish(&mut self, owner: &str, name: &str, x: Length) {
        self.known.insert(format!("{owner}.{name}"), x);
    }

    pub(super) fn set_start(&mut self, x: Length) {
        self.start = Some(x);
    }

    /// Where the strap begins.
    pub(super) fn start(&self) -> Result<Length, Missing> {
        let strap_start =
            || DatumRef { name: "the strap's buckle end".into(), place: None };
        self.start.ok_or_else(|| Missing(strap_start()))
    }

    pub(super) fn get(&self, wanted: &DatumRef) -> Result<Length, Missing> {
        self.known.get(&wanted.name).copied().ok_or_else(|| Missing(wanted.clone()))
    }

    pub(super) fn names(&self) -> impl Iterator<Item = &str> {
        self.known.keys().map(String::as_str)
    }
}
