use super::prelude::*;
use crate::check::limits::FOLD_LAP;

pub(super) const RULE: RuleId = RuleId::new("turn-back-too-short");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for feature in &input.job.features {
        let Some(fold) = feature.kind.facts().fold else { continue };
        let length = &fold.length;
        let Some((last, _)) = fold.fasteners().pop() else {
            unfastened(input, feature, length, findings);
            continue;
        };
        let needed = last + fold.fastener_diameter.value.times(5, 2);
        if length.value < needed {
            Finding::error(RULE, "the turn-back is too short")
                .at(length.span.clone())
                .expected(
                    format!("{} from the fold", length.value.both()),
                    format!(
                        "at least {}, for the fastener at {}",
                        needed.both(),
                        last.both()
                    ),
                )
                .remedy(format!(
                    "lengthen {}.length or move the fasteners inward",
                    feature.name
                ))
                .to(findings);
        }
    }
}

/// A fold that is stitched or glued needs a lap past its bend.
fn unfastened(
    input: &CheckInput<'_>,
    feature: &Feature,
    length: &Spanned<Length>,
    findings: &mut Vec<Finding>,
) {
    let bend = input.one_of_each().find_map(|piece| {
        let own = |m: &&Mark| m.feature == feature.id && m.kind == MarkKind::Bend;
        let at = piece.marks.iter().find(own)?.at.x;
        piece.folds.iter().find(|fold| fold.at == at)
    });
    let Some(fold) = bend else { return };
    let needed = fold.bend.take_up / 2 + FOLD_LAP;
    if length.value >= needed {
        return;
    }
    Finding::error(RULE, "the fold is too short to hold")
        .at(length.span.clone())
        .expected(
            format!("{} from the fold", length.value.both()),
            format!("at least {}: half the bend and a lap", needed.both()),
        )
        .remedy(format!("lengthen {}.length", feature.name))
        .to(findings);
}
