use super::prelude::*;

pub(super) const RULE: RuleId = RuleId::new("taper-idle");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for piece in input.one_of_each() {
        let (idle, real): (Vec<_>, Vec<_>) =
            piece.width_changes.iter().partition(|change| change.before == change.after);
        // A strap that is of one width all along is meant to be.
        let Some(change) = idle.first().filter(|_| !real.is_empty()) else { continue };
        let (from, to) = (change.extent.from, change.extent.to);
        Finding::warning(
            RULE,
            format!("a change of width of `{}` changes nothing", piece.name),
        )
        .at(change.span.clone())
        .expected(
            format!("{} before it and after", change.after.both()),
            "another width on either side",
        )
        .remedy(format!(
            "it lies from {} to {}: do the changes of width cross? give the strap \
                 more length, or the changes less",
            from.both(),
            to.both()
        ))
        .to(findings);
    }
}
