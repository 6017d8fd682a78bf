use crate::check::limits::BUCKLE_PLAY;
use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId};
use crate::job::{HardwareId, HardwareKind};
use std::collections::BTreeSet;

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("strap-to-buckle"),
    check,
    what: "The strap passes the buckle or ring that it is held by, and does not wander in a \
           buckle.",
    why: "A strap wider than the buckle's inside does not go through; one much narrower \
          slides from side to side and wears its holes.",
    breaks: r#"strap.width = "41 mm""#,
    keeps: r#"strap.width = "38 mm""#,
    source: "Common practice, no source.",
};

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for (id, spec) in input.job.hardware.iter().enumerate() {
        let Some(inside) = spec.kind.inside().map(|given| given.value) else { continue };
        let is_buckle = matches!(spec.kind, HardwareKind::Buckle(_));
        let name = &spec.name;
        let mut given = BTreeSet::new();
        for (width, span) in input.widths_in(HardwareId(id)) {
            if !given.insert(width) {
                continue;
            }
            if width > inside {
                let what = if is_buckle { "buckle" } else { "ring" };
                findings.push(
                    Finding::error(
                        RULE.id,
                        format!("the strap is wider than the {what}"),
                    )
                    .at(span)
                    .expected(
                        format!("a strap of {}", width.both()),
                        format!("at most {}, the {what}'s inside", inside.both()),
                    )
                    .remedy(format!(
                        "take a narrower strap or a wider {what} ({name}.inside)"
                    )),
                );
            } else if is_buckle && inside - width > BUCKLE_PLAY {
                findings.push(
                    Finding::warning(RULE.id, "the strap is loose in the buckle")
                        .at(span)
                        .expected(
                            format!("{} of play", (inside - width).both()),
                            format!("at most {}", BUCKLE_PLAY.both()),
                        )
                        .remedy(format!(
                            "take a wider strap or a narrower buckle ({name}.inside)"
                        )),
                );
            }
        }
    }
}
