use super::prelude::*;
use crate::check::limits::LAST_HOLE_TO_TIP;

pub(super) const RULE: RuleId = RuleId::new("last-hole-to-tip");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let job = input.job;
    let rows = |id| {
        let feature = job.feature(id);
        let facts = feature.kind.facts();
        let is_row = facts.run.is_some() && facts.slit.is_none();
        facts.size_holes.is_some() || is_row && input.is_chosen_from(feature)
    };
    for piece in input.one_of_each() {
        let holes = piece.marks.iter().filter(|m| rows(m.feature));
        let Some(hole) = holes.map(|m| m.at.x).max() else { continue };
        for tip in piece.marks.iter().filter(|m| m.kind == MarkKind::Tip) {
            let feature = job.feature(tip.feature);
            let Some(own) = feature.kind.facts().tip else { continue };
            let least = own.least.as_ref().map_or(LAST_HOLE_TO_TIP.from, |l| l.value);
            let most = own.most.as_ref().map_or(LAST_HOLE_TO_TIP.to, |l| l.value);
            let past = tip.at.x - hole;
            if past >= least && past <= most {
                continue;
            }
            let short = past < least;
            // A tip that is cut already lies where the blank's length says.
            let blank = job.blank.length.as_ref().filter(|_| feature.on_blank);
            let span = blank.map_or(&tip.span, |length| &length.span);
            let severity = Severity::error_if(short);
            let word = if short { "near" } else { "far from" };
            Finding::new(RULE, severity, format!("the tip is too {word} the last hole"))
                .at(span.clone())
                .expected(past.both(), format!("{} to {}", least.both(), most.both()))
                .remedy(
                    "change tip.past-last-hole, the number of holes outside the size, or \
                     the blank",
                )
                .to(findings);
        }
    }
}
