use super::prelude::*;
use crate::check::limits::{RIVET_OVER, SCREW_OVER, SCREW_UNDER};
use std::collections::BTreeSet;

pub(super) const RULE: RuleId = RuleId::new("post-length");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    // One post may be set in several places: one finding for its line.
    let mut said_of = BTreeSet::new();
    for feature in &input.job.features {
        let facts = feature.kind.facts();
        let Some(id) = facts.sets else { continue };
        let (is_rivet, given) = match &input.job.hardware(id).kind {
            HardwareKind::Rivet(post) => (true, &post.length),
            HardwareKind::ScrewPost(post) => (false, &post.length),
            _ => continue,
        };
        let name = if is_rivet { "rivet" } else { "screw post" };
        let Some(given) = given.as_ref().filter(|_| !said_of.contains(&id)) else {
            continue;
        };
        if facts.fold.is_some_and(|fold| fold.fasteners().is_empty()) {
            continue;
        }
        let stack = input.assembly.stack(feature);
        if stack <= Length::ZERO {
            continue;
        }
        let (least, most) = if is_rivet {
            (stack, stack + RIVET_OVER)
        } else {
            ((stack - SCREW_UNDER).max(Length::ZERO), stack + SCREW_OVER)
        };
        let post = given.value;
        if least <= post && post <= most {
            continue;
        }
        said_of.insert(id);
        let short = post < least;
        // A rivet that does not come through cannot be set at all.
        let severity = Severity::error_if(short && is_rivet);
        let word = if short { "short" } else { "long" };
        Finding::new(
            RULE,
            severity,
            format!("the {name} of `{}` is too {word}", feature.name),
        )
        .at(given.span.clone())
        .expected(
            format!("a post of {}", post.both()),
            format!(
                "{} to {}, for {} of leather",
                least.both(),
                most.both(),
                stack.both()
            ),
        )
        .remedy("take another post; where it holds more layers, give layers")
        .to(findings);
    }
}
