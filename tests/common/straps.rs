//! What the tests of all straps share.

use super::{Run, run};
use strapwright::layout::{Layout, Mark, MarkKind, Piece};
use strapwright::template::{self, Template};

/// A plain strap of 300 by 30 mm without holes.
pub(crate) const BARE: &str = "template = \"plain-strap\"\nplain.length = \"300 mm\"\n\
    strap.width = \"30 mm\"\nholes.count = 0\n";

/// Every template as it stands.
pub(crate) fn all() -> impl Iterator<Item = (Template, Run)> {
    template::REGISTER.iter().map(|t| (*t, strap(t.name, &[])))
}

/// A template with these values laid over it.
pub(crate) fn strap(name: &str, sets: &[&str]) -> Run {
    let sets: Vec<String> = sets.iter().map(|s| (*s).to_owned()).collect();
    run(&format!("template = \"{name}\""), &sets)
}

/// Its layout; nothing may be found but that a bare template has no measure of anybody.
pub(crate) fn clean(run: &Run) -> &Layout {
    let found = run.findings.iter().filter(|f| f.rule.as_str() != "measure-not-given");
    assert_eq!(found.count(), 0, "{}", run.text());
    &run.laid.as_ref().unwrap().2
}

/// The piece of that name.
pub(crate) fn piece<'a>(layout: &'a Layout, name: &str) -> &'a Piece {
    layout.pieces.iter().find(|p| p.key() == name).unwrap()
}

/// The marks of a feature that are of that kind.
pub(crate) fn of<'a>(
    layout: &Layout,
    piece: &'a Piece,
    feature: &str,
    kind: MarkKind,
) -> Vec<&'a Mark> {
    let is_own = |m: &&Mark| layout.feature(m).as_str() == feature && m.kind == kind;
    piece.marks.iter().filter(is_own).collect()
}

/// Within 5 nm: a figure of several roundings.
pub(crate) fn close(found: f64, wanted: f64) -> bool {
    (found - wanted).abs() < 5e-6
}
