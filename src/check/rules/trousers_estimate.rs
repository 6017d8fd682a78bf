use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId, Severity};
use crate::job::MeasureMethod;

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("trousers-estimate"),
    check,
    what: "Says that a size taken from trousers is an estimate.",
    why: "Trouser sizes differ from maker to maker by more than a hole.",
    breaks: r#"measure.taken = "trousers""#,
    keeps: r#"measure.taken = "tape""#,
    source: "Size + 2 in: common practice, no source.",
};

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let Some(worn) = &input.job.worn else { return };
    if worn.measure.taken.value != MeasureMethod::Trousers {
        return;
    }
    findings.push(
        Finding::new(RULE.id, Severity::Note, "a size from trousers is an estimate")
            .at(worn.measure.taken.span.clone())
            .expected(
                format!("trousers of {}", worn.measure.value.value.both()),
                "a tape round the body, or a belt that fits",
            )
            .remedy("measure the wearer before you punch, or add a hole on either side"),
    );
}
