use crate::check::limits::KEEPER_PLAY;
use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId};
use crate::job::Form;

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("keeper-gap"),
    check,
    what: "Between the rims of the two fasteners there is room for the keeper strip and \
           a little play.",
    why: "The keeper sits between the fasteners; without room it is pinched, or covers \
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
        let Some((apart, given)) = fold.keeper_room else { continue };
        let own = fold.keeper_width;
        let room = apart - fold.fastener_diameter.value;
        let widest =
            own.into_iter().chain(strips.iter().copied()).max_by_key(|w| w.value);
        let Some(strip) = widest else { continue };
        let needed = strip.value + KEEPER_PLAY;
        if room >= needed {
            continue;
        }
        // What the keeper's own line says is looked at where the gap is as it was.
        let own_line = own.is_none_or(|o| o.value < strip.value);
        let span = if own_line { &strip.span } else { &given.span };
        findings.push(
            Finding::error(RULE.id, "the keeper has no room")
                .at(span.clone())
                .expected(
                    format!("{} between the fasteners' rims", room.both()),
                    format!("at least {}: the keeper and its play", needed.both()),
                )
                .remedy("move the second fastener outward or make the keeper narrower"),
        );
    }
}
