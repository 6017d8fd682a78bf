use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId};

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("blank-too-long"),
    check,
    what: "Warns when the blank is more than twice as long as the strap.",
    why: "A slip of the unit, 12 m for 1.2 m, would pass for a blank with much to \
          spare.",
    breaks: r#"blank.length = "12 m""#,
    keeps: r#"blank.length = "1.2 m""#,
    source: "Common practice, no source.",
};

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let Some(blank) = &input.job.blank.length else { return };
    if let Some(piece) = input.layout.strap() {
        let most = piece.extent.length() * 2;
        if blank.value > most {
            findings.push(
                Finding::warning(RULE.id, "the blank is far longer than the strap")
                    .at(blank.span.clone())
                    .expected(
                        format!("a blank of {}", blank.value.both()),
                        format!("at most {}, twice the strap", most.both()),
                    )
                    .remedy("look at the unit of blank.length, or take a shorter blank"),
            );
        }
    }
}
