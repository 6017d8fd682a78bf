use crate::check::limits::{RIVET_OVER, SCREW_OVER, SCREW_UNDER};
use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId, Severity};
use crate::geom::Length;
use crate::job::HardwareKind;
use std::collections::BTreeSet;

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("post-length"),
    check,
    what: "The posts that the job says are there suit the leather that they go through: a \
           rivet's stands up to 3 mm above it, a screw's ends up to 2 mm below its face.",
    why: "A rivet that is too short does not hold and one too long bends over; a screw \
          post that is longer than its layers leaves them loose.",
    breaks: r#"fastener.post = "12 mm""#,
    keeps: r#"fastener.post = "9 mm""#,
    source: "Stack + up to 3 mm, and a little shorter than the stack: common practice, no \
             source.",
};

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    // One post may be set in several places: one finding for its line.
    let mut said_of = BTreeSet::new();
    for feature in &input.job.features {
        let facts = feature.kind.facts();
        let Some(id) = facts.sets else { continue };
        let (name, given) = match &input.job.hardware(id).kind {
            HardwareKind::Rivet(post) => ("rivet", &post.length),
            HardwareKind::ScrewPost(post) => ("screw post", &post.length),
            _ => continue,
        };
        let Some(given) = given.as_ref().filter(|_| !said_of.contains(&id)) else {
            continue;
        };
        if facts.fold.is_some_and(|fold| fold.fasteners == 0) {
            continue;
        }
        let stack = input.assembly.stack(feature);
        if stack <= Length::ZERO {
            continue;
        }
        let (least, most) = if name == "rivet" {
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
        let severity =
            if short && name == "rivet" { Severity::Error } else { Severity::Warning };
        let word = if short { "short" } else { "long" };
        findings.push(
            Finding::new(
                RULE.id,
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
            .remedy("take another post; where it holds more layers, give layers"),
        );
    }
}
