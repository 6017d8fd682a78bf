use super::prelude::*;
use crate::assembly::{Body, Flap, joined};
use crate::check::limits::RING_PLAY;

pub(super) const RULE: RuleId = RuleId::new("ring-room");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for feature in &input.job.features {
        let facts = feature.kind.facts();
        let (None, Some(id)) = (facts.fold, facts.holds) else { continue };
        let spec = input.job.hardware(id);
        let Some(bar) = spec.kind.bar() else { continue };
        let found = |message: String| {
            Finding::error(RULE, message).at(feature.span.clone()).remedy(format!(
                "set a fastener of `{}` past the ring, and one before it",
                feature.name
            ))
        };
        let Some(body) = input.assembly.body(feature.on.value) else { continue };
        let Some(nearest) = body.piece.marks_of(feature.id).next() else {
            findings.push(
                found(format!("nothing shuts in `{}`", spec.name)).expected(
                    format!("no fastener in `{}`", feature.name),
                    "one or more",
                ),
            );
            continue;
        };
        let flap = body.flaps.iter().find(|flap| flap.over(nearest.at.x).is_some());
        let Some(flap) = flap else {
            let is_layered = facts.layers.is_some_and(|layers| layers.value > 1);
            // What lies off the leather is told of by `hole-to-edge`.
            let is_there = body.piece.extent.has(nearest.at.x);
            if is_there && !is_layered && joined(input.job, feature).is_none() {
                findings.push(
                    found(format!("nothing shuts in `{}`", spec.name)).expected(
                        format!("`{}` in a single layer of leather", feature.name),
                        "fasteners through a fold, on either side of the ring",
                    ),
                );
            }
            continue;
        };
        if let Some((room, given)) = room(body, flap, feature) {
            let needed = bar.value + RING_PLAY;
            if room < needed {
                Finding::error(RULE, format!("`{}` has no room", spec.name))
                    .at(given.or(bar.span.as_ref()).cloned())
                    .expected(
                        format!("{} between the fasteners' rims", room.both()),
                        format!("at least {}: its bar and its play", needed.both()),
                    )
                    .remedy("move the fasteners apart, or take a thinner ring")
                    .to(findings);
            }
        } else {
            findings.push(
                found(format!("`{}` can slide to the bend", spec.name)).expected(
                    "no fastener between the ring and the bend",
                    "one, so that the ring stays in its place",
                ),
            );
        }
    }
}

/// Leather between the rims of a feature's holes and those of the next joint toward the bend,
/// and the line that places the holes; `None` without such a joint.
fn room<'a>(
    body: &Body<'a>,
    flap: &Flap,
    feature: &Feature,
) -> Option<(Length, Option<&'a Span>)> {
    let away = |mark: &Mark| (mark.at.x - flap.axis).abs();
    let half = |mark: &Mark| mark.x_extent().length() / 2;
    let own = body.piece.marks_of(feature.id);
    let own = own.filter(|m| flap.over(m.at.x).is_some()).min_by_key(|m| away(m))?;
    let before = body.joints(flap).filter(|m| away(m) < away(own));
    let inner = before.map(|m| away(m) + half(m)).max()?;
    Some((away(own) - half(own) - inner, own.span.as_ref()))
}
