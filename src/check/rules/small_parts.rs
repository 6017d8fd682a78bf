use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId, Severity};
use crate::job::Body;
use crate::layout::MarkKind;

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("small-parts"),
    check,
    what: "Says what to look to on a child's strap, where measure.child says that it is \
           one: parts that come off, and any strap round a neck.",
    why: "A rivet or a fitting that a child pulls off can be swallowed, and a strap round \
          the neck that does not give way can strangle.",
    breaks: r#"measure.child = true
measure.value = "60 cm""#,
    keeps: r#"measure.child = false
measure.value = "34 in""#,
    source: "EN 14682 (cords and drawstrings on children's clothing); small parts: common \
             practice, no source. Local rules come first.",
};

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
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
    findings.push(
        Finding::new(RULE.id, Severity::Note, message)
            .at(Some(span.clone()))
            .expected(format!("{parts} holes for metal parts"), required)
            .remedy("sew instead of riveting; EN 14682 and the local rules come first"),
    );
}
