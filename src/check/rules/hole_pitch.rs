use crate::check::limits::COARSEST_PITCH;
use crate::check::{About, CheckInput, Rule};
use crate::diagnostic::{Finding, Severity};
use crate::job::{FeatureKind, RowCount};

const ID: &str = "hole-pitch";

pub(super) const RULE: Rule = Rule { id: ID, about: ABOUT, check };

const ABOUT: About = About {
    what: "Holes that are chosen from stand no further apart than 45 mm.",
    why: "From hole to hole is the step of the fit: a coarse one fits nobody between, and \
          25 cm for 25 mm makes a strap of twice the length.",
    breaks: r#"size-holes.pitch = "60 mm""#,
    keeps: r#"size-holes.pitch = "1 1/4 in""#,
    source: "1 to 1 1/4 in usual, 1 1/2 in felt to be too coarse: common practice, no \
             source.",
};

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for feature in &input.job.features {
        let pitch = match &feature.kind {
            FeatureKind::HoleRow(row) if row.inside.value + row.outside.value > 0 => {
                &row.pitch
            }
            FeatureKind::Row(row) if input.is_chosen_from(feature) => match &row.run {
                RowCount::AtMost { pitch, .. } | RowCount::Pitch { pitch, .. } => pitch,
                RowCount::To { .. } => continue,
            },
            _ => continue,
        };
        if pitch.value.abs() <= COARSEST_PITCH {
            continue;
        }
        findings.push(
            Finding::new(
                ID,
                Severity::Warning,
                format!("the holes of `{}` stand far apart", feature.name),
            )
            .at(pitch.span.clone())
            .expected(
                format!("{} from hole to hole", pitch.value.abs().both()),
                format!("at most {}", COARSEST_PITCH.both()),
            )
            .remedy("give a finer pitch and more holes, and look at the unit"),
        );
    }
}
