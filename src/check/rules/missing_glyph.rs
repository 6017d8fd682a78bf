use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId};
use crate::lettering;

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("missing-glyph"),
    check,
    what: "The sheets can set every letter of the title, of the wearer's name and of the \
           words on the strap.",
    why: "A name that prints with gaps ends on the wrong belt.",
    breaks: r#"wearer = "漢""#,
    keeps: r#"wearer = "Łukasz""#,
    source: "The letters of the embedded face: Latin, Greek and Cyrillic.",
};

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let job = input.job;
    let words = job.features.iter().filter_map(|f| Some(("text", f.kind.facts().text?)));
    let head = [("title", &job.title), ("wearer", &job.wearer)];
    for (what, said) in head.into_iter().chain(words) {
        let lacking = lettering::missing(&said.value);
        if lacking.is_empty() {
            continue;
        }
        let shown: Vec<String> =
            lacking.iter().map(|c| format!("`{c}` (U+{:04X})", u32::from(*c))).collect();
        findings.push(
            Finding::error(
                RULE.id,
                format!("the {what} has letters that the sheets cannot set"),
            )
            .at(said.span.clone())
            .expected(shown.join(", "), "Latin, Greek or Cyrillic letters")
            .remedy("write the name in one of these alphabets too"),
        );
    }
}
