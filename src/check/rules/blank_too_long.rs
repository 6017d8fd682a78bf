use super::prelude::*;

pub(super) const RULE: RuleId = RuleId::new("blank-too-long");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let Some(blank) = &input.job.blank.length else { return };
    if let Some(piece) = input.layout.strap() {
        let most = piece.extent.length() * 2;
        if blank.value > most {
            Finding::warning(RULE, "the blank is far longer than the strap")
                .at(blank.span.clone())
                .expected(
                    format!("a blank of {}", blank.value.both()),
                    format!("at most {}, twice the strap", most.both()),
                )
                .remedy("look at the unit of blank.length, or take a shorter blank")
                .to(findings);
        }
    }
}
