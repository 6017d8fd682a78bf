use crate::check::limits::EYELET_FLANGE;
use crate::check::near::Near;
use crate::check::{CheckInput, Rule};
use crate::diagnostic::{Finding, RuleId};
use crate::geom::{Extent, Length};
use crate::job::HardwareKind;
use crate::layout::{Mark, MarkKind};

pub(super) const RULE: Rule = Rule {
    id: RuleId::new("eyelet-room"),
    check,
    what: "Eyelets have room for their flanges, twice as wide as their holes unless they say otherwise: side by side \
           they take no more than two thirds of the strap's width, and no two of them touch.",
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
            let set = feature.kind.facts().sets.map(|id| &input.job.hardware(id).kind);
            let usual = first.y_extent().length() * EYELET_FLANGE;
            let flange = set.and_then(HardwareKind::face).unwrap_or(usual);
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
            let disc = |m: &Mark| {
                let half = flange.max(Length::ZERO) / 2;
                [m.at.x, m.at.y].map(|at| Extent { from: at, to: at }.grown(half))
            };
            let near = Near::new(own.iter().map(|m| ((), disc(m))));
            let apart = own
                .iter()
                .enumerate()
                .flat_map(|(i, a)| {
                    let later = near.after(i, disc(a)).into_iter();
                    later.map(|n| (a.at - own[n].at).norm())
                })
                .min();
            let Some(apart) = apart.filter(|a| *a <= flange) else { continue };
            findings.push(
                Finding::error(
                    RULE.id,
                    format!("the eyelets of `{}` touch each other", feature.name),
                )
                .at(first.span.clone())
                .expected(
                    format!("{} from middle to middle", apart.both()),
                    format!("more than {}, a flange", flange.max(Length::ZERO).both()),
                )
                .remedy("set them further apart or use smaller ones"),
            );
        }
    }
}
