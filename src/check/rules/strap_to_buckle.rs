use super::prelude::*;
use crate::check::limits::BUCKLE_PLAY;
use std::collections::BTreeSet;

pub(super) const RULE: RuleId = RuleId::new("strap-to-buckle");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
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
                let what = if is_buckle { "buckle" } else { "hardware" };
                Finding::error(
                    RULE,
                    format!("the strap is wider than the {what} that holds it"),
                )
                .at(span)
                .expected(
                    format!("a strap of {}", width.both()),
                    format!("at most {}, the inside of `{name}`", inside.both()),
                )
                .remedy(format!(
                    "take a narrower strap, or hardware with a wider {name}.inside"
                ))
                .change(inside.to_string())
                .or_change(format!("{name}.inside"), width.to_string())
                .to(findings);
            } else if is_buckle && inside - width > BUCKLE_PLAY {
                Finding::warning(RULE, "the strap is loose in the buckle")
                    .at(span)
                    .expected(
                        format!("{} of play", (inside - width).both()),
                        format!("at most {}", BUCKLE_PLAY.both()),
                    )
                    .remedy(format!(
                        "take a wider strap or a narrower buckle ({name}.inside)"
                    ))
                    .change(inside.to_string())
                    .or_change(format!("{name}.inside"), width.to_string())
                    .to(findings);
            }
        }
    }
}
