use super::prelude::*;
use crate::check::limits::{
    STITCH_EDGE_LEAST, STITCH_EDGE_USUAL, STITCH_EDGE_WIDE, WIDE_STRAP,
};

pub(super) const RULE: RuleId = RuleId::new("stitch-to-edge");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for piece in input.one_of_each() {
        let outline = piece.outline.segments();
        for feature in &input.job.features {
            let Some(stitch) = feature.kind.facts().seam else { continue };
            let own = piece.marks_of(feature.id);
            let stitches = own.filter(|m| m.kind == MarkKind::Stitch);
            let near = stitches.map(|m| depth(&outline, m.at)).min();
            // Insets of an arc may round to a micrometre less.
            let Some(near) = near else { continue };
            let rounding = Length::from_um(2);
            let usual = if piece.width >= WIDE_STRAP {
                STITCH_EDGE_WIDE
            } else {
                STITCH_EDGE_USUAL
            };
            if near + rounding >= usual {
                continue;
            }
            let severity = if near + rounding < STITCH_EDGE_LEAST {
                Severity::Error
            } else if near + rounding < STITCH_EDGE_USUAL {
                Severity::Warning
            } else {
                Severity::Note
            };
            let span = stitch.inset.span.as_ref().or(stitch.pitch.span.as_ref());
            Finding::new(
                RULE,
                severity,
                format!("the stitches of `{}` are near the edge", feature.name),
            )
            .at(span.cloned())
            .expected(
                format!("{} from the edge", near.both()),
                format!("at least {} on a strap of {}", usual.both(), piece.width.both()),
            )
            .remedy(format!("give {}.inset a larger length", feature.name))
            .to(findings);
        }
    }
}
