use crate::check::limits::STITCH_PITCH;
use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId};

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("stitch-pitch"),
    check,
    what: "Stitches are 1.5 to 9 mm long.",
    why: "Shorter ones cut the leather like a stamp's edge, longer ones catch and wear; \
          either is mostly a slip of the unit or of the stitches to the inch.",
    breaks: r#"seam.kind = "stitch"
seam.along = "outline"
seam.inset = "3 mm"
seam.pitch = "1/2 in"
seam.diameter = "1 mm""#,
    keeps: r#"seam.kind = "stitch"
seam.along = "outline"
seam.inset = "3 mm"
seam.pitch = "1/6 in"
seam.diameter = "1 mm""#,
    source: "3 to 12 to the inch: common practice, no source.",
};

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for feature in &input.job.features {
        let Some(stitch) = feature.kind.facts().seam else { continue };
        let pitch = stitch.pitch.value;
        if STITCH_PITCH.from <= pitch && pitch <= STITCH_PITCH.to {
            continue;
        }
        findings.push(
            Finding::warning(
                RULE.id,
                format!("nobody sews `{}` with such stitches", feature.name),
            )
            .at(stitch.pitch.span.clone())
            .expected(
                format!("{} from stitch to stitch", pitch.both()),
                format!("{} to {}", STITCH_PITCH.from.both(), STITCH_PITCH.to.both()),
            )
            .remedy("six stitches to the inch are 1/6 in, or 4.2 mm"),
        );
    }
}
