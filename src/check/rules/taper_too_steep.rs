use super::prelude::*;
use crate::check::limits::TAPER_RUN;

pub(super) const RULE: RuleId = RuleId::new("taper-too-steep");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for piece in input.one_of_each() {
        for change in &piece.width_changes {
            let moved = (change.after - change.before).abs() / 2;
            let (run, needed) = (change.extent.length(), moved * TAPER_RUN);
            if run >= needed {
                continue;
            }
            Finding::warning(
                RULE,
                format!("a change of width of `{}` is steep", piece.name),
            )
            .at(change.span.clone())
            .expected(
                format!("{} of run for {} at each edge", run.both(), moved.both()),
                format!("at least {}", needed.both()),
            )
            .remedy("give it a longer run, or widths that differ less")
            .to(findings);
        }
    }
}
