use crate::check::limits::{BUCKLE_BAR, BUCKLE_REACH, REACH_PAST_FRAME, RING_BAR};
use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId, Severity};
use crate::geom::Length;
use crate::job::{ClosesRound, MeasureMethod};

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("buckle-size"),
    check,
    what: "The buckle's bar, reach and frame are such as buckles have, the hole does not \
           sit beyond the frame, and rings in folds have a bar of at most 25 mm.",
    why: "Bar and reach move every hole. A reach in centimetres for millimetres moves \
          them all by a hand's breadth, and the girth that is reported moves with it, \
          so nothing else would show it.",
    breaks: r#"measure.taken = "tape"
buckle.reach = "30 cm""#,
    keeps: r#"measure.taken = "tape"
buckle.reach = "30 mm""#,
    source: "Common practice, no source.",
};

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    rings(input, findings);
    let Some(worn) = &input.job.worn else { return };
    let Some(buckle) = &worn.buckle else { return };
    for (name, said, usual) in [
        ("bar", &buckle.bar, BUCKLE_BAR),
        ("reach", &buckle.reach, BUCKLE_REACH),
        ("frame", &buckle.frame, BUCKLE_REACH),
    ] {
        if usual.from <= said.value && said.value <= usual.to {
            continue;
        }
        findings.push(
            Finding::error(RULE.id, format!("no belt buckle has such a {name}"))
                .at(said.span.clone())
                .expected(
                    said.value.both(),
                    format!("{} to {}", usual.from.both(), usual.to.both()),
                )
                .remedy(format!("measure buckle.{name} again, and look at its unit")),
        );
    }
    // A frame that was read on another belt need not be this buckle's.
    let own = worn.measure.taken.value != MeasureMethod::FrameToHole;
    let past = buckle.reach.value - buckle.frame.value;
    if own && past > Length::ZERO {
        let beyond = past > REACH_PAST_FRAME;
        let severity = if beyond { Severity::Error } else { Severity::Warning };
        findings.push(
            Finding::new(RULE.id, severity, "the hole would sit beyond the frame")
                .at(buckle.reach.span.clone())
                .expected(
                    format!("a reach {} past the frame's far edge", past.both()),
                    "a tongue that rests on the frame",
                )
                .remedy("are the two swapped? measure both from the bar's centre"),
        );
    }
}

/// What folds close round, other than the buckle.
fn rings(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let buckle = input.job.worn.as_ref().and_then(|w| w.buckle.as_ref());
    let mut said = Vec::new();
    for feature in &input.job.features {
        let fold = feature.kind.facts().fold;
        let Some(ClosesRound::Bar(bar)) = fold.map(|f| f.round) else { continue };
        // One key may give the bar of several folds, or of the buckle too.
        let known =
            said.contains(&&bar.span) || buckle.is_some_and(|b| b.bar.span == bar.span);
        if bar.value <= RING_BAR.to || known {
            continue;
        }
        said.push(&bar.span);
        findings.push(
            Finding::error(
                RULE.id,
                format!("no ring or bar in `{}` is as thick as this", feature.name),
            )
            .at(bar.span.clone())
            .expected(
                format!("a bar of {}", bar.value.both()),
                format!("at most {}", RING_BAR.to.both()),
            )
            .remedy(
                "measure across the metal, not across the ring, and look at the unit",
            ),
        );
    }
}
