//! Which hardware the features of a strap take, and how much of it.

use super::{Hardware, Kind, lace};
use crate::assembly::{Assembly, joined};
use crate::geom::Length;
use crate::job::{Buckle, Feature, HardwareId, HardwareKind, Job, Side, Target};
use crate::layout::{Layout, Mark, MarkKind, MarkRole, Piece, Shape};
use std::collections::{BTreeMap, BTreeSet};

pub(super) fn is_fold(feature: &Feature) -> bool {
    feature.kind.facts().fold.is_some()
}

fn takes_fasteners(layout: &Layout, feature: &Feature) -> bool {
    let mut marks = layout.pieces.iter().flat_map(|p| p.marks_of(feature.id));
    marks.any(|m| m.kind == MarkKind::Fastener)
}

/// The hardware of the features, in the order of the job.
pub(super) fn feature_hardware(job: &Job, layout: &Layout) -> Vec<(Hardware, usize)> {
    let assembly = Assembly::new(job, layout);
    let leather = |piece: &Piece, mark: &Mark| {
        let body = assembly.body(piece.id);
        body.map_or(piece.thickness, |body| body.punched_at(mark.at.x))
    };
    let mut all: Vec<(Hardware, usize)> = Vec::new();
    let mut add = |kind, count| match all.iter_mut().find(|(known, _)| *known == kind) {
        Some((_, counted)) => *counted += count,
        None => all.push((kind, count)),
    };
    // A fastener that holds what the job does not tell may be the stud itself.
    let holds_something = job.features.iter().any(|feature| {
        !is_fold(feature)
            && !knows_all_layers(job, feature)
            && takes_fasteners(layout, feature)
    });
    let mut shared = BTreeSet::new();
    for feature in &job.features {
        // A fold is punched in both of its layers, but takes one fastener for both.
        let layers: u8 = if is_fold(feature) || feature.mirror.is_some() { 2 } else { 1 };
        let mut holes: BTreeMap<(MarkKind, [Length; 2]), usize> = BTreeMap::new();
        let mut fittings: BTreeMap<usize, Vec<Length>> = BTreeMap::new();
        for piece in &layout.pieces {
            let mut marks =
                piece.marks.iter().filter(|m| m.feature == feature.id).peekable();
            if marks.peek().is_some()
                && let Some(held) = held(job, piece, feature)
                && is_one_more(job, feature, &mut shared)
            {
                add(held, 1);
            }
            for mark in marks {
                if let MarkRole::Fitting { of, .. } = mark.role {
                    fittings.entry(of).or_default().push(leather(piece, mark));
                    continue;
                }
                if let Shape::Round { diameter: hole } = mark.shape {
                    let stack = leather(piece, mark) * i64::from(layers);
                    *holes.entry((mark.kind, [hole, stack])).or_default() += 1;
                }
            }
        }
        let pattern = feature.kind.facts().fittings.map_or(&[][..], |f| &f.pattern);
        for (fitting, leather) in
            fittings.into_iter().filter_map(|(of, l)| Some((pattern.get(of)?, l)))
        {
            let hole = fitting.diameter.value;
            let stack = leather.iter().copied().max().unwrap_or_default();
            let length = Some(fitting.face.value);
            let one = Hardware { length, ..through(Kind::Fitting, [hole, stack]) };
            let holes = fitting.along.0.value * fitting.across.0.value;
            add(one, leather.len() / holes as usize);
        }
        let stud = met(job, feature);
        if feature.kind.facts().slit.is_some() && (stud.is_some() || !holds_something) {
            // One of its holes is chosen, so each piece closes on one stud.
            let closed = layout.pieces.iter().filter_map(|piece| {
                let hole =
                    piece.marks_of(feature.id).find(|m| m.kind == MarkKind::Hole)?;
                let neck = match stud {
                    Some(HardwareKind::Stud { neck, .. }) => neck.value,
                    _ => hole.y_extent().length(),
                };
                Some([neck, leather(piece, hole)])
            });
            closed.for_each(|size| add(through(Kind::Stud, size), 1));
        }
        for ((kind, layered), count) in holes {
            if let Some(kind) =
                hole_hardware(job, kind, feature, layered, || assembly.stack(feature))
            {
                add(kind, count / usize::from(layers));
            }
        }
    }
    lace::laces(job, layout).for_each(|lace| add(lace, 1));
    all
}

/// Whether what a feature holds is one more of its kind: of what is shared there is one.
fn is_one_more(job: &Job, feature: &Feature, seen: &mut BTreeSet<HardwareId>) -> bool {
    let id = feature.kind.facts().holds;
    id.is_none_or(|id| match job.hardware(id).kind {
        HardwareKind::Ring { shared: true, .. } => seen.insert(id),
        _ => true,
    })
}

/// What is set in the holes of a feature; `None` for holes that take nothing. `layered` is the
/// hole and the layers of the piece itself, `stack` the thickness of all that fasteners hold.
fn hole_hardware(
    job: &Job,
    kind: MarkKind,
    feature: &Feature,
    layered: [Length; 2],
    stack: impl Fn() -> Length,
) -> Option<Hardware> {
    let fastened = || [layered[0], stack()];
    match kind {
        MarkKind::Fastener if !is_fold(feature) && !knows_all_layers(job, feature) => {
            Some(through(Kind::FastenerOn, fastened()))
        }
        MarkKind::Fastener => Some(fastener(job, feature, fastened())),
        // A blank may be bought with a punched fold, which is still open.
        MarkKind::Target if is_fold(feature) => Some(fastener(job, feature, fastened())),
        MarkKind::Eyelet => Some(through(Kind::Eyelet, layered)),
        MarkKind::Snap => Some(through(Kind::Snap, layered)),
        _ => None,
    }
}

/// Whether the job gives all layers that the fasteners hold.
fn knows_all_layers(job: &Job, feature: &Feature) -> bool {
    let is_given = feature.kind.facts().layers.is_some_and(|layers| layers.value > 1);
    is_given || feature.mirror.is_some() || joined(job, feature).is_some()
}

/// What goes through a hole and the layers there.
fn through(kind: Kind, [hole, stack]: [Length; 2]) -> Hardware {
    Hardware { hole: Some(hole), stack: Some(stack), ..Hardware::of(kind) }
}

/// The fastener of a feature.
fn fastener(job: &Job, feature: &Feature, size: [Length; 2]) -> Hardware {
    let set = feature.kind.facts().sets.map(|id| &job.hardware(id).kind);
    let (kind, post) = match set {
        Some(HardwareKind::Rivet(post)) => (Kind::Rivet, post.length.as_ref()),
        Some(HardwareKind::ScrewPost(post)) => (Kind::ScrewPost, post.length.as_ref()),
        _ => (Kind::Fastener, None),
    };
    Hardware { post: post.map(|given| given.value), ..through(kind, size) }
}

/// The hardware that the holes of a feature close on.
fn met<'a>(job: &'a Job, feature: &Feature) -> Option<&'a HardwareKind> {
    match feature.kind.facts().meets {
        Some(Target::Hardware(id)) => Some(&job.hardware(*id).kind),
        _ => None,
    }
}

/// The buckle, ring or bar that a feature closes round or shuts in on a piece; a loop closes
/// round nothing.
fn held(job: &Job, piece: &Piece, feature: &Feature) -> Option<Hardware> {
    let facts = feature.kind.facts();
    let buckle = facts.holds.and_then(|id| job.buckle(id));
    if let Some(Buckle { inside: Some(inside), bar, reach, .. }) = buckle {
        let [inside, bar, reach] = [inside, bar, reach].map(|given| Some(given.value));
        return Some(Hardware { inside, bar, reach, ..Hardware::of(Kind::Buckle) });
    }
    let Some(fold) = facts.fold else {
        let first = piece.marks_of(feature.id).next()?;
        let width = piece.width_at(first.at.x);
        return Some(round(
            Kind::Ring,
            job.hardware(facts.holds?).kind.bar()?.value,
            width,
        ));
    };
    let bar = fold.bar()?;
    let own = |m: &&Mark| m.feature == feature.id && m.kind == MarkKind::Bend;
    let bend = piece.marks.iter().find(own)?.at.x;
    let beyond = |x: Length| match fold.side {
        Side::Start => x <= bend,
        Side::End => x >= bend,
    };
    let points = piece.outline.segments().into_iter().map(|s| s.from);
    let half = points.filter(|p| beyond(p.x)).map(|p| p.y.abs()).max()?;
    let has_tongue =
        buckle.is_some() || facts.slot.is_some_and(|s| s.length.value > Length::ZERO);
    let kind = if has_tongue { Kind::TongueBuckle } else { Kind::Ring };
    Some(round(kind, bar.value, half * 2))
}

/// What a fold goes round: its bar, and the width of the strap there.
fn round(kind: Kind, bar: Length, width: Length) -> Hardware {
    Hardware { bar: Some(bar), width: Some(width), ..Hardware::of(kind) }
}
