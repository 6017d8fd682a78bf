use super::prelude::*;

pub(super) const RULE: Rule =
    Rule::new("blank-too-narrow", check, include_str!("blank_too_narrow.md"));

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let Some(blank) = &input.job.blank.width else { return };
    let width = input.job.strap.width.value;
    if blank.value < width {
        Finding::error(RULE.id, "the blank is narrower than the strap")
            .at(blank.span.clone())
            .expected(
                format!("a blank of {}", blank.value.both()),
                format!("at least {}", width.both()),
            )
            .remedy("give strap.width as the blank's own width, or take a wider blank")
            .to(findings);
    }
}
