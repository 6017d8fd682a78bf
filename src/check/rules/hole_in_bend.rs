use super::prelude::*;
use std::collections::BTreeSet;

pub(super) const RULE: RuleId = RuleId::new("hole-in-bend");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    // A lined strap is sewn all round before it is folded: a prick opens nothing.
    let mut given = BTreeSet::new();
    let pieces = input.one_of_each().flat_map(|p| p.marks.iter().map(move |m| (p, m)));
    for (piece, mark) in
        pieces.filter(|(_, m)| m.is_opening() && m.kind != MarkKind::Stitch)
    {
        let x = mark.x_extent();
        let bent = piece.folds.iter().find(|fold| {
            let half = fold.bend.take_up / 2;
            // What lies on the fold itself is the tongue's slot.
            x.from < fold.at + half && x.to > fold.at - half && mark.at.x != fold.at
        });
        let Some(fold) = bent else { continue };
        // One finding for what comes from one line.
        if !given.insert((mark.feature, mark.span.as_ref().map(Span::begins))) {
            continue;
        }
        let rim = (x.from - fold.at).abs().min((x.to - fold.at).abs());
        let half = fold.bend.take_up / 2;
        Finding::new(
            RULE,
            severity_of(mark),
            format!("{} lies in the bend", input.named(mark)),
        )
        .at(mark.span.clone())
        .expected(
            format!("its rim {} from the fold", rim.both()),
            format!("at least {}, where the bend ends", half.both()),
        )
        .remedy("move it away from the fold")
        .to(findings);
    }
}
