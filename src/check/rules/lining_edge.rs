use super::prelude::*;
use crate::check::measure::clear_of_edge;
use crate::geom::{Segment, Strap};
use crate::job::{LiningHoles, PieceSpec};
use std::collections::BTreeMap;

pub(super) const RULE: RuleId = RuleId::new("lining-edge");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for order in &input.job.pieces {
        let Form::Lining { of, inset, holes } = &order.form else { continue };
        let first = |id| input.one_of_each().find(|p| p.id == id);
        let (Some(base), Some(lining)) = (first(of.value), first(order.id)) else {
            continue;
        };
        // Where both have one edge, `hole-to-edge` has looked already.
        if inset.value == Length::ZERO {
            continue;
        }
        let outline = lining.outline.segments();
        seams(input, order, inset, base, &outline, findings);
        if *holes == LiningHoles::Trimmed {
            continue;
        }
        let mut worst: BTreeMap<FeatureId, (Length, Length)> = BTreeMap::new();
        for mark in
            base.marks.iter().filter(|m| m.is_punched() && m.kind != MarkKind::Stitch)
        {
            let clear = clear_of_edge(mark, &outline);
            let needed = breadth(mark);
            if clear >= needed {
                continue;
            }
            let own = worst.entry(mark.feature).or_insert((clear, needed));
            *own = (*own).min((clear, needed));
        }
        for (feature, (clear, needed)) in worst {
            let feature = &input.job.feature(feature).name;
            let through = clear < Length::ZERO;
            let severity = Severity::error_if(through);
            let word = if through { "cuts through" } else { "runs close to" };
            Finding::new(
                RULE,
                severity,
                format!("the edge of `{}` {word} the holes of `{feature}`", order.name),
            )
            .at(inset.span.clone().or(order.span.clone()))
            .expected(
                format!("{} between rim and edge", clear.both()),
                format!("at least {}", needed.both()),
            )
            .remedy(
                "choose another inset, move the holes, or cut the lining away round \
                         them: holes = \"trimmed\"",
            )
            .to(findings);
        }
    }
}

/// Finds seams of a piece that run beside its lining.
fn seams(
    input: &CheckInput<'_>,
    lining: &PieceSpec,
    inset: &Spanned<Length>,
    base: &Piece,
    outline: &[Segment<Strap>],
    findings: &mut Vec<Finding>,
) {
    for feature in &input.job.features {
        if feature.kind.facts().seam.is_none() {
            continue;
        }
        let mut stitches = base.marks_of(feature.id);
        let Some(beside) = stitches.find(|m| depth(outline, m.at) <= Length::ZERO) else {
            continue;
        };
        let message = format!("the seam `{}` misses `{}`", feature.name, lining.name);
        Finding::warning(RULE, message)
            .at(inset.span.clone().or(lining.span.clone()))
            .expected(
                format!("{} beside its edge", (-depth(outline, beside.at)).both()),
                "a seam within the lining",
            )
            .remedy(format!(
                "make {}.inset smaller, or the inset of the seam larger",
                lining.name
            ))
            .to(findings);
    }
}
