use super::prelude::*;

pub(super) const RULE: RuleId = RuleId::new("blank-too-short");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let Some(blank) = &input.job.blank.length else { return };
    if let Some(piece) = input.layout.strap() {
        let needed = piece.extent.length();
        if blank.value < needed {
            Finding::error(RULE, "the blank is too short for the strap")
                .at(blank.span.clone())
                .expected(
                    format!("a blank of {}", blank.value.both()),
                    format!("{} from end to point", needed.both()),
                )
                .remedy(
                    "take a longer blank, fewer holes outside the size or a shorter end",
                )
                .to(findings);
        }
    }
}
