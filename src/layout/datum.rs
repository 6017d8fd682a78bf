//! Named places along the pieces, and why a feature cannot be placed.

use crate::diagnostic::Finding;
use crate::geom::Length;
use crate::job::{DatumRef, Said};
use std::collections::BTreeMap;

/// The datums known so far, by their full name.
#[derive(Debug, Default)]
pub(super) struct Datums {
    known: BTreeMap<String, Length>,
    start: Option<Length>,
}

/// Why a feature is not placed.
#[derive(Debug)]
pub(super) enum Stop {
    /// It waits for a datum.
    Missing(DatumRef),
    /// It cannot be.
    Wrong(Box<Finding>),
}

impl From<Finding> for Stop {
    fn from(finding: Finding) -> Self {
        Self::Wrong(Box::new(finding))
    }
}

impl Datums {
    pub(super) fn publish(&mut self, owner: &str, name: &str, x: Length) {
        self.known.insert(format!("{owner}.{name}"), x);
    }

    pub(super) fn set_start(&mut self, x: Length) {
        self.start = Some(x);
    }

    /// Where the strap begins.
    pub(super) fn start(&self) -> Result<Length, Stop> {
        let strap_start =
            || DatumRef { name: "the strap's buckle end".into(), place: None };
        self.start.ok_or_else(|| Stop::Missing(strap_start()))
    }

    pub(super) fn get(&self, wanted: &DatumRef) -> Result<Length, Stop> {
        let known = self.known.get(&wanted.name).copied();
        known.ok_or_else(|| Stop::Missing(wanted.clone()))
    }

    /// `by` past a datum.
    pub(super) fn past(
        &self,
        wanted: &DatumRef,
        by: &Said<Length>,
    ) -> Result<Length, Stop> {
        Ok(self.get(wanted)? + by.value)
    }

    pub(super) fn names(&self) -> impl Iterator<Item = &str> {
        self.known.keys().map(String::as_str)
    }
}
