use super::prelude::*;
use crate::job::Course;

pub(super) const RULE: RuleId = RuleId::new("stitch-across");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for piece in input.one_of_each() {
        for feature in &input.job.features {
            let Some(stitch) = feature.kind.facts().seam else { continue };
            if !matches!(stitch.course, Course::Box(_)) || feature.mirror.is_some() {
                continue;
            }
            let own = piece.marks_of(feature.id);
            let own = own.filter(|m| m.kind == MarkKind::Stitch).map(|m| m.at.x);
            let (Some(first), Some(last)) = (own.clone().min(), own.max()) else {
                continue;
            };
            // A box that follows the end of its piece sews it on to something.
            let at_end = stitch.inset.value * 2;
            let is_patch =
                first - piece.extent.from <= at_end || piece.extent.to - last <= at_end;
            if is_patch {
                continue;
            }
            Finding::warning(
                RULE,
                format!("the seam `{}` crosses the strap", feature.name),
            )
            .at(stitch.pitch.span.clone())
            .expected("a box through one layer", "seams along the strap only")
            .remedy(
                "use along = \"edges\"; where it holds both layers of a fold, give \
                     it mirror-about",
            )
            .to(findings);
        }
    }
}
