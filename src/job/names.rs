//! The names of a job's tables, to which other tables refer.

use super::hardware::{BUCKLE, HardwareId, HardwareKind, HardwareSpec, Target};
use super::origin::Origin;
use super::piece::PieceSpec;
use super::section::Section;
use super::{FeatureId, PieceId, STRAP, Spanned};
use crate::diagnostic::Finding;
use crate::job::rule;

/// A table with a `kind`, and what its names are resolved with.
pub(super) struct TableContext<'c, 't> {
    pub(super) table: &'c Section<'c, 't>,
    pub(super) kind: &'c Spanned<String>,
    pub(super) names: &'c Names<'c>,
    pub(super) origin: &'c Origin,
}

/// The names of the pieces and the features of a job, in the order of their ids, and its
/// hardware.
pub(super) struct Names<'n> {
    pieces: Vec<&'n str>,
    features: Vec<&'n str>,
    hardware: &'n [HardwareSpec],
    origin: &'n Origin,
}

impl<'n> Names<'n> {
    /// Of all tables with a kind.
    pub(super) fn new(
        tables: &'n [(Section<'n, '_>, Spanned<String>)],
        hardware: &'n [HardwareSpec],
        origin: &'n Origin,
    ) -> Self {
        let (pieces, features): (Vec<_>, Vec<_>) =
            tables.iter().partition(|(_, kind)| PieceSpec::is_kind(&kind.value));
        let names = |tables: Vec<&'n (Section<'n, '_>, _)>| {
            tables.into_iter().map(|(table, _)| table.name).collect()
        };
        Self { pieces: names(pieces), features: names(features), hardware, origin }
    }

    /// The piece of a name. Where there is none, that is a finding, and the strap is given
    /// in its place.
    pub(super) fn piece(
        &self,
        table: &Section<'_, '_>,
        given: Spanned<String>,
    ) -> Spanned<PieceId> {
        let name = given.value.as_str();
        let other = self.pieces.iter().position(|own| *own == name).map(PieceId::other);
        let id = other.or((name == STRAP).then_some(PieceId::STRAP));
        if id.is_none() {
            let names = self.pieces.iter().copied().chain([STRAP]);
            find_unknown(table, "piece", &given, names);
        }
        Spanned { value: id.unwrap_or(PieceId::STRAP), span: given.span }
    }

    /// The feature of a name.
    pub(super) fn feature(
        &self,
        table: &Section<'_, '_>,
        given: &Spanned<String>,
    ) -> Option<Spanned<FeatureId>> {
        let own = self.features.iter().position(|own| *own == given.value).map(FeatureId);
        if own.is_none() {
            find_unknown(table, "feature", given, self.features.iter().copied());
        }
        own.map(|value| Spanned { value, span: given.span.clone() })
    }

    /// The job's `[buckle]`.
    pub(super) fn buckle(&self) -> Option<HardwareId> {
        self.hardware_id(BUCKLE)
    }

    fn hardware_id(&self, name: &str) -> Option<HardwareId> {
        self.hardware.iter().position(|own| own.name.as_str() == name).map(HardwareId)
    }

    /// The hardware of a name.
    pub(super) fn spec(&self, id: HardwareId) -> &HardwareSpec {
        &self.hardware[id.0]
    }

    /// The hardware that a fold or a row closes round: what has a bar.
    pub(super) fn held(&self, table: &Section<'_, '_>) -> Option<HardwareId> {
        self.hardware(table, "holds", |kind| kind.bar().is_some())
    }

    /// The fastener that is set in holes.
    pub(super) fn fastener(&self, table: &Section<'_, '_>) -> Option<HardwareId> {
        let is_one = |kind: &_| {
            matches!(kind, HardwareKind::Rivet(_) | HardwareKind::ScrewPost(_))
        };
        self.set(table, is_one)
    }

    /// The hardware that is set in holes, if it is of their kind.
    pub(super) fn set(
        &self,
        table: &Section<'_, '_>,
        is_fit: impl Fn(&HardwareKind) -> bool,
    ) -> Option<HardwareId> {
        self.hardware(table, "sets", is_fit)
    }

    /// Whether a table takes the hole from its hardware: it has no such key, or only a template
    /// of the program gives it, and the job itself says what is set.
    pub(super) fn takes_hole(&self, table: &Section<'_, '_>, key: &str) -> bool {
        let is_built_in = |key: &str| {
            let leaf = table.leaf(key);
            leaf.is_some_and(|leaf| self.origin.is_built_in(&leaf.span))
        };
        !table.has(key) || (is_built_in(key) && !is_built_in("sets"))
    }

    /// The hardware that a key names, if it is fit for that; `None` where the table does not
    /// have the key.
    fn hardware(
        &self,
        table: &Section<'_, '_>,
        key: &str,
        is_fit: impl Fn(&HardwareKind) -> bool,
    ) -> Option<HardwareId> {
        let given = table.text_if(key)?;
        let fit = self.hardware.iter().filter(|own| is_fit(&own.kind));
        let own =
            self.hardware_id(&given.value).filter(|id| is_fit(&self.spec(*id).kind));
        if own.is_none() {
            let names = fit.map(|own| own.name.as_str());
            find_unknown(table, "hardware of that kind", &given, names);
        }
        own
    }

    /// What `meets` names: hardware, or another feature.
    pub(super) fn target(&self, table: &Section<'_, '_>) -> Option<Target> {
        let given = table.text_if("meets")?;
        match self.hardware_id(&given.value) {
            Some(id) => Some(Target::Hardware(id)),
            None => self.feature(table, &given).map(Target::Feature),
        }
    }
}

fn find_unknown<'a>(
    table: &Section<'_, '_>,
    what: &str,
    given: &Spanned<String>,
    names: impl Iterator<Item = &'a str>,
) {
    table.reader.find(
        Finding::unknown_name(rule::BAD_VALUE, what, &given.value, names)
            .at(given.span.clone()),
    );
}
