use super::prelude::*;

pub(super) const RULE: RuleId = RuleId::new("trousers-estimate");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let Some(worn) = &input.job.worn else { return };
    if worn.measure.taken.value != MeasureMethod::Trousers {
        return;
    }
    Finding::new(RULE, Severity::Note, "a size from trousers is an estimate")
        .at(worn.measure.taken.span.clone())
        .expected(
            format!("trousers of {}", worn.measure.value.value.both()),
            "a tape round the body, or a belt that fits",
        )
        .remedy("measure the wearer before you punch, or add a hole on either side")
        .to(findings);
}
