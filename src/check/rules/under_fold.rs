use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId};
use crate::geom::Length;
use crate::job::FeatureId;
use crate::layout::{Mark, MarkKind, Piece};
use std::collections::BTreeSet;

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("under-fold"),
    check,
    what: "What is punched where the turned-back end lies is punched through it too, or lies \
           elsewhere.",
    why: "The turned-back leather covers a hole in the layer above it: a post set there does \
          not come through.",
    breaks: r#"fittings.from = "strap.zero"
fittings.by = "-40 mm"
fittings.count = 10"#,
    keeps: r#"fittings.from = "turn-back.end-over"
fittings.count = 6"#,
    source: "Computed from the layout.",
};

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for piece in input.one_of_each() {
        for feature in &input.job.features {
            // Leather that folds on itself is a loop, open at its bend.
            let lies_flat = feature.kind.facts().fold.is_some_and(|f| f.holds());
            if !lies_flat {
                continue;
            }
            if let Some((mark, away, end)) = covered(piece, feature.id) {
                findings.push(
                    Finding::warning(RULE.id, format!(
                            "{} lies where `{}` is turned back",
                            input.named(mark),
                            feature.name
                        ),
                    )
                    .at(mark.span.clone())
                    .expected(
                        format!("a hole {} from the fold", away.both()),
                        format!("past the turned-back end, {} from it", end.both()),
                    )
                    .remedy(format!(
                        "place it from {0}.end-over; where it is to go through both layers, \
                         add mirror-about = \"{0}.bend\"",
                        feature.name
                    )),
                );
            }
        }
    }
}

/// The first mark of another feature that the turned-back end of `feature` covers, how far it
/// lies from the fold, and how far that end reaches.
fn covered(piece: &Piece, feature: FeatureId) -> Option<(&Mark, Length, Length)> {
    let own = |kind: MarkKind| {
        let own = piece.marks.iter().find(|m| m.feature == feature && m.kind == kind);
        own.map(|m| m.at.x)
    };
    let (fold, end) = (own(MarkKind::Bend)?, own(MarkKind::End)?);
    let reach = (end - fold).abs();
    let place = |m: &Mark| (m.feature, m.at.y, m.at.x);
    let places: BTreeSet<_> = piece.marks.iter().map(place).collect();
    let mark = piece.marks.iter().find(|mark| {
        let away = mark.at.x - fold;
        let over = mark.feature != feature
            && mark.is_opening()
            && mark.kind != MarkKind::Stitch
            && away != Length::ZERO;
        let twin = (mark.feature, mark.at.y, fold - away);
        over && away.abs() < reach && !places.contains(&twin)
    });
    mark.map(|m| (m, (m.at.x - fold).abs(), reach))
}
