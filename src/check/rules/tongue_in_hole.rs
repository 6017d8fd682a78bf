//! **What it does.** The size holes are at least as wide as the tongue.
//!
//! **Why.** A tongue that does not enter its hole, or bursts it, shows when the belt is done.
//!
//! **Source.** Common practice, no source.

use crate::check::{Rule, Subject};
use crate::diagnostic::{Finding, Severity};
use crate::job::FeatureKind;

const ID: &str = "tongue-in-hole";

pub(super) const RULE: Rule = Rule { id: ID, check };

fn check(subject: &Subject<'_>, findings: &mut Vec<Finding>) {
    let Some(buckle) = subject.job.worn.as_ref().and_then(|w| w.buckle.as_ref()) else {
        return;
    };
    let tongue = buckle.tongue.value;
    for feature in &subject.job.features {
        let FeatureKind::HoleRow(row) = &feature.kind else { continue };
        if row.diameter.value >= tongue {
            continue;
        }
        findings.push(
            Finding::new(
                ID,
                Severity::Warning,
                "the tongue may not enter the size holes",
            )
            .at(row.diameter.place.clone())
            .held(
                format!("holes of {}", row.diameter.value.both()),
                format!("at least the tongue, {}", tongue.both()),
            )
            .remedy("use a larger punch, or measure buckle.tongue at its point"),
        );
    }
}
