use crate::check::{About, CheckInput, Rule};
use crate::diagnostic::{Finding, Severity};
use crate::geom::Length;
use crate::job::{Feature, FeatureKind, RowCount};

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

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for feature in input.job.features.iter().filter(|f| input.is_chosen_from(f)) {
        let (span, back) = match &feature.kind {
            FeatureKind::Row(row) => match &row.run {
                RowCount::To { by, .. } | RowCount::AtMost { by, .. } => {
                    (&by.span, backwards(input, feature))
                }
                RowCount::Pitch { pitch, .. } => (&pitch.span, -pitch.value),
            },
            FeatureKind::ButtonHole(holes) => (&holes.pitch.span, -holes.pitch.value),
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
            .at(span.clone())
            .expected(
                format!("its second hole {} before its first", back.both()),
                "holes from the shortest to the longest",
            )
            .remedy("are the shortest and the longest swapped?"),
        );
    }
}

/// How far the second hole of a row lies before its first.
fn backwards(input: &CheckInput<'_>, feature: &Feature) -> Length {
    let at = |label: &str| {
        let mut all = input.marks().map(|(_, m)| m);
        all.find(|m| m.feature == feature.name && m.label == label).map(|m| m.at.x)
    };
    match (at("1"), at("2")) {
        (Some(first), Some(second)) => first - second,
        _ => Length::ZERO,
    }
}
