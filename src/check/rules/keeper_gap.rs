use crate::check::limits::KEEPER_PLAY;
use crate::check::measure::breadth;
use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId, Span};
use crate::geom::Length;
use crate::job::{Feature, Form};
use crate::layout::{Mark, MarkKind};

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("keeper-gap"),
    check,
    what: "Between the two fasteners or snaps of a buckle's fold there is room for the \
           keeper strip and a little play.",
    why: "The keeper sits between them; without room it is pinched, or covers \
          them.",
    breaks: r#"turn-back.second-fastener = "40 mm""#,
    keeps: r#"turn-back.second-fastener = "56 mm""#,
    source: "Common practice, no source.",
};

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let cut = input.job.pieces.iter().filter(|o| o.count.value > 0);
    let strips = cut.filter(|o| matches!(o.form, Form::Keeper(_)));
    let strips: Vec<_> = strips.map(|o| &o.leather.width).collect();
    for feature in &input.job.features {
        let Some(fold) = feature.kind.facts().fold else { continue };
        let (room, span) = match fold.keeper_room {
            Some((apart, given)) => {
                (apart - fold.fastener_diameter.value, given.span.clone())
            }
            None => match between_snaps(input, feature) {
                Some(room) => room,
                None => continue,
            },
        };
        let own = fold.keeper_width;
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
        findings.push(
            Finding::error(RULE.id, "the keeper has no room")
                .at(span)
                .expected(
                    format!("{} between the rims of what holds the fold", room.both()),
                    format!("at least {}: the keeper and its play", needed.both()),
                )
                .remedy("move the second of them outward or make the keeper narrower"),
        );
    }
}

/// The widest clear leather between the snaps that close a fold round a buckle, and the line of
/// the outer one; `None` where fewer than two close it.
fn between_snaps(
    input: &CheckInput<'_>,
    feature: &Feature,
) -> Option<(Length, Option<Span>)> {
    let facts = feature.kind.facts();
    input.job.buckle(facts.holds?)?;
    let (body, flap) = input.assembly.flap(feature.id)?;
    let snaps: Vec<&Mark> =
        body.joints(flap).filter(|m| m.kind == MarkKind::Snap).collect();
    let face = |mark: &Mark| {
        let set = input.job.feature(mark.feature).kind.facts().sets;
        let given = set.and_then(|id| input.job.hardware(id).kind.face());
        given.unwrap_or_else(|| breadth(mark))
    };
    let gaps = snaps.windows(2).map(|pair| {
        let apart = (pair[1].at.x - pair[0].at.x).abs();
        let room = apart - face(pair[0]) / 2 - face(pair[1]) / 2;
        let outer = if pair[0].at.x < pair[1].at.x { pair[0] } else { pair[1] };
        (room, outer.span.clone())
    });
    gaps.max_by_key(|(room, _)| *room)
}
