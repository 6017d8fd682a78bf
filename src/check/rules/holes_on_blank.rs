use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId};

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("holes-on-blank"),
    check,
    what: "Warns when the blank came with its size holes.",
    why: "They are drawn where the measure puts them, and the blank has them where it \
          has them: the two must be held against each other before anything is punched.",
    breaks: r#"blank.punched = ["size-holes"]"#,
    keeps: r#"blank.punched = ["turn-back"]"#,
    source: "Common practice, no source.",
};

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for feature in &input.job.features {
        if !feature.on_blank || feature.kind.facts().size_holes.is_none() {
            continue;
        }
        let given = input.job.blank.punched.iter().find(|s| s.value == feature.id);
        findings.push(
            Finding::warning(RULE.id, "the blank came with its size holes")
                .at(given.and_then(|s| s.span.clone()))
                .expected(
                    format!("targets for `{}` where the measure puts them", feature.name),
                    "holes of the blank that lie on their targets",
                )
                .remedy(
                    "measure the blank from the bend to a hole and give that as the measure",
                ),
        );
    }
}
