use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId};

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("blank-too-narrow"),
    check,
    what: "The blank is at least as wide as the strap.",
    why: "The paper would be lined up with edges that are not there.",
    breaks: r#"blank.width = "35 mm""#,
    keeps: r#"blank.width = "1 1/2 in""#,
    source: "Computed from the job.",
};

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let Some(blank) = &input.job.blank.width else { return };
    let width = input.job.strap.width.value;
    if blank.value < width {
        findings.push(
            Finding::error(RULE.id, "the blank is narrower than the strap")
                .at(blank.span.clone())
                .expected(
                    format!("a blank of {}", blank.value.both()),
                    format!("at least {}", width.both()),
                )
                .remedy(
                    "give strap.width as the blank's own width, or take a wider blank",
                ),
        );
    }
}
