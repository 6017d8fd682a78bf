use super::prelude::*;

pub(super) const RULE: RuleId = RuleId::new("blank-too-narrow");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let Some(blank) = &input.job.blank.width else { return };
    let width = input.job.strap.width.value;
    if blank.value < width {
        Finding::error(RULE, "the blank is narrower than the strap")
            .at(blank.span.clone())
            .expected(
                format!("a blank of {}", blank.value.both()),
                format!("at least {}", width.both()),
            )
            .remedy("give strap.width as the blank's own width, or take a wider blank")
            .to(findings);
    }
}
