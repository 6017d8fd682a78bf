use super::prelude::*;
use crate::assembly::joined;
use crate::check::limits::OUT_OF_LINE;
use crate::diagnostic::counted;
use crate::job::Buckle;
use std::collections::BTreeSet;

pub(super) const RULE: RuleId = RuleId::new("rows-match");

/// Places across the strap.
type Places = BTreeSet<Length>;

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for feature in &input.job.features {
        let own = places(input, feature.id);
        if let Some(Target::Feature(other)) = feature.kind.facts().meets {
            let theirs = places(input, other.value);
            let other = input.job.feature(other.value);
            let is_told = matches!(
                other.kind.facts().meets,
                Some(Target::Feature(own)) if own.value == feature.id && other.id < feature.id
            );
            if is_told {
                continue;
            }
            if joined(input.job, feature).is_some() {
                let [own, theirs] = [feature, other].map(|f| along(input, f.id));
                if !agree(&own, &theirs) {
                    findings.push(unjoined(feature, other, &own, &theirs));
                    continue;
                }
            }
            if !agree(&own, &theirs) {
                let message = format!(
                    "the holes of `{}` do not lie opposite those of `{}`",
                    feature.name, other.name
                );
                let rows = [feature, other].map(rows_span);
                let [own_rows, other_rows] = rows;
                let span = own_rows.or(other_rows);
                findings.push(found(message, span, feature, &own, &theirs));
            } else if let Some(apart) = unmatched(input, feature.id, other.id) {
                Finding::error(
                    RULE,
                    format!(
                        "the holes of `{}` do not all meet those of `{}`",
                        feature.name, other.name
                    ),
                )
                .at(pitch_span(feature).or(feature.span.as_ref()).cloned())
                .expected(
                    format!("two holes {} apart along the strap", apart.both()),
                    format!("two of `{}` as far apart", other.name),
                )
                .remedy("give both the same pitch, or one a multiple of the other's")
                .to(findings);
            }
        }
    }
    for (id, buckle) in input.job.buckles() {
        tongues(input, id, buckle, findings);
    }
}

/// Finds rows and slots of a buckle that are not those of its tongues.
fn tongues(
    input: &CheckInput<'_>,
    id: HardwareId,
    buckle: &Buckle,
    findings: &mut Vec<Finding>,
) {
    let n = buckle.tongues.value;
    // Where the counts differ, the job's own count is asked after first.
    let tongue_count = buckle.tongues.span.as_ref();
    let outermost = -(buckle.apart.value * i64::from(n - 1)) / 2;
    let tongues: Places =
        (0..n).map(|i| outermost + buckle.apart.value * i64::from(i)).collect();
    let about =
        |name: &str| format!("`{name}` has no place for each tongue of the buckle");
    for feature in input.features_at(id) {
        let is_met = feature.kind.facts().meets.is_some();
        let own = places(input, feature.id);
        if is_met && !own.is_empty() && !agree(&own, &tongues) {
            let message = about(feature.name.as_str());
            let span = tongue_count.filter(|_| own.len() != tongues.len());
            let span = span.or_else(|| rows_span(feature));
            findings.push(found(message, span, feature, &own, &tongues));
        }
    }
    // Slots in the bend, whichever feature cuts them.
    for piece in input.one_of_each() {
        let holds = |f: FeatureId| input.job.feature(f).kind.facts().holds == Some(id);
        for fold in piece.folds.iter().filter(|fold| holds(fold.feature)) {
            let slots: Vec<&Mark> = (piece.marks.iter())
                .filter(|m| m.kind == MarkKind::Slot && m.at.x == fold.at)
                .collect();
            let own: Places = slots.iter().map(|m| m.at.y).collect();
            if let Some(first) = slots.first().filter(|_| !agree(&own, &tongues)) {
                let feature = input.job.feature(first.feature);
                let message = about(feature.name.as_str());
                let span = rows_span(feature).or(first.span.as_ref());
                findings.push(found(message, span, feature, &own, &tongues));
            }
        }
    }
}

/// How far two holes of a feature stand apart along the strap that no two of another do.
fn unmatched(input: &CheckInput<'_>, one: FeatureId, other: FeatureId) -> Option<Length> {
    let (own, theirs) = (along(input, one), along(input, other));
    // A long row closes on a short one anywhere along it.
    let (own, theirs) =
        if own.len() > theirs.len() { (theirs, own) } else { (own, theirs) };
    let meets = |apart: Length| {
        theirs.iter().any(|from| {
            let near = *from + apart - OUT_OF_LINE..=*from + apart + OUT_OF_LINE;
            theirs.range(near).next().is_some()
        })
    };
    own.into_iter().find(|apart| !meets(*apart))
}

/// The line that says how far apart the holes of a feature stand along the strap.
fn pitch_span(feature: &Feature) -> Option<&Span> {
    feature.kind.facts().run?.given().first()?.span.as_ref()
}

/// Where the openings of a feature lie across the strap.
fn places(input: &CheckInput<'_>, id: FeatureId) -> Places {
    let marks = input.one_of_each().flat_map(|p| p.marks_of(id));
    marks.filter(|m| m.path().is_some()).map(|m| m.at.y).collect()
}

/// How far past its first opening each opening of a feature lies along its piece.
fn along(input: &CheckInput<'_>, id: FeatureId) -> Places {
    let marks = input.one_of_each().flat_map(|p| p.marks_of(id));
    let all: Places = marks.filter(|m| m.path().is_some()).map(|m| m.at.x).collect();
    let first = all.first().copied().unwrap_or_default();
    all.into_iter().map(|x| x - first).collect()
}

/// The finding that posts do not go through both of two pieces.
fn unjoined(feature: &Feature, other: &Feature, is: &Places, must: &Places) -> Finding {
    let words = |all: &Places| {
        let last = all.last().copied().unwrap_or_default();
        format!(
            "{}, {} from the first to the last",
            counted(all.len(), "hole"),
            last.both()
        )
    };
    let message = format!(
        "the holes of `{}` do not lie over those of `{}`",
        feature.name, other.name
    );
    Finding::error(RULE, message)
        .at(feature.span.clone())
        .expected(words(is), words(must))
        .remedy("give both the same count, and the same way from the first to the last")
}

fn agree(one: &Places, other: &Places) -> bool {
    let near = |(a, b): (&Length, &Length)| (*a - *b).abs() <= OUT_OF_LINE;
    one.len() == other.len() && one.iter().zip(other).all(near)
}

/// The line that says how many rows there are, or how far apart.
fn rows_span(feature: &Feature) -> Option<&Span> {
    let rows = feature.kind.facts().rows?;
    [&rows.apart.span, &rows.across.span, &rows.count.span]
        .into_iter()
        .find_map(Option::as_ref)
}

fn found(
    message: String,
    span: Option<&Span>,
    feature: &Feature,
    is: &Places,
    must: &Places,
) -> Finding {
    let words = |all: &Places| {
        let all: Vec<String> = all.iter().map(|y| y.both()).collect();
        format!("{} from the middle line", all.join(", "))
    };
    Finding::error(RULE, message)
        .at(span.or(feature.span.as_ref()).cloned())
        .expected(words(is), words(must))
        .remedy("give both the same rows and rows-apart")
}
