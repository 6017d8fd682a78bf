use super::prelude::*;
use crate::check::crowding::{crowded, face, too_near};

pub(super) const RULE: RuleId = RuleId::new("eyelet-room");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for piece in input.one_of_each() {
        for feature in &input.job.features {
            let own: Vec<_> = piece
                .marks_of(feature.id)
                .filter(|m| m.kind == MarkKind::Eyelet)
                .collect();
            let Some(first) = own.first() else { continue };
            let flange = face(input, first);
            let rows = own.iter().filter(|m| m.at.x == first.at.x).count();
            let across = flange * i64::try_from(rows).unwrap_or(1);
            let width = piece.width_at(first.at.x);
            let most = width.times(2, 3);
            if across > most {
                Finding::warning(
                    RULE,
                    format!("the eyelets of `{}` are large", feature.name),
                )
                .at(first.span.clone())
                .expected(
                    format!("flanges of {} across", across.both()),
                    format!("at most {}, two thirds of the strap", most.both()),
                )
                .remedy("use smaller eyelets or a wider strap")
                .to(findings);
            }
        }
        for crowd in crowded(input, piece, MarkKind::Eyelet) {
            findings.push(too_near(RULE, input, "eyelets", &crowd));
        }
    }
}
