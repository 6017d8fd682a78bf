//! **What it does.** Says that a size taken from trousers is an estimate.
//!
//! **Why.** Trouser sizes differ from maker to maker by more than a hole.
//!
//! **Source.** Size + 2 in: common practice, no source.

use crate::check::{Rule, Subject};
use crate::diagnostic::{Finding, Severity};
use crate::job::Taken;

const ID: &str = "trousers-estimate";

pub(super) const RULE: Rule = Rule { id: ID, check };

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
