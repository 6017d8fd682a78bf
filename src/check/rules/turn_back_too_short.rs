use crate::check::limits::FOLD_LAP;
use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId};
use crate::geom::Length;
use crate::job::{Feature, Spanned};
use crate::layout::{Mark, MarkKind};

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("turn-back-too-short"),
    check,
    what: "A turn-back or fold reaches past its last fastener by at least twice the \
           fastener's diameter; one that is stitched past its bend by 8 mm.",
    why: "A fastener at the very end of the turned-back leather tears out of it.",
    breaks: r#"turn-back.length = "60 mm""#,
    keeps: r#"turn-back.length = "75 mm""#,
    source: "Common practice, no source; Amateur Work, vol. 3 (c. 1904) asks three \
             diameters from the end in machine belts.",
};

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for feature in &input.job.features {
        let Some(fold) = feature.kind.facts().fold else { continue };
        let (length, last) = (fold.length, fold.last_fastener);
        if fold.fasteners == 0 {
            unfastened(input, feature, length, findings);
            continue;
        }
        let needed = last + fold.fastener_diameter.value.times(5, 2);
        if length.value < needed {
            findings.push(
                Finding::error(RULE.id, "the turn-back is too short")
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
                    )),
            );
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
    findings.push(
        Finding::error(RULE.id, "the fold is too short to hold")
            .at(length.span.clone())
            .expected(
                format!("{} from the fold", length.value.both()),
                format!("at least {}: half the bend and a lap", needed.both()),
            )
            .remedy(format!("lengthen {}.length", feature.name)),
    );
}
