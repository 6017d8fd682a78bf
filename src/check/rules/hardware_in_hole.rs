use super::prelude::*;
use crate::check::limits::{FORCED, LEAST_POST_HOLE, LEAST_SNAP_HOLE};

pub(super) const RULE: RuleId = RuleId::new("hardware-in-hole");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for feature in &input.job.features {
        let found = closes(input, feature)
            .or_else(|| is_set(input, feature))
            .or_else(|| is_any(input, feature));
        findings.extend(found);
    }
}

/// Whether what the holes close on passes them.
fn closes(input: &CheckInput<'_>, feature: &Feature) -> Option<Finding> {
    let facts = feature.kind.facts();
    let hole = facts.hole?;
    let id = match facts.meets? {
        Target::Hardware(id) => id,
        Target::Feature(other) => {
            // What is set in the one goes through the other.
            facts.sets?;
            let other = input.job.feature(other.value);
            let theirs = other.kind.facts().hole?;
            let is_small = theirs.value + FORCED < hole.value;
            return is_small.then(|| {
                small(other, theirs.span.as_ref(), "post", theirs.value, hole.value)
            });
        }
    };
    let spec = input.job.hardware(*id);
    match &spec.kind {
        HardwareKind::Stud { neck, .. } if neck.value > hole.value => {
            let (is, must) = (hole.value, neck.value);
            Some(small(feature, hole.span.as_ref(), "neck", is, must))
        }
        HardwareKind::Stud { head: Some(head), .. } => {
            let slit = facts.slit.map_or(Length::ZERO, |slit| slit.value.abs());
            let open = hole.value + slit;
            let span = facts.slit.unwrap_or(hole).span.as_ref();
            (open < head.value).then(|| small(feature, span, "head", open, head.value))
        }
        HardwareKind::Lace(lace) if lace.value > hole.value => {
            let (is, must) = (hole.value, lace.value);
            Some(small(feature, hole.span.as_ref(), "lace", is, must))
        }
        _ => None,
    }
}

/// Whether what is set in the holes passes them.
fn is_set(input: &CheckInput<'_>, feature: &Feature) -> Option<Finding> {
    let facts = feature.kind.facts();
    let hole = facts.hole?;
    let (part, must) = match &input.job.hardware(facts.sets?).kind {
        HardwareKind::Eyelet { barrel, .. } => ("barrel", barrel.value),
        // Posts differ, so an assumed hole is no measure of them.
        HardwareKind::Rivet(post) | HardwareKind::ScrewPost(post) => {
            post.hole.span.as_ref()?;
            ("post", post.hole.value - FORCED)
        }
        _ => return None,
    };
    (hole.value < must)
        .then(|| small(feature, hole.span.as_ref(), part, hole.value, must))
}

/// Whether the holes are as wide as any hardware of their kind needs.
fn is_any(input: &CheckInput<'_>, feature: &Feature) -> Option<Finding> {
    let own = input.one_of_each().flat_map(|p| p.marks_of(feature.id));
    let least = |kind| match kind {
        MarkKind::Fastener | MarkKind::Fitting => Some(LEAST_POST_HOLE),
        MarkKind::Snap | MarkKind::Eyelet => Some(LEAST_SNAP_HOLE),
        _ => None,
    };
    let mut narrow = own.filter_map(|mark| {
        let (is, must) = (mark.y_extent().length(), least(mark.kind)?);
        (is < must).then_some((mark, is, must))
    });
    let (mark, is, must) = narrow.next()?;
    let hole = feature.kind.facts().hole.and_then(|hole| hole.span.as_ref());
    Some(small(feature, hole.or(mark.span.as_ref()), "smallest hardware", is, must))
}

/// An opening `is` wide that the `part` of a piece of hardware `must` pass.
fn small(
    feature: &Feature,
    span: Option<&Span>,
    part: &str,
    is: Length,
    must: Length,
) -> Finding {
    Finding::error(RULE, format!("the {part} does not pass `{}`", feature.name))
        .at(span.or(feature.span.as_ref()).cloned())
        .expected(
            format!("an opening of {}", is.both()),
            format!("at least the {part}, {}", must.both()),
        )
        .remedy("make the opening larger, or measure the hardware again")
}
