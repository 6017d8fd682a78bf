use super::fold_room::beyond;
use super::prelude::*;
use crate::job::{Fasteners, Held};

pub(super) const RULE: RuleId = RuleId::new("fold-held");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for body in &input.assembly.bodies {
        for flap in &body.flaps {
            let feature = input.job.feature(flap.feature);
            let Some(fold) = feature.kind.facts().fold else { continue };
            // What has no room to fold is told of by `fold-room`.
            if feature.on_blank
                || beyond(body, flap).is_some()
                || body.joints(flap).next().is_some()
            {
                continue;
            }
            let (bears_load, holds) = (input.job.bears_load(), fold.is_closed());
            let severity = match fold.held.as_ref().map(|held| held.value) {
                None | Some(Held::Free) if holds => Severity::Error,
                Some(Held::HandSewn) => continue,
                Some(Held::Free | Held::Cement) if !bears_load => continue,
                None | Some(Held::Free | Held::Cement) => Severity::Warning,
            };
            let what = match fold.held.as_ref().map(|held| held.value) {
                Some(Held::Cement) => "nothing but cement",
                _ => "nothing",
            };
            let count = match &fold.fasteners {
                Fasteners::Line { count, .. } => count.span.as_ref(),
                Fasteners::Pair { .. } => None,
            };
            let span = count.or(fold.length.span.as_ref());
            let span = fold.held.as_ref().map_or(span, |held| held.span.as_ref());
            Finding::new(RULE, severity, format!("{what} holds `{}`", feature.name))
                .at(span.or(feature.span.as_ref()).cloned())
                .expected(
                    "no fastener, and no seam through both layers",
                    "at least one of them",
                )
                .remedy(format!(
                    "give {0}.fasteners, sew it with mirror-about = \"{0}.bend\", or say \
                         {0}.held = \"hand-sewn\"",
                    feature.name
                ))
                .to(findings);
        }
    }
}
