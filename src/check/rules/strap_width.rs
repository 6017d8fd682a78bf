use super::prelude::*;
use crate::check::limits::{BRACER_WIDTH, POSSIBLE_WIDTH, USUAL_WIDTH};
use crate::job::Body;

pub(super) const RULE: RuleId = RuleId::new("strap-width");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let leathers = input.leathers().map(|l| (l.width.value, l.width.span.as_ref()));
    let changes = input.one_of_each().flat_map(|p| &p.width_changes);
    let past = changes.map(|s| (s.after, s.span.as_ref()));
    let mut given = Vec::new();
    let worn = input.job.worn.as_ref();
    // The width of a bracer lies along the arm.
    let is_bracer = worn.is_some_and(|worn| worn.measure.body == Body::Forearm);
    let usual =
        if is_bracer { USUAL_WIDTH.union(Extent::at(BRACER_WIDTH)) } else { USUAL_WIDTH };
    for (width, span) in leathers.chain(past) {
        // Pieces that say nothing are as wide as the strap: one mistake, not several.
        if usual.has(width) || given.contains(&span) {
            continue;
        }
        given.push(span);
        let beyond = width < POSSIBLE_WIDTH.from || width > POSSIBLE_WIDTH.to;
        let severity = Severity::error_if(beyond);
        Finding::new(RULE, severity, "no strap is this wide or narrow")
            .at(span.cloned())
            .expected(width.both(), usual.both())
            .remedy("look at the number and its unit")
            .to(findings);
    }
}
