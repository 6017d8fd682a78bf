//! Named places along the pieces, and why a feature cannot be placed.

use crate::diagnostic::Finding;
use crate::geom::Length;
use crate::job::{DatumRef, PieceId};
use std::collections::BTreeMap;

/// The datums known so far, by their full name.
#[derive(Debug, Default)]
pub(super) struct Datums {
    known: BTreeMap<String, Datum>,
    start: Option<Length>,
}

/// A place along a piece.
#[derive(Clone, Debug)]
pub(super) struct Datum {
    /// The piece; `None` for what holds on any.
    pub(super) on: Option<PieceId>,
    pub(super) x: Length,
}

/// Why a feature is not placed.
#[derive(Debug)]
pub(super) enum PlaceError {
    /// It waits for a datum.
    Missing(DatumRef),
    /// It cannot be.
    Wrong(Box<Finding>),
}

impl From<Finding> for PlaceError {
    fn from(finding: Finding) -> Self {
        Self::Wrong(Box::new(finding))
    }
}

impl Datums {
    /// Makes known a datum of `owner` that lies on the piece `on`.
    pub(super) fn publish(
        &mut self,
        on: Option<PieceId>,
        owner: &str,
        name: &str,
        x: Length,
    ) {
        self.known.insert(format!("{owner}.{name}"), Datum { on, x });
    }

    pub(super) fn set_start(&mut self, x: Length) {
        self.start = Some(x);
    }

    /// Where the strap begins.
    pub(super) fn start(&self) -> Result<Length, PlaceError> {
        let strap_start =
            || DatumRef { name: "the strap's buckle end".into(), span: None, and: None };
        self.start.ok_or_else(|| PlaceError::Missing(strap_start()))
    }

    pub(super) fn get(&self, wanted: &DatumRef) -> Result<&Datum, PlaceError> {
        self.known.get(&wanted.name).ok_or_else(|| PlaceError::Missing(wanted.clone()))
    }

    pub(super) fn names(&self) -> impl Iterator<Item = &str> {
        self.known.keys().map(String::as_str)
    }
}
