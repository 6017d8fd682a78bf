use super::prelude::*;
use std::collections::BTreeMap;

pub(super) const RULE: RuleId = RuleId::new("range-reversed");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for feature in &input.job.features {
        let Some(spread) = feature.kind.facts().fittings else { continue };
        let back = backwards(input, feature);
        if back > Length::ZERO {
            let span = spread.to.span();
            Finding::error(
                RULE,
                format!("the span of `{}` ends before it begins", feature.name),
            )
            .at(span.or(feature.span.as_ref()).cloned())
            .expected(
                format!("its second fitting {} before its first", back.both()),
                "`to` further along the strap than `from`",
            )
            .remedy("are `from` and `to` swapped?")
            .to(findings);
        }
    }
    for feature in input.job.features.iter().filter(|f| input.is_chosen_from(f)) {
        let (span, back) = match feature.kind.facts().run {
            Some(Run::To { by } | Run::AtMost { by, .. }) => {
                (&by.span, backwards(input, feature))
            }
            Some(Run::Pitch(pitch)) => (&pitch.span, -pitch.value),
            // Measured, they are in the order of their readings.
            Some(Run::Places(_)) | None => continue,
        };
        if back <= Length::ZERO {
            continue;
        }
        Finding::error(RULE, format!("the holes of `{}` run backwards", feature.name))
            .at(span.clone())
            .expected(
                format!("its second hole {} before its first", back.both()),
                "holes from the shortest to the longest",
            )
            .remedy("are the shortest and the longest swapped?")
            .to(findings);
    }
}

/// How far the second hole of a row lies before its first.
fn backwards(input: &CheckInput<'_>, feature: &Feature) -> Length {
    let own = input.marks().map(|(_, m)| m).filter(|m| m.feature == feature.id);
    let places: BTreeMap<u32, Length> =
        own.filter_map(|m| Some((m.role.number()?, m.at.x))).collect();
    let mut places = places.into_values();
    match (places.next(), places.next()) {
        (Some(first), Some(second)) => first - second,
        _ => Length::ZERO,
    }
}
