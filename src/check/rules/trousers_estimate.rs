use crate::check::{About, Rule, Subject};
use crate::diagnostic::{Finding, Severity};
use crate::job::Taken;

const ID: &str = "trousers-estimate";

pub(super) const RULE: Rule = Rule { id: ID, about: ABOUT, check };

const ABOUT: About = About {
    what: "Says that a size taken from trousers is an estimate.",
    why: "Trouser sizes differ from maker to maker by more than a hole.",
    breaks: r#"measure.taken = "trousers""#,
    keeps: r#"measure.taken = "tape""#,
    source: "Size + 2 in: common practice, no source.",
};

fn check(subject: &Subject<'_>, findings: &mut Vec<Finding>) {
    let Some(worn) = &subject.job.worn else { return };
    if worn.measure.taken.value != Taken::Trousers {
        return;
    }
    findings.push(
        Finding::new(ID, Severity::Note, "a size from trousers is an estimate")
            .at(worn.measure.taken.place.clone())
            .held(
                format!("trousers of {}", worn.measure.value.value.both()),
                "a tape round the body, or a belt that fits",
            )
            .remedy("measure the wearer before you punch, or add a hole on either side"),
    );
}
