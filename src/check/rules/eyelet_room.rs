use crate::check::crowding::{crowded, face, too_near};
use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId};
use crate::layout::MarkKind;

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("eyelet-room"),
    check,
    what: "Eyelets have room for their flanges, which are twice as wide as their holes unless \
           the hardware says otherwise: side by side they take no more than two thirds of the \
           strap's width, and they touch and cover nothing else that is punched.",
    why: "A flange that covers the strap leaves too little leather at its sides to pull \
          on, and flanges that touch ride up on each other when they are set.",
    breaks: r#"eyes.kind = "row"
eyes.use = "eyelet"
eyes.from = "turn-back.end-over"
eyes.by = "60 mm"
eyes.count = 2
eyes.pitch = "50 mm"
eyes.diameter = "14 mm""#,
    keeps: r#"eyes.kind = "row"
eyes.use = "eyelet"
eyes.from = "turn-back.end-over"
eyes.by = "60 mm"
eyes.count = 2
eyes.pitch = "50 mm"
eyes.diameter = "6 mm""#,
    source: "Common practice, no source.",
};

fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
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
                findings.push(
                    Finding::warning(
                        RULE.id,
                        format!("the eyelets of `{}` are large", feature.name),
                    )
                    .at(first.span.clone())
                    .expected(
                        format!("flanges of {} across", across.both()),
                        format!("at most {}, two thirds of the strap", most.both()),
                    )
                    .remedy("use smaller eyelets or a wider strap"),
                );
            }
        }
        for crowd in crowded(input, piece, MarkKind::Eyelet) {
            findings.push(too_near(RULE.id, input, "eyelets", &crowd));
        }
    }
}
