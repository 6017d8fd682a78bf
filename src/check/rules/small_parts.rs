use super::prelude::*;
use crate::job::Body;

pub(super) const RULE: RuleId = RuleId::new("small-parts");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let Some(measure) = input.job.worn.as_ref().map(|w| &w.measure) else { return };
    let Some(span) = &measure.child else { return };
    let neck = measure.body == Body::Neck;
    let is_part = |kind: MarkKind| {
        matches!(
            kind,
            MarkKind::Fastener | MarkKind::Fitting | MarkKind::Eyelet | MarkKind::Snap
        )
    };
    let parts = input.marks().filter(|(_, m)| is_part(m.kind)).count();
    if parts == 0 && !neck {
        return;
    }
    let message = if neck { "a strap round a child's neck" } else { "a child's strap" };
    let required = if neck {
        "a closure that gives way when it is pulled, and no part that comes off"
    } else {
        "no part that comes off, for infants none at all"
    };
    Finding::new(RULE, Severity::Note, message)
        .at(Some(span.clone()))
        .expected(format!("{parts} holes for metal parts"), required)
        .remedy("sew instead of riveting; EN 14682 and the local rules come first")
        .to(findings);
}
