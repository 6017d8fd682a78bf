use super::prelude::*;
use crate::check::crowding::face;
use crate::check::limits::KEEPER_PLAY;

pub(super) const RULE: RuleId = RuleId::new("keeper-gap");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let cut = input.job.pieces.iter().filter(|o| o.count.value > 0);
    let strips = cut.filter(|o| matches!(o.form, Form::Keeper(_)));
    let strips: Vec<_> = strips.map(|o| &o.leather.width).collect();
    for feature in &input.job.features {
        let facts = feature.kind.facts();
        let Some(fold) = facts.fold else { continue };
        // The keeper of a strap lies in the fold round its buckle.
        let is_slotted = facts.slot.is_some_and(|slot| slot.length.value > Length::ZERO);
        if !is_slotted && facts.holds.and_then(|id| input.job.buckle(id)).is_none() {
            continue;
        }
        let (room, span) = match fold.keeper_room() {
            Some((apart, given)) => {
                (apart - fold.fastener_diameter.value, given.span.clone())
            }
            None => match between_snaps(input, feature) {
                Some(room) => room,
                None => continue,
            },
        };
        let own = Some(&fold.keeper_width).filter(|w| w.value > Length::ZERO);
        let widest =
            own.into_iter().chain(strips.iter().copied()).max_by_key(|w| w.value);
        let Some(strip) = widest else { continue };
        let needed = strip.value + KEEPER_PLAY;
        if room >= needed {
            continue;
        }
        // What the keeper's own line says is looked at where the gap is as it was.
        let own_line = own.is_none_or(|o| o.value < strip.value);
        let span = if own_line { strip.span.clone() } else { span };
        Finding::error(RULE, "the keeper has no room")
            .at(span)
            .expected(
                format!("{} between the rims of what holds the fold", room.both()),
                format!("at least {}: the keeper and its play", needed.both()),
            )
            .remedy("move the second of them outward or make the keeper narrower")
            .to(findings);
    }
}

/// The widest clear leather between the snaps that close a fold round a buckle, and the line of
/// the outer one; `None` where fewer than two close it.
fn between_snaps(
    input: &CheckInput<'_>,
    feature: &Feature,
) -> Option<(Length, Option<Span>)> {
    let (body, flap) = input.assembly.flap(feature.id)?;
    let snaps: Vec<&Mark> =
        body.joints(flap).filter(|m| m.kind == MarkKind::Snap).collect();
    let gaps = snaps.windows(2).map(|pair| {
        let apart = (pair[1].at.x - pair[0].at.x).abs();
        let room = apart - face(input, pair[0]) / 2 - face(input, pair[1]) / 2;
        let away = |mark: &&&Mark| (mark.at.x - flap.axis).abs();
        let outer = pair.iter().max_by_key(away);
        (room, outer.and_then(|mark| mark.span.clone()))
    });
    gaps.max_by_key(|(room, _)| *room)
}
