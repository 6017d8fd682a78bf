use crate::check::limits::{EASE_PARTS, usual_ease};
use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, Severity};
use crate::job::MeasureMethod;

pub(super) const RULE: Rule = Rule::new("ease", check, include_str!("ease.md"));

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let Some(worn) = &input.job.worn else { return };
    // Ease belongs to a tape round the body; elsewhere `key-not-used` tells of it.
    if worn.measure.taken.value != MeasureMethod::Tape {
        return;
    }
    let ease = &worn.measure.ease;
    let usual = usual_ease(worn.measure.body);
    if usual.from <= ease.value && ease.value <= usual.to {
        return;
    }
    let beyond = ease.value.abs() > worn.measure.value.value / EASE_PARTS;
    let severity = if beyond { Severity::Error } else { Severity::Warning };
    findings.push(
        Finding::new(RULE.id, severity, "this is more or less ease than clothes ask for")
            .at(ease.span.clone())
            .expected(
                ease.value.both(),
                format!("{} to {}", usual.from.both(), usual.to.both()),
            )
            .remedy(
                "measure over what is worn beneath, and look at the unit of the ease",
            ),
    );
}
