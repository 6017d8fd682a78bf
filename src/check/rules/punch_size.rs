use super::prelude::*;
use crate::check::limits::{PUNCH_PLAY, PUNCHES_UM};
use std::collections::BTreeSet;

pub(super) const RULE: RuleId = RuleId::new("punch-size");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    let mut given: BTreeSet<(FeatureId, Length)> = BTreeSet::new();
    for (_, mark) in input.marks().filter(|(_, m)| m.is_punched()) {
        let Some(diameter) = diameter(mark) else { continue };
        let punches = || PUNCHES_UM.iter().map(|um| Length::from_um(*um));
        let off = |punch: &Length| (*punch - diameter).abs();
        let Some(nearest) = punches().min_by_key(off) else { continue };
        if off(&nearest) <= PUNCH_PLAY || !given.insert((mark.feature, diameter)) {
            continue;
        }
        let below = punches().filter(|p| *p < diameter).max();
        let above = punches().filter(|p| *p > diameter).min();
        let both: Vec<String> =
            [below, above].into_iter().flatten().map(Length::both).collect();
        Finding::new(
            RULE,
            Severity::Note,
            format!("no usual punch makes the holes of `{}`", input.layout.feature(mark)),
        )
        .at(mark.span.clone())
        .expected(
            format!("a hole of {}", diameter.both()),
            format!("a punch that there is: {}", both.join(" or ")),
        )
        .remedy("choose the punch now and give its own diameter")
        .to(findings);
    }
}

/// The punch that a mark takes across; `None` for slots, which are cut between two holes,
/// and for stitches, which are pricked.
fn diameter(mark: &Mark) -> Option<Length> {
    if matches!(mark.kind, MarkKind::Slot | MarkKind::Stitch) {
        return None;
    }
    match mark.shape {
        Shape::Round { diameter } => Some(diameter),
        Shape::Slot { width, .. } if matches!(mark.role, MarkRole::SizeHole { .. }) => {
            Some(width)
        }
        _ => None,
    }
}
