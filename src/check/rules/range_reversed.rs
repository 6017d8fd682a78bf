use crate::check::{About, Rule, Subject};
use crate::diagnostic::{Finding, Severity};
use crate::geom::Length;
use crate::job::{Feature, FeatureKind, Run};

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
        let (place, back) = match &feature.kind {
            FeatureKind::Row(row) => match &row.run {
                Run::To { by, .. } | Run::AtMost { by, .. } => {
                    (&by.place, backwards(subject, feature))
                }
                Run::Pitch { pitch, .. } => (&pitch.place, -pitch.value),
            },
            FeatureKind::ButtonHole(holes) => (&holes.pitch.place, -holes.pitch.value),
            _ => continue,
        };
        if back <= Length::ZERO {
            continue;
        }
        findings.push(
            Finding::new(
                ID,
                Severity::Error,
                format!("the holes of `{}` run backwards", feature.name),
            )
            .at(place.clone())
            .held(
                format!("its second hole {} before its first", back.both()),
                "holes from the shortest to the longest",
            )
            .remedy("are the shortest and the longest swapped?"),
        );
    }
}

/// How far the second hole of a row lies before its first.
fn backwards(subject: &Subject<'_>, feature: &Feature) -> Length {
    let at = |label: &str| {
        let mut all = subject.marks().map(|(_, m)| m);
        all.find(|m| m.feature == feature.name && m.label == label).map(|m| m.at.x)
    };
    match (at("1"), at("2")) {
        (Some(first), Some(second)) => first - second,
        _ => Length::ZERO,
    }
}
