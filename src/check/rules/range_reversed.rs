use crate::check::{About, Rule, Subject};
use crate::diagnostic::{Finding, Severity};
use crate::job::{FeatureKind, Run};
use crate::layout::MarkKind;

const ID: &str = "range-reversed";

pub(super) const RULE: Rule = Rule { id: ID, about: ABOUT, check };

const ABOUT: About = About {
    what: "Holes that are chosen from run from the shortest to the longest.",
    why: "Shortest and longest swapped put the tip past the wrong end of the row: the \
          other holes then lie beyond the leather.",
    breaks: r#"template = "bundle-strap"
bundle.smallest = "700 mm""#,
    keeps: r#"template = "bundle-strap"
bundle.smallest = "400 mm""#,
    source: "Follows from how the templates place tip and holes.",
};

fn check(subject: &Subject<'_>, findings: &mut Vec<Finding>) {
    for feature in subject.job.features.iter().filter(|f| subject.is_chosen_from(f)) {
        let place = match &feature.kind {
            FeatureKind::Row(row) => match &row.run {
                Run::To { by, .. } | Run::AtMost { by, .. } => by.place.as_ref(),
                Run::Pitch { pitch, .. } => pitch.place.as_ref(),
            },
            FeatureKind::ButtonHole(holes) => holes.pitch.place.as_ref(),
            _ => continue,
        };
        let at = |label: &str| {
            let own =
                subject.marks().map(|(_, m)| m).filter(|m| m.feature == feature.name);
            let mut holes = own.filter(|m| m.kind != MarkKind::Slit);
            holes.find(|m| m.label == label).map(|m| m.at.x)
        };
        let (Some(first), Some(second)) = (at("1"), at("2")) else { continue };
        if second >= first {
            continue;
        }
        findings.push(
            Finding::new(
                ID,
                Severity::Error,
                format!("the holes of `{}` run backwards", feature.name),
            )
            .at(place.cloned())
            .held(
                format!("its second hole {} before its first", (first - second).both()),
                "holes from the shortest to the longest",
            )
            .remedy("are the shortest and the longest swapped?"),
        );
    }
}
