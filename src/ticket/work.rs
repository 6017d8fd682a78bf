//! The order of work, what to check before it, and the cautions.

use super::{Body, Part, TicketInput, hardware};
use crate::geom::Length;
use crate::job::{Feature, Form, TipShape};
use crate::layout::{Guide, Mark, MarkKind, Piece};
use crate::words::Word;

/// How far back from its end a turn-back is skived thin, as a part of its length.
const SKIVED: (i64, i64) = (1, 3);

/// In the order that protects the leather: what is wet or abrasive comes before the
/// hardware, and nothing is punched after it is set (common practice, no source). Steps
/// that the strap has no use for are left out. On a nested print each size has a tip of its
/// own.
pub(super) fn order(input: &TicketInput<'_>, is_nested: bool) -> Part {
    let TicketInput { job, layout, wording, .. } = *input;
    let marks = || layout.pieces.iter().flat_map(|p| &p.marks);
    let has = |kind: MarkKind| marks().any(|m| m.kind == kind);
    let is_tapered = layout.pieces.iter().any(|p| !p.width_changes.is_empty());
    let is_form = |f: &Feature| {
        let facts = f.kind.facts();
        let tip = facts.tip.filter(|_| !f.on_blank);
        tip.is_some_and(|tip| tip.shape != TipShape::Straight)
            || facts.fold.is_some_and(|fold| fold.is_shaped)
    };
    let is_formed = job.features.iter().any(is_form);
    let from_blank = job.blank.length.is_some() || !job.blank.punched.is_empty();
    let keepers = job.pieces.iter().any(|p| {
        let is_one =
            matches!(p.form, Form::Keeper(_)) && p.leather.width.value > Length::ZERO;
        is_one && p.count.value > 0
    });
    let is_lined = job
        .pieces
        .iter()
        .any(|p| matches!(p.form, Form::Lining { .. }) && p.count.value > 0);

    let mut steps = Vec::new();
    let mut step = |is_due: bool, word: Word| {
        if is_due {
            steps.push(wording.say(word).to_owned());
        }
    };
    let is_punched = !job.blank.punched.is_empty();
    step(is_punched, Word::StepBlank);
    step(from_blank && !is_punched, Word::StepBlankPlain);
    step(!from_blank && is_formed, Word::StepCut);
    step(!from_blank && !is_formed, Word::StepCutSquare);
    step(true, Word::StepMark);
    let slots = marks().any(|m| m.is_punched() && m.kind == MarkKind::Slot);
    let holes = marks().any(|m| {
        m.is_punched()
            && !matches!(m.kind, MarkKind::Slot | MarkKind::Stitch | MarkKind::Slit)
    });
    step(slots, Word::StepPunch);
    step(!slots && holes, Word::StepPunchHoles);
    step(has(MarkKind::Slit), Word::StepSlit);
    step(has(MarkKind::Stitch), Word::StepPrick);
    step(is_tapered, Word::StepOutline);
    step(!is_nested && !is_tapered && is_formed, Word::StepTip);
    step(is_nested && is_formed, Word::StepTipOfSize);
    step(is_lined, Word::StepLining);
    steps.extend(skive(input));
    let mut step = |is_due: bool, word: Word| {
        if is_due {
            steps.push(wording.say(word).to_owned());
        }
    };
    let guides = || layout.pieces.iter().flat_map(|p| &p.guides);
    step(guides().any(|g| matches!(g, Guide::Box { .. })), Word::StepStamp);
    step(guides().any(|g| matches!(g, Guide::Crease(_))), Word::StepCrease);
    step(true, Word::StepDye);
    step(keepers, Word::StepKeeper);
    let folds = || job.features.iter().filter(|f| holds(f));
    let riveted = folds().any(|f| {
        let set = |m: &&Mark| m.feature == f.id && m.kind == MarkKind::Fastener;
        f.on_blank || marks().any(|m| set(&m))
    });
    step(riveted, Word::StepSet);
    step(!riveted && folds().next().is_some(), Word::StepFold);
    step(has(MarkKind::Stitch), Word::StepStitch);
    let more = hardware::sets_more_than_folds(input);
    step(more && riveted, Word::StepSetRest);
    step(more && !riveted, Word::StepSetPlain);
    step(job.worn.is_some(), Word::StepFinish);
    step(job.worn.is_none(), Word::StepFinishPlain);
    Part { heading: wording.say(Word::OrderOfWork).to_owned(), body: Body::Steps(steps) }
}

/// Whether a feature folds round a buckle, ring or bar, and is no mere loop.
fn holds(feature: &Feature) -> bool {
    feature.kind.facts().fold.is_some_and(|fold| fold.holds())
}

/// Folds round something are skived thin toward their ends.
fn skive(input: &TicketInput<'_>) -> Option<String> {
    let TicketInput { job, layout, wording, .. } = *input;
    let length = |f: &Feature| f.kind.facts().fold.map(|fold| fold.length.value);
    let folds = job.features.iter().filter(|f| holds(f) && !f.on_blank);
    let on = |f: &Feature| {
        let own = |p: &&Piece| p.marks_of(f.id).next().is_some();
        layout.pieces.iter().filter(own).count()
    };
    let all: Vec<Length> =
        folds.flat_map(|f| std::iter::repeat_n(length(f), on(f))).flatten().collect();
    match all.as_slice() {
        [] => None,
        [one] => {
            let (part, of) = SKIVED;
            let skived = wording.length(one.times(part, of), 0);
            Some(wording.fill(Word::StepSkive, &[&skived]))
        }
        _ => Some(wording.say(Word::StepSkiveEach).to_owned()),
    }
}

/// What must be true before the first punch; a wrong hole cannot be taken back.
pub(super) fn checks(input: &TicketInput<'_>) -> Part {
    let wording = input.wording;
    let buckled = input.job.worn.as_ref().is_some_and(|w| w.buckle.is_some())
        || input
            .layout
            .pieces
            .iter()
            .flat_map(|p| &p.marks)
            .any(|m| m.kind == MarkKind::Slot);
    let mut words = vec![Word::CheckBars];
    if buckled {
        words.push(Word::CheckHardware);
    } else if hardware::takes_any(input) {
        words.push(Word::CheckHardwarePlain);
    }
    words.push(Word::CheckScrap);
    let checks = words.iter().map(|w| wording.say(*w).to_owned());
    Part {
        heading: wording.say(Word::BeforePunch).to_owned(),
        body: Body::Checks(checks.collect()),
    }
}

/// The usual cautions; local rules and licensed practice come first.
pub(super) fn cautions(input: &TicketInput<'_>) -> Part {
    let wording = input.wording;
    let words = [
        Word::CautionRules,
        Word::CautionTools,
        Word::CautionFumes,
        Word::CautionLoad,
        Word::CautionSkin,
        Word::CautionChildren,
    ];
    Part {
        heading: wording.say(Word::Cautions).to_owned(),
        body: Body::Lines(words.map(|w| wording.say(w).to_owned()).to_vec()),
    }
}
