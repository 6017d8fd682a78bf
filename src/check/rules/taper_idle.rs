use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId};

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("taper-idle"),
    check,
    what: "Where a piece changes its width, each change leads to another width.",
    why: "A change to the width that is there already is one out of its turn: on a short \
          strap the narrowing comes before the widening, and the strap stays wide to its \
          end.",
    breaks: r#"template = "camera-strap"
camera.finished = "550 mm""#,
    keeps: r#"template = "camera-strap"
camera.finished = "1 m""#,
    source: "Computed from the layout.",
};

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for piece in input.one_of_each() {
        let (idle, real): (Vec<_>, Vec<_>) =
            piece.width_changes.iter().partition(|change| change.before == change.after);
        // A strap that is of one width all along is meant to be.
        let Some(change) = idle.first().filter(|_| !real.is_empty()) else { continue };
        let (from, to) = (change.extent.from, change.extent.to);
        findings.push(
            Finding::warning(
                RULE.id,
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
            )),
        );
    }
}
