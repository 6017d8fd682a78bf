use super::prelude::*;
use crate::check::limits::PUNCH_THROAT;

pub(super) const RULE: RuleId = RuleId::new("punch-reach");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for piece in input.one_of_each() {
        // A strap that is reached into from both its edges has no such place.
        if piece.width <= PUNCH_THROAT * 2 {
            continue;
        }
        let outline = piece.outline.segments();
        let round = |m: &&Mark| {
            matches!(m.shape, Shape::Round { .. }) && m.kind != MarkKind::Stitch
        };
        let holes = piece.marks.iter().filter(|m| m.is_punched()).filter(round);
        let far = holes
            .map(|m| (depth(&outline, m.at), m))
            .find(|(reach, _)| *reach > PUNCH_THROAT);
        let Some((reach, mark)) = far else { continue };
        Finding::new(
            RULE,
            Severity::Note,
            format!("no hand punch reaches {}", input.named(mark)),
        )
        .at(mark.span.clone())
        .expected(
            format!("{} from the nearest edge", reach.both()),
            format!("at most {}", PUNCH_THROAT.both()),
        )
        .remedy("use a drive punch and a mallet")
        .to(findings);
    }
}
