use crate::check::{About, Rule, Subject};
use crate::diagnostic::{Finding, Severity};
use crate::lettering;

const ID: &str = "missing-glyph";

pub(super) const RULE: Rule = Rule { id: ID, about: ABOUT, check };

const ABOUT: About = About {
    what: "The sheets can set every letter of the title and of the wearer's name.",
    why: "A name that prints with gaps ends on the wrong belt.",
    breaks: r#"wearer = "漢""#,
    keeps: r#"wearer = "Łukasz""#,
    source: "The letters of the embedded face: Latin, Greek and Cyrillic.",
};

fn check(subject: &Subject<'_>, findings: &mut Vec<Finding>) {
    for (what, said) in [("title", &subject.job.title), ("wearer", &subject.job.wearer)] {
        let lacking = lettering::missing(&said.value);
        if lacking.is_empty() {
            continue;
        }
        let shown: Vec<String> =
            lacking.iter().map(|c| format!("`{c}` (U+{:04X})", u32::from(*c))).collect();
        findings.push(
            Finding::new(
                ID,
                Severity::Error,
                format!("the {what} has letters that the sheets cannot set"),
            )
            .at(said.place.clone())
            .held(shown.join(", "), "Latin, Greek or Cyrillic letters")
            .remedy("write the name in one of these alphabets too"),
        );
    }
}
