use super::prelude::*;
use crate::lettering;
use crate::words::Name;

pub(super) const RULE: RuleId = RuleId::new("missing-glyph");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let job = input.job;
    let words = job.features.iter().filter_map(|f| Some(("text", f.kind.facts().text?)));
    let head = [("title", &job.title), ("wearer", &job.wearer)];
    let serves = job.serves.iter().map(|serves| ("name of its length", &serves.what));
    for (what, given) in head.into_iter().chain(words).chain(serves) {
        find(what, &given.value, given.span.as_ref(), findings);
    }
    let lacks = |name: &Name| !lettering::missing(name.as_str()).is_empty();
    let features = job.features.iter().filter(|f| lacks(&f.name));
    for feature in features.filter(|f| is_printed(f, input)) {
        let what = format!("name of the feature `{}`", feature.name);
        find(&what, feature.name.as_str(), feature.span.as_ref(), findings);
    }
    for piece in job.pieces.iter().filter(|p| p.count.value > 0) {
        let what = format!("name of the piece `{}`", piece.name);
        find(&what, piece.name.as_str(), piece.span.as_ref(), findings);
    }
}

/// Whether the sheets print the name of a feature: that of one with holes.
fn is_printed(feature: &Feature, input: &CheckInput<'_>) -> bool {
    input.marks().any(|(_, mark)| {
        let is_hole = mark.is_punched() && !matches!(mark.shape, Shape::Slot { .. });
        mark.feature == feature.id && (is_hole || mark.role == MarkRole::Only)
    })
}

/// Finds letters of a text that the face lacks.
fn find(what: &str, text: &str, span: Option<&Span>, findings: &mut Vec<Finding>) {
    let lacking = lettering::missing(text);
    if !lacking.is_empty() {
        let shown: Vec<String> =
            lacking.iter().map(|c| format!("`{c}` (U+{:04X})", u32::from(*c))).collect();
        Finding::error(
            RULE,
            format!("the {what} has letters that the sheets cannot set"),
        )
        .at(span.cloned())
        .expected(shown.join(", "), "Latin, Greek or Cyrillic letters")
        .remedy("write the name in one of these alphabets too")
        .to(findings);
    }
}
