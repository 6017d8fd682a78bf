use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId};

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("tongue-in-hole"),
    check,
    what: "The size holes are at least as wide as the tongue.",
    why: "A tongue that does not enter its hole, or bursts it, shows when the belt is \
          done.",
    breaks: r#"size-holes.diameter = "2 mm""#,
    keeps: r#"size-holes.diameter = "4.8 mm""#,
    source: "Common practice, no source.",
};

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let Some(buckle) = input.job.worn.as_ref().and_then(|w| w.buckle.as_ref()) else {
        return;
    };
    let tongue = buckle.tongue.value;
    for feature in &input.job.features {
        let Some(row) = feature.kind.facts().size_holes else { continue };
        if row.diameter.value >= tongue {
            continue;
        }
        findings.push(
            Finding::warning(RULE.id, "the tongue may not enter the size holes")
                .at(row.diameter.span.clone())
                .expected(
                    format!("holes of {}", row.diameter.value.both()),
                    format!("at least the tongue, {}", tongue.both()),
                )
                .remedy("use a larger punch, or measure buckle.tongue at its point"),
        );
    }
}
