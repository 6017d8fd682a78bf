use super::prelude::*;
use crate::check::limits::{FORCED, PUNCH_PLAY};

pub(super) const RULE: RuleId = RuleId::new("tongue-in-hole");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for feature in &input.job.features {
        let facts = feature.kind.facts();
        let Some(Target::Hardware(id)) = facts.meets else { continue };
        let spec = input.job.hardware(*id);
        let HardwareKind::Buckle(buckle) = &spec.kind else { continue };
        let Some(hole) =
            facts.hole.filter(|h| h.value + PUNCH_PLAY < buckle.tongue.value)
        else {
            continue;
        };
        // A tongue that is half a millimetre thicker cannot be forced through.
        let severity = Severity::error_if(hole.value + FORCED < buckle.tongue.value);
        Finding::new(
            RULE,
            severity,
            format!("the tongue may not enter the holes of `{}`", feature.name),
        )
        .at(hole.span.clone())
        .expected(
            format!("holes of {}", hole.value.both()),
            format!("at least the tongue, {}", buckle.tongue.value.both()),
        )
        .remedy(format!(
            "use a larger punch, or measure {}.tongue at its point",
            spec.name
        ))
        .change(buckle.tongue.value.to_string())
        .to(findings);
    }
}
