use super::prelude::*;
use crate::check::limits::STITCH_TO_HOLE;
use crate::check::measure::web;
use crate::check::near::{Near, room};

pub(super) const RULE: RuleId = RuleId::new("stitch-to-hole");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for piece in input.one_of_each() {
        let holes: Vec<_> = piece
            .marks
            .iter()
            .filter(|m| m.is_opening() && m.kind != MarkKind::Stitch)
            .collect();
        for feature in &input.job.features {
            let Some(stitch) = feature.kind.facts().seam else { continue };
            let own = piece.marks_of(feature.id);
            let own: Vec<_> = own.filter(|m| m.kind == MarkKind::Stitch).collect();
            let near = Near::new(own.iter().map(|m| ((), room(m, Length::ZERO))));
            let nearest = holes
                .iter()
                .filter_map(|hole| {
                    let around = near.around(room(hole, STITCH_TO_HOLE));
                    let numbers = around.flat_map(|((), numbers)| numbers);
                    let clear = numbers.map(|n| web(own[*n], hole)).min()?;
                    Some((clear, *hole))
                })
                .min_by_key(|(clear, _)| *clear);
            let Some((clear, hole)) = nearest else { continue };
            // What is nearer than a millimetre, `marks-overlap` refuses.
            if clear >= STITCH_TO_HOLE || clear < Length::from_mm(1) {
                continue;
            }
            Finding::warning(
                RULE,
                format!(
                    "the stitches of `{}` are near {}",
                    feature.name,
                    input.named(hole)
                ),
            )
            .at(stitch.pitch.span.clone())
            .expected(
                format!("{} of leather between them", clear.both()),
                format!("at least {}", STITCH_TO_HOLE.both()),
            )
            .remedy("move the seam away, or let it end before the hole")
            .to(findings);
        }
    }
}
