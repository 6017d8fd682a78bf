use super::prelude::*;
use crate::check::measure::{clear_leather, margin};
use std::collections::BTreeMap;

pub(super) const RULE: RuleId = RuleId::new("hole-to-edge");

/// Where a line begins.
type Start = (usize, usize);

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for piece in input.one_of_each() {
        let outline = piece.outline.segments();
        // One finding for all marks of one line: they come from one mistake, and the worst
        // of them says how far off it is.
        let mut worst: BTreeMap<(FeatureId, Option<Start>), (Length, &Mark)> =
            BTreeMap::new();
        // Seams and snaps have rules of their own.
        let has_own = |m: &Mark| {
            let is_seam = input.job.feature(m.feature).kind.facts().seam.is_some();
            m.kind == MarkKind::Snap || is_seam
        };
        let openings = |m: &&Mark| m.is_opening() && !has_own(m);
        for mark in piece.marks.iter().filter(openings) {
            // A tongue slot must come near no edge either; its punch is its width.
            let needed = needed(mark);
            let clear = margin(mark, &outline);
            if clear >= needed {
                continue;
            }
            let key = (mark.feature, mark.span.as_ref().map(Span::begins));
            let own = worst.entry(key).or_insert((clear, mark));
            if clear < own.0 {
                *own = (clear, mark);
            }
        }
        for (clear, mark) in worst.into_values() {
            let needed = needed(mark);
            let what = if clear < Length::ZERO {
                "lies over the edge"
            } else {
                "is too near the edge"
            };
            let remedy = match mark.kind {
                MarkKind::Slot => "use a wider strap or a narrower slot",
                MarkKind::Target => "measure the blank again, flat from its buckle end",
                _ => "move it inward, use a smaller punch or a wider strap",
            };
            Finding::new(
                RULE,
                // No blank has a hole beside its leather.
                if clear < -breadth(mark) {
                    Severity::Error
                } else if clear >= needed / 2 {
                    Severity::Warning
                } else {
                    severity_of(mark)
                },
                format!("{} {what}", input.named(mark)),
            )
            .at(mark.span.clone())
            .expected(clear_leather(clear), format!("at least {}", needed.both()))
            .remedy(remedy)
            .to(findings);
        }
    }
}

/// Clear leather that a mark needs. What the blank has already needs none.
fn needed(mark: &Mark) -> Length {
    if mark.kind == MarkKind::Target { Length::ZERO } else { breadth(mark) }
}
