use super::prelude::*;
use crate::check::measure::web;
use crate::check::near::{Near, room};
use crate::words::Wording;

pub(super) const RULE: RuleId = RuleId::new("web-between-holes");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for piece in input.one_of_each() {
        for feature in &input.job.features {
            let own = piece.marks_of(feature.id);
            let punched: Vec<_> = own.filter(|m| m.is_opening()).collect();
            // One finding a feature: a pitch that is too small is one mistake.
            let widest = punched.iter().map(|m| breadth(m)).max();
            let widest = widest.unwrap_or_default();
            let near = Near::new(punched.iter().map(|m| ((), room(m, Length::ZERO))));
            let slit_to = feature.kind.facts().slit.map(|slit| slit.value);
            let narrow = punched.iter().enumerate().find_map(|(i, a)| {
                near.after(i, room(a, widest))
                    .into_iter()
                    .map(|n| punched[n])
                    .filter(|b| {
                        !is_own_slit(slit_to, a, b) && !is_own_slit(slit_to, b, a)
                    })
                    .find_map(|b| {
                        // Between two holes of a blank there is what there is.
                        let is_there = a.kind == MarkKind::Target;
                        let needed = if is_there {
                            Length::ZERO
                        } else {
                            breadth(a).max(breadth(b))
                        };
                        let clear = web(a, b);
                        (clear < needed).then_some((*a, b, clear, needed))
                    })
            });
            let Some((a, b, clear, needed)) = narrow else { continue };
            let spacing = feature.kind.facts().spacing;
            Finding::new(
                RULE,
                severity_of(a),
                if a.role == b.role {
                    format!("two holes of `{}` stand too close", feature.name)
                } else {
                    format!(
                        "{} and {} stand too close",
                        input.named(a),
                        input.layout.label(b, Wording::default())
                    )
                },
            )
            .at(spacing.or(a.span.as_ref()).cloned())
            .expected(
                format!("{} of leather between them", clear.both()),
                format!("at least {}", needed.both()),
            )
            .remedy(if a.at == b.at {
                "they lie in one place: for one length, give the row count = 1"
            } else {
                "space them further apart or use a smaller punch"
            })
            .to(findings);
        }
    }
}

/// Whether a slit runs on from the rim of a hole. `slit_to` is its length, negative toward the
/// start.
fn is_own_slit(slit_to: Option<Length>, hole: &Mark, slit: &Mark) -> bool {
    let (Some(to), MarkKind::Slit) = (slit_to, slit.kind) else { return false };
    let (rim, begins) = if to < Length::ZERO {
        (hole.x_extent().from, slit.x_extent().to)
    } else {
        (hole.x_extent().to, slit.x_extent().from)
    };
    hole.kind != MarkKind::Slit && (rim - begins).abs() <= Length::from_um(1)
}
