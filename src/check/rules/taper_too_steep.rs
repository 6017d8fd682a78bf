use crate::check::limits::TAPER_RUN;
use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId};

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("taper-too-steep"),
    check,
    what: "Where the width changes, each edge moves by at most one in three.",
    why: "Where a wide part runs into a narrow one at once, the pull gathers at the two \
          corners: the strap kinks and stretches there.",
    breaks: r#"template = "camera-strap"
camera.run = "20 mm""#,
    keeps: r#"template = "camera-strap"
camera.run = "90 mm""#,
    source: "Common practice, no source.",
};

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for piece in input.one_of_each() {
        for change in &piece.width_changes {
            let moved = (change.after - change.before).abs() / 2;
            let (run, needed) = (change.extent.length(), moved * TAPER_RUN);
            if run >= needed {
                continue;
            }
            findings.push(
                Finding::warning(
                    RULE.id,
                    format!("a change of width of `{}` is steep", piece.name),
                )
                .at(change.span.clone())
                .expected(
                    format!("{} of run for {} at each edge", run.both(), moved.both()),
                    format!("at least {}", needed.both()),
                )
                .remedy("give it a longer run, or widths that differ less"),
            );
        }
    }
}
