//! The order of work, what to check before it, and the cautions.

use super::{Body, Kind, Part, TicketInput, hardware};
use crate::assembly::Assembly;
use crate::geom::Length;
use crate::job::{Feature, Fold, Form, Job, LiningHoles, TipShape};
use crate::layout::{GuideShape, Layout, Mark, MarkKind};
use crate::words::{Word, Wording};

/// The part of a turn-back that is skived thin, from its end.
const SKIVED: (i64, i64) = (1, 3);
/// How far from what holds a turn-back its leather stays whole (common practice, no source).
const CLEAR_OF_JOINT: Length = Length::from_mm(5);
/// Less than this is not worth a step.
const LEAST_SKIVED: Length = Length::from_mm(5);

/// The order of work. It protects the leather: damp leather stretches, so it is stamped before
/// anything is punched; what is punched goes through the lining too; dye and finish come
/// before the metal, and nothing is punched after it is set; edges are burnished when their
/// seams are sewn (common practice, no source). Steps that the strap does not need are left
/// out. On a nested print each size has a tip of its own.
pub(super) fn steps(input: &TicketInput<'_>, is_nested: bool) -> Part {
    let TicketInput { job, layout, wording, .. } = *input;
    let marks = || layout.pieces.iter().flat_map(|p| &p.marks);
    let guides = || layout.pieces.iter().flat_map(|p| &p.guides);
    let has = |kind: MarkKind| marks().any(|m| m.kind == kind);
    let is_tapered = layout.pieces.iter().any(|p| !p.width_changes.is_empty());
    let is_shaped = job.features.iter().any(|f| {
        let facts = f.kind.facts();
        let tip = facts.tip.filter(|_| !f.on_blank);
        tip.is_some_and(|tip| tip.shape != TipShape::Straight)
            || facts.fold.is_some_and(|fold| fold.shape != TipShape::Straight)
    });
    let is_punched_blank = !job.blank.punched.is_empty();
    let is_blank = job.blank.length.is_some() || is_punched_blank;
    let has_keeper = job.pieces.iter().any(|p| {
        matches!(p.form, Form::Keeper(_))
            && p.count.value > 0
            && p.leather.width.value > Length::ZERO
    });
    let is_lined = is_lined(input);
    let is_hole =
        |kind| !matches!(kind, MarkKind::Slot | MarkKind::Stitch | MarkKind::Slit);
    let has_slots = marks().any(|m| m.is_punched() && m.kind == MarkKind::Slot);
    let has_holes = marks().any(|m| m.is_punched() && is_hole(m.kind));
    let has_stitches = has(MarkKind::Stitch);
    let is_seam = |m: &Mark| job.feature(m.feature).kind.facts().seam.is_some();
    let has_seams = marks().any(|m| m.kind == MarkKind::Stitch && is_seam(m));
    let has_boxes = guides().any(|g| matches!(g.shape, GuideShape::Box { .. }));
    let has_creases = guides().any(|g| matches!(g.shape, GuideShape::Crease(_)));
    let mut folds = job.features.iter().filter(|f| holds_hardware(f)).peekable();
    let has_fold = folds.peek().is_some();
    let assembly = Assembly::new(job, layout);
    let is_riveted = folds.any(|f| {
        let is_set = |m: &Mark| matches!(m.kind, MarkKind::Fastener | MarkKind::Snap);
        let closed = assembly.flap(f.id);
        f.on_blank || closed.is_some_and(|(body, flap)| body.joints(flap).any(is_set))
    });
    let sets_more = hardware::sets_more_than_folds(input);
    let is_worn = job.worn.is_some();
    let say = |steps: &[(bool, Word)]| {
        let needed = steps.iter().filter(|(is_needed, _)| *is_needed);
        needed.map(|(_, word)| wording.say(*word).to_owned()).collect::<Vec<_>>()
    };
    let mut steps = say(&[
        (is_punched_blank, Word::StepBlank),
        (is_blank && !is_punched_blank, Word::StepBlankPlain),
        (!is_blank && is_shaped, Word::StepCut),
        (!is_blank && !is_shaped, Word::StepCutSquare),
        (has_boxes, Word::StepStamp),
    ]);
    // A lining covers the flesh side.
    let (first, later) =
        if is_lined { (skive(input), None) } else { (None, skive(input)) };
    steps.extend(first);
    steps.extend(say(&[
        (has_lining(input, LiningHoles::Through), Word::StepLining),
        (true, Word::StepMark),
        (has_slots, Word::StepSlots),
        (has_holes, Word::StepHoles),
        (has(MarkKind::Slit), Word::StepSlit),
        (has_stitches, Word::StepPrick),
        (is_tapered, Word::StepOutline),
        (!is_nested && !is_tapered && is_shaped, Word::StepTip),
        (is_nested && is_shaped, Word::StepTipOfSize),
        (has_lining(input, LiningHoles::Trimmed), Word::StepLiningTrimmed),
    ]));
    steps.extend(later);
    let closes_by_seam = !is_riveted && has_fold;
    let has_screws = hardware::may_have_screw_posts(input) && (is_riveted || sets_more);
    steps.extend(say(&[
        (has_creases, Word::StepCrease),
        (true, Word::StepDye),
        (has_keeper && closes_by_seam, Word::StepKeeper),
        (closes_by_seam, Word::StepFold),
        (has_seams, Word::StepStitch),
        (true, Word::StepBurnish),
        (true, Word::StepFinish),
        (has_keeper && !closes_by_seam, Word::StepKeeper),
        (has_screws, Word::StepThreadLock),
        (is_riveted, Word::StepSet),
        (sets_more && is_riveted, Word::StepSetRest),
        (sets_more && !is_riveted, Word::StepSetPlain),
        (is_worn, Word::StepTryOn),
    ]));
    Part::new(input, Word::OrderOfWork, Body::Steps(steps))
}

/// Whether a piece has a lining.
pub(super) fn is_lined(input: &TicketInput<'_>) -> bool {
    [LiningHoles::Through, LiningHoles::Trimmed].iter().any(|h| has_lining(input, *h))
}

fn has_lining(input: &TicketInput<'_>, wanted: LiningHoles) -> bool {
    let mut pieces = input.job.pieces.iter().filter(|p| p.count.value > 0);
    pieces.any(|p| matches!(p.form, Form::Lining { holes, .. } if holes == wanted))
}

/// Whether a feature folds round a buckle, a ring or a bar; a loop does not.
fn holds_hardware(feature: &Feature) -> bool {
    feature.kind.facts().fold.is_some_and(Fold::is_closed)
}

/// Says to skive the ends of folds that hold hardware, but nowhere under a fastener or a snap, nor,
/// under load, under a seam: thin leather tears out there (common practice, no source).
fn skive(input: &TicketInput<'_>) -> Option<String> {
    let TicketInput { job, layout, wording, .. } = *input;
    let assembly = Assembly::new(job, layout);
    let (part, of) = SKIVED;
    let folds = job.features.iter().filter(|f| holds_hardware(f) && !f.on_blank);
    // How much of each turn-back is skived, and whether that is all of its last third.
    let skived: Vec<(Length, bool)> = folds
        .filter_map(|feature| {
            let (body, flap) = assembly.flap(feature.id)?;
            let reach = |m: &Mark| (m.at.x - flap.axis).abs() + m.x_extent().length() / 2;
            let counts = |m: &&Mark| job.bears_load() || m.kind != MarkKind::Stitch;
            let last = body.joints(flap).filter(counts).map(reach).max();
            let free = flap.leather.length() - last.unwrap_or_default() - CLEAR_OF_JOINT;
            let third = flap.leather.length().times(part, of);
            let copies = layout.pieces.iter().filter(|p| p.id == body.piece.id).count();
            Some(std::iter::repeat_n((free.min(third), free >= third), copies))
        })
        .flatten()
        .filter(|(length, _)| *length >= LEAST_SKIVED)
        .collect();
    match skived.as_slice() {
        [] => None,
        [(length, _)] => {
            let skived = wording.length(*length, 0);
            Some(wording.fill(Word::StepSkive, &[("length", &skived)]))
        }
        all if all.iter().all(|(_, is_third)| *is_third) => {
            Some(wording.say(Word::StepSkiveEach).to_owned())
        }
        _ => Some(wording.say(Word::StepSkivePast).to_owned()),
    }
}

/// What to check before the first punch.
pub(super) fn checks(input: &TicketInput<'_>) -> Part {
    let mut marks = input.layout.pieces.iter().flat_map(|p| &p.marks);
    let has_buckle =
        input.job.worn_buckle().is_some() || marks.any(|m| m.kind == MarkKind::Slot);
    let hardware = if has_buckle {
        Some(Word::CheckHardware)
    } else {
        hardware::needs_any(input).then_some(Word::CheckHardwarePlain)
    };
    let say = |w: Word| input.wording.say(w).to_owned();
    let checks = [
        Some(say(Word::CheckBars)),
        hardware.map(say),
        assumed(input.job, input.wording),
        Some(say(Word::CheckScrap)),
    ];
    let checks = checks.into_iter().flatten().collect();
    Part::new(input, Word::BeforePunch, Body::Checks(checks))
}

/// What the job leaves to a template of the program and holes depend on, in a line; `None`
/// where it leaves nothing.
pub fn assumed(job: &Job, wording: Wording) -> Option<String> {
    let each = job.assumed.iter().map(|one| {
        wording.fill(
            Word::AssumedOne,
            &[("key", &one.key), ("value", &one.value), ("moves", &one.moves.mm(2))],
        )
    });
    let all = each.collect::<Vec<_>>().join(", ");
    (!all.is_empty()).then(|| wording.fill(Word::Assumed, &[("keys", &all)]))
}

/// The measures of the buckle that the holes were computed for, and what was only assumed, a
/// sentence each.
pub fn computed_for(job: &Job, layout: &Layout, wording: Wording) -> Vec<String> {
    let buckles = hardware(job, layout).into_keys();
    let buckle = buckles.filter(|one| one.kind == Kind::Buckle).map(|one| {
        let near = |length: Option<Length>| wording.near(length.unwrap_or_default());
        let (inside, bar, reach) = (near(one.inside), near(one.bar), near(one.reach));
        wording
            .fill(Word::Buckle, &[("inside", &inside), ("bar", &bar), ("reach", &reach)])
    });
    let computed =
        buckle.map(|words| wording.fill(Word::ComputedFor, &[("buckle", &words)]));
    let keys: Vec<&str> = job.assumed.iter().map(|one| one.key.as_str()).collect();
    let keys = keys.join(", ");
    let assumed =
        (!keys.is_empty()).then(|| wording.fill(Word::Assumed, &[("keys", &keys)]));
    let house = job.house_names();
    let house = house.map(|(what, name)| wording.labelled(wording.name(&what), name));
    computed.chain(house).chain(assumed).collect()
}

/// The cautions; local rules come first. What every strap has is followed by the hazards of
/// its kind.
pub(super) fn cautions(input: &TicketInput<'_>) -> Part {
    let common = [
        Word::CautionRules,
        Word::CautionTools,
        Word::CautionFumes,
        Word::CautionLoad,
        Word::CautionSkin,
    ];
    let own = input.job.hazards.iter().map(|hazard| hazard.caution());
    let lines = common.into_iter().chain(own);
    let lines = lines.map(|word| input.wording.say(word).to_owned());
    Part::new(input, Word::Cautions, Body::Lines(lines.collect()))
}
