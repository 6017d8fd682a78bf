use super::prelude::*;
use crate::assembly::{Body, Flap, joined};
use crate::job::Fold;

pub(super) const RULE: RuleId = RuleId::new("under-fold");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for body in &input.assembly.bodies {
        findings.extend(on_joined(input, body));
        for flap in &body.flaps {
            let feature = input.job.feature(flap.feature);
            // Leather that folds on itself is a loop, open at its bend.
            let lies_flat = feature.kind.facts().fold.is_some_and(Fold::is_closed);
            if !lies_flat {
                continue;
            }
            if let Some(mark) = lone(body, flap) {
                Finding::warning(
                    RULE,
                    format!("a hole of `{}` meets none in the other layer", feature.name),
                )
                .at(mark.span.clone())
                .expected(
                    format!("a hole {} from the fold", (mark.at.x - flap.axis).both()),
                    "one as far on its other side, to 1 mm",
                )
                .remedy("measure the blank's holes again, flat from its cut end")
                .to(findings);
            }
            if let Some(mark) = covered(body, flap) {
                let away = (mark.at.x - flap.axis).abs();
                // One of a row that is chosen from may be the one that is worn. What is
                // clinched or hammered down, or a plain hole, can lie under the flap.
                let other = input.job.feature(mark.feature);
                let is_worn = other.kind.facts().size_holes.is_some()
                    || input.is_chosen_from(other);
                let closes = matches!(
                    mark.kind,
                    MarkKind::Fastener | MarkKind::Snap | MarkKind::Slit
                );
                let severity = Severity::error_if(is_worn || closes);
                Finding::new(
                    RULE,
                    severity,
                    format!(
                        "{} lies where `{}` is turned back",
                        input.named(mark),
                        feature.name
                    ),
                )
                .at(mark.span.clone())
                .expected(
                    format!("a hole {} from the fold", away.both()),
                    format!(
                        "past the turned-back end, {} from it",
                        flap.leather.length().both()
                    ),
                )
                .remedy(format!(
                    "place it from {0}.end-over; where it is to go through both layers, \
                         add mirror-about = \"{0}.bend\"",
                    feature.name
                ))
                .to(findings);
            }
        }
    }
}

/// A size hole that lies between the posts by which its piece is joined to another, and so on the
/// leather of that one.
fn on_joined(input: &CheckInput<'_>, body: &Body<'_>) -> Option<Finding> {
    let joints = input.job.features.iter().filter(|f| joined(input.job, f).is_some());
    joints.into_iter().find_map(|joint| {
        let places = body.piece.marks_of(joint.id).map(|m| m.at.x);
        let (from, to) = (places.clone().min()?, places.max()?);
        let lap = Extent::new(from, to);
        let mut holes =
            body.piece.marks.iter().filter(|m| {
                input.job.feature(m.feature).kind.facts().size_holes.is_some()
            });
        let hole = holes.find(|m| lap.has(m.at.x))?;
        Some(
            Finding::error(
                RULE,
                format!("{} lies on the other piece", input.named(hole)),
            )
            .at(hole.span.clone())
            .expected(
                format!("a hole between the posts of `{}`", joint.name),
                format!("one past {}, where the other piece ends", to.both()),
            )
            .remedy("give fewer holes on that side, or a longer end for them"),
        )
    })
}

/// The first hole of a fold that was measured on a blank and has no other to go through.
fn lone<'a>(body: &Body<'a>, flap: &Flap) -> Option<&'a Mark> {
    let own = body.piece.marks.iter().filter(|m| {
        m.feature == flap.feature && m.kind == MarkKind::Target && m.at.x != flap.axis
    });
    own.into_iter().find(|mark| body.partner(mark, flap).is_none())
}

/// The first mark of another feature that lies on one of the two layers of a fold and not on
/// the other.
fn covered<'a>(body: &Body<'a>, flap: &Flap) -> Option<&'a Mark> {
    body.piece.marks.iter().find(|mark| {
        mark.feature != flap.feature
            && mark.is_opening()
            && mark.kind != MarkKind::Stitch
            && flap.over(mark.at.x).is_some()
            && body.partner(mark, flap).is_none()
    })
}
