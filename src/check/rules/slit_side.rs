use super::prelude::*;

pub(super) const RULE: RuleId = RuleId::new("slit-side");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for piece in input.one_of_each() {
        let middle = piece.extent.from + piece.extent.length() / 2;
        for feature in &input.job.features {
            let facts = feature.kind.facts();
            // Of a row the hole that lies nearest to an end.
            let away = |m: &&Mark| (m.at.x - middle).abs();
            let holes = piece.marks_of(feature.id).filter(|m| m.path().is_some());
            let (Some(slit), Some(hole)) = (facts.slit, holes.max_by_key(away)) else {
                continue;
            };
            let inward = middle - hole.at.x;
            // Near the middle either side may pull.
            let is_outer = inward.abs() > piece.extent.length() / 10;
            if !is_outer || (inward < Length::ZERO) == (slit.value < Length::ZERO) {
                continue;
            }
            let end = if slit.value < Length::ZERO { "the start" } else { "the tip" };
            Finding::warning(
                RULE,
                format!("the slit of `{}` lies on the side of the pull", feature.name),
            )
            .at(slit.span.clone())
            .expected(
                format!("a slit of {}, which runs toward {end}", slit.value.both()),
                "one that runs toward the middle of the strap",
            )
            .remedy("change its sign: negative is toward the start")
            .to(findings);
        }
    }
}
