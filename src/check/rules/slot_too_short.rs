use super::prelude::*;
use crate::check::limits::TONGUE_PLAY;
use crate::job::SlotFacts;

pub(super) const RULE: RuleId = RuleId::new("slot-too-short");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for feature in &input.job.features {
        let Some(slot) = feature.kind.facts().slot else { continue };
        let SlotFacts { length, width, keys } = slot;
        let is_slot =
            |m: &&Mark| m.feature == feature.id && matches!(m.shape, Shape::Slot { .. });
        // Only a slot in a bend is a tongue's.
        let bent = input.one_of_each().find_map(|piece| {
            let slot = piece.marks.iter().find(is_slot)?;
            piece.folds.iter().find(|fold| fold.at == slot.at.x)
        });
        let Some(fold) = bent else { continue };
        let holder = input.job.feature(fold.feature).kind.facts().holds;
        let buckle = holder.and_then(|id| input.job.buckle(id));
        let tongue = buckle.map(|b| b.tongue.value);
        let [length_key, width_key] = keys.map(|key| format!("{}.{key}", feature.name));
        // Without a buckle that is told of, the tongue is what passes its slot.
        let root = tongue.unwrap_or((width.value - TONGUE_PLAY).max(Length::ZERO));
        let needed = fold.bend.take_up + root;
        if length.value < needed {
            Finding::error(RULE, "the tongue slot is too short")
                .at(length.span.clone())
                .expected(
                    length.value.both(),
                    format!("at least {}: the bend and the tongue", needed.both()),
                )
                .remedy(format!("lengthen {length_key}"))
                .change(needed.to_string())
                .to(findings);
        }
        let Some(tongue) = tongue.filter(|t| width.value < *t) else { continue };
        Finding::error(RULE, "the tongue does not pass its slot")
            .at(width.span.clone())
            .expected(
                width.value.both(),
                format!("at least the tongue, {}", tongue.both()),
            )
            .remedy(format!("widen {width_key}: the tongue + 1 mm is usual"))
            .change((tongue + TONGUE_PLAY).to_string())
            .to(findings);
    }
}
