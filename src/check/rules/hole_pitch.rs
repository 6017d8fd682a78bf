use super::prelude::*;
use crate::check::limits::COARSEST_PITCH;
use crate::job::HoleRow;

pub(super) const RULE: RuleId = RuleId::new("hole-pitch");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for feature in &input.job.features {
        let facts = feature.kind.facts();
        let several = |row: &&HoleRow| row.inside.value + row.outside.value > 0;
        let sizes = facts.size_holes.filter(several).map(|row| &row.pitch);
        let chosen =
            facts.run.filter(|_| facts.slit.is_none() && input.is_chosen_from(feature));
        let pitch = match (sizes, chosen) {
            (Some(pitch), _)
            | (None, Some(Run::AtMost { pitch, .. } | Run::Pitch(pitch))) => pitch,
            (None, Some(Run::To { .. } | Run::Places(_)) | None) => continue,
        };
        if pitch.value.abs() <= COARSEST_PITCH {
            continue;
        }
        Finding::warning(
            RULE,
            format!("the holes of `{}` stand far apart", feature.name),
        )
        .at(pitch.span.clone())
        .expected(
            format!("{} from hole to hole", pitch.value.abs().both()),
            format!("at most {}", COARSEST_PITCH.both()),
        )
        .remedy("give a finer pitch and more holes, and look at the unit")
        .to(findings);
    }
}
