use super::prelude::*;
use crate::assembly::{Body, Flap};

pub(super) const RULE: RuleId = RuleId::new("fold-room");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for body in &input.assembly.bodies {
        for flap in &body.flaps {
            let name = |f: &Flap| &input.job.feature(f.feature).name;
            let met = body.flaps.iter().find(|other| {
                other.axis != flap.axis && other.bend().overlaps(flap.onto)
            });
            let (room, what) = if let Some(other) = met {
                let room = (other.axis - flap.axis).abs();
                (room, format!("to the bend of `{}`", name(other)))
            } else if let Some(room) = beyond(body, flap) {
                (room, "of strap beyond the bend".to_owned())
            } else {
                continue;
            };
            Finding::error(RULE, format!("`{}` has no room to fold", name(flap)))
                .at(span_of_length(input, flap))
                .expected(
                    format!("its end {} from its bend", flap.leather.length().both()),
                    format!("less than {}, {what}", room.both()),
                )
                .remedy("shorten the turned-back end, or make the strap longer")
                .to(findings);
        }
        for pair in body.flaps.windows(2).filter(|p| !reach_bends(&p[0], &p[1])) {
            let [a, b] = [&pair[0], &pair[1]];
            if !a.onto.overlaps(b.onto) {
                continue;
            }
            let lap = a.onto.intersection(b.onto);
            // A fastener or a seam there goes through both ends.
            let is_pierced = [a, b].into_iter().any(|flap| {
                let mut over = body.joints(flap).filter_map(|m| flap.over(m.at.x));
                over.any(|x| lap.has(x))
            });
            let severity = Severity::error_if(is_pierced);
            let [one, other] = [a, b].map(|f| &input.job.feature(f.feature).name);
            Finding::new(
                RULE,
                severity,
                format!("`{one}` and `{other}` lie on each other"),
            )
            .at(span_of_length(input, b))
            .expected(
                format!("{} of leather in three layers", lap.length().both()),
                "turned-back ends that do not meet",
            )
            .remedy("shorten one of the two ends, or make the strap longer")
            .to(findings);
        }
    }
}

/// Whether one of two flaps reaches into the bend of the other.
fn reach_bends(a: &Flap, b: &Flap) -> bool {
    a.bend().overlaps(b.onto) || b.bend().overlaps(a.onto)
}

/// How much strap there is beyond the bend, where the flap is longer than that.
pub(super) fn beyond(body: &Body<'_>, flap: &Flap) -> Option<Length> {
    let whole = body.piece.extent;
    let room = if flap.end_over() > flap.axis {
        whole.to - flap.axis
    } else {
        flap.axis - whole.from
    };
    (flap.leather.length() > room).then_some(room)
}

fn span_of_length(input: &CheckInput<'_>, flap: &Flap) -> Option<Span> {
    let feature = input.job.feature(flap.feature);
    let length = feature.kind.facts().fold.and_then(|f| f.length.span.clone());
    length.or(feature.span.clone())
}
