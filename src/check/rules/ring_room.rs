use crate::assembly::{Body, Flap};
use crate::check::limits::RING_PLAY;
use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId, Span};
use crate::geom::Length;
use crate::job::Feature;
use crate::layout::Mark;

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("ring-room"),
    check,
    what: "A ring that fasteners shut in a fold has a fastener on its other side, and room \
           for its bar between the two.",
    why: "A ring without room bends the leather up and pulls at its fasteners; one that \
          nothing shuts in slides away or falls out.",
    breaks: r#"template = "dog-collar"
ring.room = "9 mm""#,
    keeps: r#"template = "dog-collar"
ring.room = "12 mm""#,
    source: "Computed; 2 mm of play between bar and fasteners is common practice, no source.",
};

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for feature in &input.job.features {
        let facts = feature.kind.facts();
        let (None, Some(id)) = (facts.fold, facts.holds) else { continue };
        let spec = input.job.hardware(id);
        let Some(bar) = spec.kind.bar() else { continue };
        let found = |message: String| {
            Finding::error(RULE.id, message).at(feature.span.clone()).remedy(format!(
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
        let Some(flap) = flap else { continue };
        if let Some((room, given)) = room(body, flap, feature) {
            let needed = bar.value + RING_PLAY;
            if room < needed {
                findings.push(
                    Finding::error(RULE.id, format!("`{}` has no room", spec.name))
                        .at(given.or(bar.span.as_ref()).cloned())
                        .expected(
                            format!("{} between the fasteners' rims", room.both()),
                            format!("at least {}: its bar and its play", needed.both()),
                        )
                        .remedy("move the fasteners apart, or take a thinner ring"),
                );
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
