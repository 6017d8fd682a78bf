use super::prelude::*;
use crate::check::crowding::{crowded, face, too_near};
use crate::words::Wording;

pub(super) const RULE: RuleId = RuleId::new("snap-room");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for piece in input.one_of_each() {
        let outline = piece.outline.segments();
        for feature in &input.job.features {
            let own: Vec<&Mark> =
                piece.marks_of(feature.id).filter(|m| m.kind == MarkKind::Snap).collect();
            let face = |mark: &Mark| face(input, mark);
            let edges = own.iter().map(|m| (depth(&outline, m.at), *m));
            let short = |(reach, mark): &(Length, &Mark)| *reach - face(mark) / 2;
            let worst = edges.min_by_key(short);
            if let Some((reach, mark)) = worst.filter(|w| short(w) < Length::ZERO) {
                Finding::error(
                    RULE,
                    format!(
                        "the {} of `{}` stands over the edge",
                        input.layout.label(mark, Wording::default()),
                        feature.name
                    ),
                )
                .at(mark.span.clone())
                .expected(
                    format!("its middle {} from the edge", reach.both()),
                    format!("at least {}, half its face", (face(mark) / 2).both()),
                )
                .remedy("move it inward, use a smaller snap or leave more beyond it")
                .to(findings);
            }
        }
        for crowd in crowded(input, piece, MarkKind::Snap) {
            findings.push(too_near(RULE, input, "snaps", &crowd));
        }
    }
}
