use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId};

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("blank-too-short"),
    check,
    what: "The blank is at least as long as the strap is, flat.",
    why: "A blank that is too short shows only once the holes are punched.",
    breaks: r#"blank.length = "800 mm""#,
    keeps: r#"blank.length = "1.2 m""#,
    source: "Computed from the layout.",
};

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let Some(blank) = &input.job.blank.length else { return };
    if let Some(piece) = input.layout.strap() {
        let needed = piece.extent.length();
        if blank.value < needed {
            findings.push(
                Finding::error(RULE.id, "the blank is too short for the strap")
                    .at(blank.span.clone())
                    .expected(
                        format!("a blank of {}", blank.value.both()),
                        format!("{} from end to point", needed.both()),
                    )
                    .remedy(
                        "take a longer blank, fewer holes outside the size or a shorter end",
                    ),
            );
        }
    }
}
