//! Who named a thing of a job: a built-in template, or the user.

use super::Spanned;
use super::house::Named;
use crate::diagnostic::Span;
use crate::words::Name;
use std::collections::{BTreeMap, BTreeSet};

/// What the built-in templates below a job said themselves.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Origin {
    sources: BTreeSet<usize>,
    tables: BTreeSet<String>,
    /// What a workshop calls the things of some tables.
    house: BTreeMap<String, String>,
}

impl Origin {
    /// Notes a text of a built-in template: its number, and the names of its tables.
    pub(super) fn add<'n>(
        &mut self,
        source: usize,
        tables: impl Iterator<Item = &'n str>,
    ) {
        self.sources.insert(source);
        self.tables.extend(tables.map(ToOwned::to_owned));
    }

    /// Notes what a workshop calls things.
    pub(super) fn name_things(&mut self, named: &[Named]) {
        self.house = named.iter().map(|n| (n.table.clone(), n.name.clone())).collect();
    }

    /// Each table whose thing has a name of a workshop, with that name.
    pub(super) fn house_names(&self) -> impl Iterator<Item = (&str, &str)> {
        self.house.iter().map(|(table, name)| (table.as_str(), name.as_str()))
    }

    /// Whether a built-in template lies below the job.
    pub(super) fn is_built_upon(&self) -> bool {
        !self.sources.is_empty()
    }

    /// Whether a built-in template has a table of that name.
    pub(super) fn has_table(&self, name: &str) -> bool {
        self.tables.contains(name)
    }

    /// Whether a built-in template holds this span.
    pub(super) fn is_built_in(&self, span: &Span) -> bool {
        self.sources.contains(&span.source)
    }

    /// The name of a table.
    pub(super) fn table(&self, name: &str) -> Name {
        if self.tables.contains(name) { Name::built_in(name) } else { Name::given(name) }
    }

    /// The name that a value gives.
    pub(super) fn value(&self, given: &Spanned<String>) -> Name {
        let built_in = given.span.as_ref().is_some_and(|span| self.is_built_in(span));
        let text = given.value.trim();
        if built_in { Name::built_in(text) } else { Name::given(text) }
    }
}
