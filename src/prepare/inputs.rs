//! What becomes of each value of a job: which moves nothing, and which the job left to its
//! template although it moves holes.
//!
//! A value is moved by a little and the strap is laid out again. No list of keys has to be
//! kept, and templates of others are accounted for as those of the program are.

use super::{Laid, Prepared, staged};
use crate::diagnostic::{Finding, Span};
use crate::fit::Fit;
use crate::geom::{Length, Point, Strap};
use crate::job::{Assumed, JobText, MeasureMethod, rule};
use crate::layout::{Layout, Mark, MarkKind};
use crate::words::Name;

/// How far a length is moved.
const STEP: Length = Length::from_mm(1);
/// Measures of the buckle, which belong to the buckle that the maker has.
const BUCKLE: [&str; 3] = ["buckle.bar", "buckle.reach", "buckle.frame"];

/// Finds measures that the job gives and nothing on the strap depends on.
pub(super) fn find_unused(given: &JobText<'_>, prepared: &mut Prepared) {
    let Some(laid) = &prepared.laid else { return };
    // A key that nothing reads is told of already.
    if prepared.findings.iter().any(|f| f.rule == rule::UNKNOWN_KEY) {
        return;
    }
    let own = given.own_keys();
    let mut found: Vec<Finding> =
        not_made(laid).filter_map(|name| of_nothing(name, &own)).collect();
    let unused =
        own.into_iter().filter(|(key, _)| places_only(key)).filter(|(key, _)| {
            let other = given.moved(key, STEP);
            let other = other.and_then(|moved| staged(moved.job).laid);
            // The girth that a hole serves may follow from it too.
            let serves = |fit: Option<Fit>| fit.map(|fit| fit.girth_at(Length::ZERO));
            other.is_some_and(|(_, fit, layout)| {
                layout == laid.2 && serves(fit) == serves(laid.1)
            })
        });
    found.extend(unused.map(|(key, span)| {
        Finding::warning(rule::KEY_NOT_USED, format!("`{key}` is not used"))
            .at(Some(span))
            .expected("a value that moves nothing on the strap", "one that counts")
            .remedy(instead(&key, laid))
    }));
    if !found.is_empty() {
        prepared.findings.extend(found);
        prepared.findings.sort_by_key(|f| std::cmp::Reverse(f.severity));
    }
}

/// The names of the pieces and rows of fittings of which there are none.
fn not_made((job, ..): &Laid) -> impl Iterator<Item = &str> {
    let pieces = job.pieces.iter().filter(|p| p.count.value == 0).map(|p| &p.name);
    let rows = job.features.iter().filter(|f| {
        f.kind.facts().fittings.is_some_and(|spread| spread.count.value == 0)
    });
    pieces.chain(rows.map(|f| &f.name)).map(Name::as_str)
}

/// The finding about a table of which the job gives keys, but not how many there are.
fn of_nothing(name: &str, own: &[(String, Span)]) -> Option<Finding> {
    let keys = || own.iter().filter_map(|(key, at)| Some((key_of(name, key)?, at)));
    let (key, at) = keys().next()?;
    if keys().any(|(key, _)| key == "count") {
        return None;
    }
    let message = format!("`{name}.{key}` is not used: there is no `{name}`");
    Some(
        Finding::warning(rule::KEY_NOT_USED, message)
            .at(Some(at.clone()))
            .expected(format!("{name}.count = 0 in the template"), "1 or more")
            .remedy(format!("add {name}.count = 1, or leave it out")),
    )
}

/// The key in a table, of its dotted name.
fn key_of<'a>(table: &str, dotted: &'a str) -> Option<&'a str> {
    dotted.strip_prefix(table)?.strip_prefix('.')
}

/// Notes the measures of hardware that a job leaves to a template of the program and that move
/// holes: those of the buckle, and those that the template names in `about.measured`.
pub(super) fn find_assumed(given: &JobText<'_>, prepared: &mut Prepared) {
    let Some(laid) = &mut prepared.laid else { return };
    let hardware = laid.0.measured.iter().map(String::as_str).chain(BUCKLE);
    let told = hardware.filter_map(|key| {
        let other = given.moved(key, STEP)?;
        let other = Some(other).filter(|other| other.is_built_in)?;
        let moves = most_moved(&laid.2, &staged(other.job).laid?.2);
        let one = Assumed { key: key.to_owned(), value: other.value, moves };
        Some(one).filter(|one| one.moves > Length::ZERO)
    });
    laid.0.assumed = told.collect();
}

/// Whether a key is there to place something on the strap. Others may only be checked, as the
/// reach of a buckle is where the measure was read from its bend.
fn places_only(key: &str) -> bool {
    let ends = [".oval-length", ".past-last-hole"];
    key.starts_with("measure.") || ends.iter().any(|end| key.ends_with(end))
}

/// What to do about a measure that moves nothing.
fn instead(key: &str, (job, ..): &Laid) -> String {
    let taken = job.worn.as_ref().map(|worn| worn.measure.taken.value);
    if let ("measure.ease", Some(taken)) = (key, taken)
        && taken != MeasureMethod::Tape
    {
        return format!(
            "leave it out: measure.taken = \"{}\" has the ease in it",
            taken.word()
        );
    }
    if !key.starts_with("measure.") {
        return "leave it out, or choose the shape or the end that it is for".to_owned();
    }
    if key == "measure.value" && taken == Some(MeasureMethod::SizingStrap) {
        return "leave it out: measure.hole says which girth it is".to_owned();
    }
    if ["measure.first-hole", "measure.hole-pitch"].contains(&key) {
        return "say measure.taken = \"sizing-strap\", or leave it out".to_owned();
    }
    let row = job.features.iter().find(|f| f.kind.facts().size_holes.is_some());
    match row {
        Some(row) => format!(
            "place the holes by it: {}.from = \"fit.size-hole\"; or leave it out",
            row.name
        ),
        None => {
            "leave it out, or place the holes by it: from = \"fit.size-hole\"".to_owned()
        }
    }
}

/// How far the mark that moves most is moved from one layout to the other.
fn most_moved(one: &Layout, other: &Layout) -> Length {
    let places = |layout: &Layout| -> Vec<Point<Strap>> {
        let pieces = layout.pieces.iter().filter(|p| p.copy.n == 1);
        // A seam is divided anew: its holes are others.
        let counts = |m: &&Mark| m.kind != MarkKind::Stitch;
        let marks = pieces.flat_map(|p| p.marks.iter().filter(counts));
        marks.map(|m| m.at).collect()
    };
    let (one, other) = (places(one), places(other));
    one.iter().zip(&other).map(|(a, b)| (*a - *b).norm()).max().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::prepare;

    #[test]
    fn keys_of_what_is_not_made_are_told_once() {
        let belt = "template = \"belt\"\nmeasure.value = \"34 in\"\n";
        for (table, key) in [("fittings", "face"), ("keeper", "width")] {
            let none = format!("{belt}{table}.{key} = \"12 mm\"\n");
            let count = format!("{belt}{table}.count = 0\n{table}.{key} = \"12 mm\"\n");
            for (text, told) in [(&none, table == "fittings"), (&count, false)] {
                let findings = prepare("job", text, &[]).findings;
                let is_told = findings.iter().any(|f| {
                    f.rule == rule::KEY_NOT_USED
                        && f.message.contains(&format!("no `{table}`"))
                });
                assert_eq!(is_told, told, "{text}: {findings:?}");
            }
        }
    }

    fn assumed_of(text: &str) -> Vec<Assumed> {
        prepare("job", text, &[]).laid.unwrap().0.assumed
    }

    fn told(key: &str, value: &str, um: i64) -> Assumed {
        let (key, value) = (key.to_owned(), value.to_owned());
        Assumed { key, value, moves: Length::from_um(um) }
    }

    /// By hand: a tape's size hole comes nearer by all that the reach is longer, and goes
    /// further by half the bend, π / 4 of a millimetre for each of the bar.
    #[test]
    fn what_a_job_leaves_out_and_holes_depend_on_is_told() {
        let belt = "template = \"belt\"\nmeasure.value = \"34 in\"\n";
        let all = assumed_of(belt);
        assert_eq!(all.len(), 2, "{all:?}");
        assert_eq!(
            (all[0].key.as_str(), all[0].moves.mm(3)),
            ("buckle.bar", "0.785".into())
        );
        assert_eq!(all[1], told("buckle.reach", "30 mm", 1_000));
        let given = format!("{belt}buckle.reach = \"28 mm\"\n");
        assert_eq!(assumed_of(&given), all[..1]);
        let bag = assumed_of("template = \"bag-strap\"");
        assert!(bag.contains(&told("bag.reach", "24 mm", 1_000)), "{bag:?}");
    }
}
