//! **What it does.** The ease is one that clothes and comfort ask for.
//!
//! **Why.** Ease moves every hole and is no part of the girth that is held against bodies: a
//! slip in it would show nowhere else.
//!
//! **Source.** Common practice, no source.

use crate::check::limits::{EASE_PARTS, USUAL_EASE};
use crate::check::{Rule, Subject};
use crate::diagnostic::{Finding, Severity};

const ID: &str = "ease";

pub(super) const RULE: Rule = Rule { id: ID, check };

fn check(subject: &Subject<'_>, findings: &mut Vec<Finding>) {
    let Some(worn) = &subject.job.worn else { return };
    let ease = &worn.measure.ease;
    if USUAL_EASE.from <= ease.value && ease.value <= USUAL_EASE.to {
        return;
    }
    let beyond = ease.value.abs() > worn.measure.value.value / EASE_PARTS;
    let severity = if beyond { Severity::Error } else { Severity::Warning };
    findings.push(
        Finding::new(ID, severity, "this is more or less ease than clothes ask for")
            .at(ease.place.clone())
            .held(
                ease.value.both(),
                format!("{} to {}", USUAL_EASE.from.both(), USUAL_EASE.to.both()),
            )
            .remedy(
                "measure over what is worn beneath, and look at the unit of the ease",
            ),
    );
}
