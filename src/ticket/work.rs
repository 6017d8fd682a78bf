//! The order of work, what to check before it, and the cautions.

use super::{Body, Part, Subject};
use crate::job::FeatureKind;
use crate::words::Word;

/// How far back from its end a turn-back is skived thin, as a part of its length.
const SKIVED: (i64, i64) = (1, 3);

/// In the order that protects the leather: what is wet or abrasive comes before the
/// hardware, and nothing is punched after it is set (common practice, no source).
pub(super) fn order(subject: &Subject<'_>) -> Part {
    let wording = subject.wording;
    let turn_back = subject.job.features.iter().find_map(|f| match &f.kind {
        FeatureKind::TurnBack(turn_back) => Some(turn_back.length.value),
        _ => None,
    });
    let blank = &subject.job.blank;
    let from_blank = blank.length.is_some() || !blank.punched.is_empty();
    let first = if from_blank { Word::StepBlank } else { Word::StepCut };
    let mut steps: Vec<String> = [first, Word::StepMark, Word::StepPunch, Word::StepTip]
        .map(|w| wording.say(w).to_owned())
        .to_vec();
    if let Some(length) = turn_back {
        let (part, of) = SKIVED;
        let skived = wording.length(length.times(part, of), 0);
        steps.push(wording.fill(Word::StepSkive, &[&skived]));
    }
    let set = if turn_back.is_some() { Word::StepSet } else { Word::StepSetPlain };
    steps.extend(
        [Word::StepDye, set, Word::StepFinish].map(|w| wording.say(w).to_owned()),
    );
    Part { heading: wording.say(Word::OrderOfWork).to_owned(), body: Body::Steps(steps) }
}

/// What must be true before the first punch; a wrong hole cannot be taken back.
pub(super) fn checks(subject: &Subject<'_>) -> Part {
    let wording = subject.wording;
    let words = [Word::CheckBars, Word::CheckHardware, Word::CheckScrap];
    Part {
        heading: wording.say(Word::BeforePunch).to_owned(),
        body: Body::Checks(words.map(|w| wording.say(w).to_owned()).to_vec()),
    }
}

/// The usual cautions; local rules and licensed practice come first.
pub(super) fn cautions(subject: &Subject<'_>) -> Part {
    let wording = subject.wording;
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
