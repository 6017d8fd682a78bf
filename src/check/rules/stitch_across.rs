use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId};
use crate::job::Course;
use crate::layout::MarkKind;

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("stitch-across"),
    check,
    what: "No seam crosses a single layer of a strap that goes on at both sides of it.",
    why: "A line of pricks across the pull is a line to tear along. A box through both \
          layers of a fold, or at the end of a strap that is sewn to something, is held \
          by what lies beneath.",
    breaks: r#"seam.kind = "stitch"
seam.along = "box"
seam.from = "turn-back.end-over"
seam.by = "30 mm"
seam.to = "turn-back.end-over"
seam.to-by = "60 mm"
seam.inset = "4 mm"
seam.pitch = "4 mm"
seam.diameter = "1 mm""#,
    keeps: r#"seam.kind = "stitch"
seam.along = "edges"
seam.from = "turn-back.end-over"
seam.by = "30 mm"
seam.to = "turn-back.end-over"
seam.to-by = "60 mm"
seam.inset = "4 mm"
seam.pitch = "4 mm"
seam.diameter = "1 mm""#,
    source: "No stitching across the strap: S. Harrison, \"Some traditional saddlery \
             rules\".",
};

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
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
            findings.push(
                Finding::warning(
                    RULE.id,
                    format!("the seam `{}` crosses the strap", feature.name),
                )
                .at(stitch.pitch.span.clone())
                .expected("a box through one layer", "seams along the strap only")
                .remedy(
                    "use along = \"edges\"; where it holds both layers of a fold, give \
                     it mirror-about",
                ),
            );
        }
    }
}
