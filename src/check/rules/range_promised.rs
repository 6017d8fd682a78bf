use super::prelude::*;
use crate::check::limits::PROMISE_PLAY;

pub(super) const RULE: RuleId = RuleId::new("range-promised");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let Some(serves) = &input.job.serves else { return };
    let Some((least, most)) = input.layout.serves(input.job, input.fit) else { return };
    let feature = input.job.feature(serves.holes.value);
    let what = serves.what.value.trim();
    // Swapped, the row runs backwards, which `range-reversed` tells.
    if let (Some(least), Some(most)) = (&serves.least, &serves.most)
        && least.value > most.value
    {
        return;
    }
    // The first hole serves the shortest length, unless the row runs toward the start.
    let promises = [
        ("shortest", &serves.least, least, starts_at(feature)),
        ("longest", &serves.most, most, ends_at(feature)),
    ];
    for (i, (word, promise, is, place)) in promises.into_iter().enumerate() {
        let Some(promise) = promise else { continue };
        let missing = if i == 0 { is - promise.value } else { promise.value - is };
        if missing <= PROMISE_PLAY {
            continue;
        }
        Finding::error(
            RULE,
            format!("the holes of `{}` do not reach the {word} {what}", feature.name),
        )
        .at(place.or(promise.span.as_ref()).cloned())
        .expected(format!("holes that reach {}", is.both()), promise.value.both())
        .remedy("add holes, or move the row")
        .to(findings);
    }
}

/// The line that says where a row begins.
fn starts_at(feature: &Feature) -> Option<&Span> {
    let facts = feature.kind.facts();
    if let Run::Places(places) = facts.run? {
        return places.first()?.span.as_ref();
    }
    facts.starts
}

/// The line that says where a row ends.
fn ends_at(feature: &Feature) -> Option<&Span> {
    feature.kind.facts().run?.given().last()?.span.as_ref()
}
