use super::prelude::*;
use crate::check::limits::{EASE_PARTS, usual_ease};

pub(super) const RULE: RuleId = RuleId::new("ease");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let Some(worn) = &input.job.worn else { return };
    // Ease belongs to a tape round the body; elsewhere `key-not-used` tells of it.
    if worn.measure.taken.value != MeasureMethod::Tape {
        return;
    }
    let ease = &worn.measure.ease;
    let usual = usual_ease(worn.measure.body);
    if usual.has(ease.value) {
        return;
    }
    let beyond = ease.value.abs() > worn.measure.value.value / EASE_PARTS;
    let severity = Severity::error_if(beyond);
    Finding::new(RULE, severity, "this is more or less ease than clothes ask for")
        .at(ease.span.clone())
        .expected(ease.value.both(), usual.both())
        .remedy("measure over what is worn beneath, and look at the unit of the ease")
        .to(findings);
}
