//! **What it does.** The blank is at least as long as the strap is, flat.
//!
//! **Why.** A blank that is too short shows only once the holes are punched.
//!
//! **Source.** Computed from the layout.

use crate::check::{Rule, Subject};
use crate::diagnostic::{Finding, Severity};

const ID: &str = "blank-too-short";

pub(super) const RULE: Rule = Rule { id: ID, check };

fn check(subject: &Subject<'_>, findings: &mut Vec<Finding>) {
    let Some(blank) = &subject.job.blank.length else { return };
    if let Some(piece) = subject.layout.strap() {
        let needed = piece.extent.length();
        if blank.value < needed {
            findings.push(
                Finding::new(ID, Severity::Error, "the blank is too short for the strap")
                    .at(blank.place.clone())
                    .held(
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
