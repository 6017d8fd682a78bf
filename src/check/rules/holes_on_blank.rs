use super::prelude::*;

pub(super) const RULE: RuleId = RuleId::new("holes-on-blank");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for feature in &input.job.features {
        if !feature.on_blank || feature.kind.facts().size_holes.is_none() {
            continue;
        }
        let given = input.job.blank.punched.iter().find(|s| s.value == feature.id);
        Finding::warning(RULE, "the blank came with its size holes")
            .at(given.and_then(|s| s.span.clone()))
            .expected(
                format!("targets for `{}` where the measure puts them", feature.name),
                "holes of the blank that lie on their targets",
            )
            .remedy(
                "measure the blank from the bend to a hole and give that as the measure",
            )
            .to(findings);
    }
}
