use super::prelude::*;
use crate::check::limits::STITCH_PITCH;

pub(super) const RULE: RuleId = RuleId::new("stitch-pitch");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for feature in &input.job.features {
        let Some(stitch) = feature.kind.facts().seam else { continue };
        let pitch = stitch.pitch.value;
        if STITCH_PITCH.has(pitch) {
            continue;
        }
        Finding::warning(
            RULE,
            format!("nobody sews `{}` with such stitches", feature.name),
        )
        .at(stitch.pitch.span.clone())
        .expected(format!("{} from stitch to stitch", pitch.both()), STITCH_PITCH.both())
        .remedy("six stitches to the inch are 1/6 in, or 4.2 mm")
        .to(findings);
    }
}
