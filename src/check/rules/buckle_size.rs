use super::prelude::*;
use crate::check::limits::{
    BUCKLE_BAR, BUCKLE_REACH, FRAME_PAST_REACH, REACH_PAST_FRAME, RING_BAR,
    reach_of_width,
};
use crate::job::{Buckle, Fold};
use crate::words::Name;

pub(super) const RULE: RuleId = RuleId::new("buckle-size");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let mut given = Vec::new();
    for (id, spec) in input.job.hardware.iter().enumerate() {
        match &spec.kind {
            HardwareKind::Buckle(buckle) => {
                given.push(&buckle.bar.span);
                measures(buckle, findings);
                proportions(input, HardwareId(id), buckle, findings);
            }
            HardwareKind::Ring { bar, .. } if !given.contains(&&bar.span) => {
                given.push(&bar.span);
                ring(&spec.name, bar, findings);
            }
            _ => {}
        }
    }
    for feature in &input.job.features {
        let fold = feature.kind.facts().fold;
        let Some(bar) = fold.and_then(Fold::bar) else { continue };
        // One key may give the bar of several folds, or of the hardware too.
        if !given.contains(&&bar.span) {
            given.push(&bar.span);
            ring(&feature.name, bar, findings);
        }
    }
}

/// Each measure by itself.
fn measures(buckle: &Buckle, findings: &mut Vec<Finding>) {
    let all = [
        ("bar", Some(&buckle.bar), BUCKLE_BAR),
        ("reach", Some(&buckle.reach), BUCKLE_REACH),
        ("frame", buckle.frame.as_ref(), BUCKLE_REACH),
    ];
    for (name, given, usual) in all {
        let Some(given) = given.filter(|s| s.value < usual.from || usual.to < s.value)
        else {
            continue;
        };
        Finding::error(RULE, format!("no buckle has such a {name}"))
            .at(given.span.clone())
            .expected(given.value.both(), usual.both())
            .remedy(format!("measure the buckle's {name} again, and look at its unit"))
            .to(findings);
    }
}

/// Whether frame, reach and strap go together.
fn proportions(
    input: &CheckInput<'_>,
    id: HardwareId,
    buckle: &Buckle,
    findings: &mut Vec<Finding>,
) {
    let reach = buckle.reach.value;
    let is_usual = |l: Length| BUCKLE_REACH.has(l);
    if !is_usual(reach) {
        return;
    }
    let worn = input.job.worn.as_ref().filter(|worn| worn.buckle == Some(id));
    let is_read_on_frame =
        worn.is_some_and(|w| w.measure.taken.value == MeasureMethod::FrameToHole);
    if let Some(frame) = buckle.frame.as_ref().filter(|frame| is_usual(frame.value)) {
        let past = reach - frame.value;
        // A frame that was read on another belt need not be this buckle's.
        if past > Length::ZERO && !is_read_on_frame {
            let beyond = past > REACH_PAST_FRAME;
            let severity = Severity::error_if(beyond);
            Finding::new(RULE, severity, "the hole would sit beyond the frame")
                .at(buckle.reach.span.clone())
                .expected(
                    format!("a reach {} past the frame's far edge", past.both()),
                    "a tongue that rests on the frame",
                )
                .remedy("are the two swapped? measure both from the bar's centre")
                .to(findings);
        }
        let most = FRAME_PAST_REACH.max(reach / 2);
        if -past > most {
            Finding::warning(RULE, "the frame is long for the reach")
                .at(frame.span.clone())
                .expected(
                    format!("a frame {} past the hole", (-past).both()),
                    format!("at most {}, for a reach of {}", most.both(), reach.both()),
                )
                .remedy(
                    "measure both from the bar's centre: the reach to where the hole \
                         sits, the frame to its far edge",
                )
                .to(findings);
        }
    }
    let Some(width) = input.widths_in(id).into_iter().map(|(width, _)| width).max()
    else {
        return;
    };
    let most = reach_of_width(width);
    if reach > most {
        Finding::warning(RULE, "the buckle reaches far for so narrow a strap")
            .at(buckle.reach.span.clone())
            .expected(
                format!("a reach of {}", reach.both()),
                format!("at most {}, 2.5 times the strap's width", most.both()),
            )
            .remedy("measure the buckle's reach again, and look at its unit")
            .to(findings);
    }
}

fn ring(name: &Name, bar: &Spanned<Length>, findings: &mut Vec<Finding>) {
    if bar.value <= RING_BAR.to {
        return;
    }
    Finding::error(RULE, format!("no ring or bar is as thick as that of `{name}`"))
        .at(bar.span.clone())
        .expected(
            format!("a bar of {}", bar.value.both()),
            format!("at most {}", RING_BAR.to.both()),
        )
        .remedy("measure across the metal, not across the ring, and look at the unit")
        .to(findings);
}
