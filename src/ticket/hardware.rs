//! The hardware of a strap, on its ticket and added up over many straps.

use super::{Body, Part, TicketInput, lace};
use crate::assembly::{Assembly, joined};
use crate::geom::Length;
use crate::job::{
    Buckle, ClosesRound, Feature, Form, HardwareId, HardwareKind, Job, Side, Target,
};
use crate::layout::{Layout, Mark, MarkKind, MarkRole, Piece, Shape};
use crate::words::{Word, Wording};
use std::collections::{BTreeMap, BTreeSet};

/// A cap rivet's post stands up to 3 mm above the stack that it goes through (common
/// practice, no source).
const RIVET_OVER: Length = Length::from_mm(3);

/// One kind of hardware. Pieces of the same kind can replace each other, so they are counted
/// together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Hardware {
    /// A buckle whose measures the job gives.
    Buckle {
        /// The clear width for the strap.
        inside: Length,
        /// The diameter of its bar.
        bar: Length,
        /// From the centre of the bar to the place of the hole on the tongue.
        reach: Length,
    },
    /// A buckle whose clear width the job does not give.
    TongueBuckle(Round),
    /// A ring, a hook or a bar in a fold.
    Ring(Round),
    /// A rivet or a screw post.
    Fastener {
        /// The hole and the layers.
        through: Through,
        /// Which of the two; `None` where the job does not say.
        kind: Option<PostKind>,
        /// The length of its post, where the job gives it.
        post: Option<Length>,
    },
    /// A rivet, a screw post or a stud that holds something of unknown thickness to the
    /// strap.
    FastenerOn(Through),
    /// A stud or a button, whose neck goes through a button hole.
    Stud(Through),
    /// A decorative fitting.
    Fitting {
        /// One of its holes, and the leather.
        through: Through,
        /// The length of its face.
        face: Length,
    },
    /// An eyelet.
    Eyelet(Through),
    /// Half a snap.
    Snap(Through),
    /// A lace.
    Lace {
        /// How thick it is.
        thickness: Length,
        /// How long one is that crosses over all holes; `None` where that does not follow.
        length: Option<Length>,
    },
    /// A keeper.
    Keeper {
        /// The width of its strip.
        width: Length,
        /// The cut length of its strip.
        length: Length,
    },
}

/// What a fastener is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PostKind {
    /// A rivet.
    Rivet,
    /// A screw post.
    Screw,
}

/// What a fold goes round.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Round {
    /// The diameter of its bar.
    pub bar: Length,
    /// The width of the strap there.
    pub width: Length,
}

/// The hole and the layers that a post goes through.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Through {
    /// The diameter of the hole.
    pub hole: Length,
    /// The thickness of all layers.
    pub stack: Length,
}

impl Hardware {
    /// The name of the kind in tables.
    pub fn kind(self) -> &'static str {
        match self {
            Self::Buckle { .. } => "buckle",
            Self::TongueBuckle(_) => "tongue-buckle",
            Self::Ring(_) => "ring",
            Self::Fastener { kind: Some(PostKind::Rivet), .. } => "rivet",
            Self::Fastener { kind: Some(PostKind::Screw), .. } => "screw-post",
            Self::Fastener { kind: None, .. } => "fastener",
            Self::FastenerOn(_) => "fastener-on",
            Self::Stud(_) => "stud",
            Self::Fitting { .. } => "fitting",
            Self::Eyelet(_) => "eyelet",
            Self::Snap(_) => "snap",
            Self::Lace { .. } => "lace",
            Self::Keeper { .. } => "keeper",
        }
    }

    /// The line on the ticket for `count` pieces.
    pub fn words(self, count: usize, wording: Wording) -> String {
        let size = |l: Length| wording.size(l);
        let round = |word, Round { bar, width }| {
            wording.fill(word, &[&count, &size(bar), &size(width)])
        };
        let through = |word, Through { hole, stack }| {
            wording.fill(word, &[&count, &size(hole), &size(stack)])
        };
        match self {
            Self::Buckle { inside, bar, reach } => {
                let one = wording
                    .fill(Word::Buckle, &[&size(inside), &size(bar), &size(reach)]);
                format!("{count} × {one}")
            }
            Self::TongueBuckle(size) => round(Word::TongueBuckle, size),
            Self::Ring(size) => round(Word::Ring, size),
            Self::Fastener { through: Through { hole, stack }, kind, post } => {
                let (least, most) = (size(stack), size(stack + RIVET_OVER));
                let word = match kind {
                    Some(PostKind::Rivet) => Word::Rivets,
                    Some(PostKind::Screw) => Word::ScrewPosts,
                    None => Word::Fasteners,
                };
                let line =
                    wording.fill(word, &[&count, &size(hole), &least, &least, &most]);
                match post {
                    None => line,
                    Some(post) => wording.fill(Word::PostGiven, &[&line, &size(post)]),
                }
            }
            Self::FastenerOn(size) => through(Word::FastenersOn, size),
            Self::Stud(size) => through(Word::Studs, size),
            Self::Fitting { through: Through { hole, stack }, face } => wording
                .fill(Word::Fittings, &[&count, &size(hole), &size(stack), &size(face)]),
            Self::Eyelet(size) => through(Word::Eyelets, size),
            Self::Snap(size) => through(Word::Snaps, size),
            Self::Lace { thickness, length } => {
                let line = wording.fill(Word::Laces, &[&count, &size(thickness)]);
                let long =
                    |l| wording.fill(Word::LaceLength, &[&line, &wording.girth(l)]);
                length.map_or_else(|| line.clone(), long)
            }
            Self::Keeper { width, length } => {
                let length = wording.length(length, 1);
                wording.fill(Word::Keeper, &[&count, &size(width), &length])
            }
        }
    }
}

/// The number of each kind of hardware that a strap takes, its keepers included.
pub fn hardware(job: &Job, layout: &Layout) -> BTreeMap<Hardware, usize> {
    let mut counts = BTreeMap::new();
    for (kind, count) in feature_hardware(job, layout) {
        *counts.entry(kind).or_default() += count;
    }
    let keepers = job.pieces.iter().filter(|p| matches!(p.form, Form::Keeper(_)));
    for keeper in keepers {
        for piece in layout.pieces.iter().filter(|p| p.id == keeper.id) {
            let (width, length) = (piece.width, piece.extent.length());
            *counts.entry(Hardware::Keeper { width, length }).or_default() += 1;
        }
    }
    counts
}

/// The part of the ticket; `None` for a strap without hardware.
pub(super) fn part(input: &TicketInput<'_>) -> Option<Part> {
    let lines: Vec<String> = feature_hardware(input.job, input.layout)
        .into_iter()
        .map(|(kind, count)| kind.words(count, input.wording))
        .collect();
    if lines.is_empty() {
        return None;
    }
    Some(Part::new(input, Word::Hardware, Body::Lines(lines)))
}

/// Whether there is hardware to set that no fold holds.
pub(super) fn sets_more_than_folds(input: &TicketInput<'_>) -> bool {
    let mut marks = input.layout.pieces.iter().flat_map(|p| &p.marks);
    marks.any(|m| {
        let feature = input.job.feature(m.feature);
        is_set(m.kind) && !is_fold(feature) && feature.mirror.is_none()
    })
}

/// Whether a fastener may be a screw post, for which the job does not say that there are rivets.
pub(super) fn may_have_screw_posts(input: &TicketInput<'_>) -> bool {
    let kinds = feature_hardware(input.job, input.layout);
    kinds.iter().any(|(kind, _)| {
        matches!(kind, Hardware::Fastener { kind, .. } if *kind != Some(PostKind::Rivet))
    })
}

/// Whether the features need any hardware.
pub(super) fn needs_any(input: &TicketInput<'_>) -> bool {
    !feature_hardware(input.job, input.layout).is_empty()
}

fn is_fold(feature: &Feature) -> bool {
    feature.kind.facts().fold.is_some()
}

fn takes_fasteners(layout: &Layout, feature: &Feature) -> bool {
    let mut marks = layout.pieces.iter().flat_map(|p| p.marks_of(feature.id));
    marks.any(|m| m.kind == MarkKind::Fastener)
}

fn is_set(kind: MarkKind) -> bool {
    matches!(
        kind,
        MarkKind::Fastener | MarkKind::Fitting | MarkKind::Eyelet | MarkKind::Snap
    )
}

/// The hardware of the features, in the order of the job.
fn feature_hardware(job: &Job, layout: &Layout) -> Vec<(Hardware, usize)> {
    let assembly = Assembly::new(job, layout);
    let leather = |piece: &Piece, mark: &Mark| {
        let body = assembly.body(piece.id);
        body.map_or(piece.thickness, |body| body.thickness_at(mark.at.x))
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
        let mut holes: BTreeMap<(MarkKind, Through), usize> = BTreeMap::new();
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
                    *holes.entry((mark.kind, Through { hole, stack })).or_default() += 1;
                }
            }
        }
        let pattern = feature.kind.facts().fittings.map_or(&[][..], |f| &f.pattern);
        for (fitting, leather) in
            fittings.into_iter().filter_map(|(of, l)| Some((pattern.get(of)?, l)))
        {
            let hole = fitting.diameter.value;
            let stack = leather.iter().copied().max().unwrap_or_default();
            let (through, face) = (Through { hole, stack }, fitting.face.value);
            let holes = fitting.along.0.value * fitting.across.0.value;
            add(Hardware::Fitting { through, face }, leather.len() / holes as usize);
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
                Some((neck, leather(piece, hole)))
            });
            closed.for_each(|(hole, stack)| {
                add(Hardware::Stud(Through { hole, stack }), 1);
            });
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
    layered: Through,
    stack: impl Fn() -> Length,
) -> Option<Hardware> {
    let fastened = || Through { hole: layered.hole, stack: stack() };
    match kind {
        MarkKind::Fastener if !is_fold(feature) && !knows_all_layers(job, feature) => {
            Some(Hardware::FastenerOn(fastened()))
        }
        MarkKind::Fastener => Some(fastener(job, feature, fastened())),
        // A blank may be bought with a punched fold, which is still open.
        MarkKind::Target if is_fold(feature) => Some(fastener(job, feature, fastened())),
        MarkKind::Eyelet => Some(Hardware::Eyelet(layered)),
        MarkKind::Snap => Some(Hardware::Snap(layered)),
        MarkKind::End
        | MarkKind::Bend
        | MarkKind::Slot
        | MarkKind::Hole
        | MarkKind::Fitting
        | MarkKind::Stitch
        | MarkKind::Slit
        | MarkKind::Target
        | MarkKind::Tip => None,
    }
}

/// Whether the job gives all layers that the fasteners hold.
fn knows_all_layers(job: &Job, feature: &Feature) -> bool {
    let is_given = feature.kind.facts().layers.is_some_and(|layers| layers.value > 1);
    is_given || feature.mirror.is_some() || joined(job, feature).is_some()
}

/// The fastener of a feature.
fn fastener(job: &Job, feature: &Feature, through: Through) -> Hardware {
    let set = feature.kind.facts().sets.map(|id| &job.hardware(id).kind);
    let (kind, post) = match set {
        Some(HardwareKind::Rivet(post)) => (Some(PostKind::Rivet), post.length.as_ref()),
        Some(HardwareKind::ScrewPost(post)) => {
            (Some(PostKind::Screw), post.length.as_ref())
        }
        _ => (None, None),
    };
    Hardware::Fastener { through, kind, post: post.map(|said| said.value) }
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
    let spec = facts.holds.map(|id| &job.hardware(id).kind);
    let buckle = match spec {
        Some(HardwareKind::Buckle(buckle)) => Some(buckle),
        _ => None,
    };
    if let Some(Buckle { inside: Some(inside), bar, reach, .. }) = buckle {
        let [inside, bar, reach] = [inside, bar, reach].map(|said| said.value);
        return Some(Hardware::Buckle { inside, bar, reach });
    }
    let Some(fold) = facts.fold else {
        let first = piece.marks_of(feature.id).next()?;
        let width = piece.width_at(first.at.x);
        return Some(Hardware::Ring(Round { bar: spec?.bar()?.value, width }));
    };
    let ClosesRound::Bar(bar) = fold.round else { return None };
    let own = |m: &&Mark| m.feature == feature.id && m.kind == MarkKind::Bend;
    let bend = piece.marks.iter().find(own)?.at.x;
    let beyond = |x: Length| match fold.side {
        Side::Start => x <= bend,
        Side::End => x >= bend,
    };
    let points = piece.outline.segments().into_iter().map(|s| s.from);
    let half = points.filter(|p| beyond(p.x)).map(|p| p.y.abs()).max()?;
    let round = Round { bar: bar.value, width: half * 2 };
    let has_tongue =
        buckle.is_some() || facts.slot.is_some_and(|s| s.length.value > Length::ZERO);
    Some(if has_tongue { Hardware::TongueBuckle(round) } else { Hardware::Ring(round) })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The collar is 25 mm wide where its ring is, and 40 mm elsewhere.
    #[test]
    fn a_ring_is_as_wide_as_the_strap_is_there() {
        let taper = |name: &str, by: &str, to: &str, width: &str| {
            format!(
                "{name} = {{ kind = \"taper\", from = \"ring-fastener.last\", \
                 by = \"{by}\", to = \"ring-fastener.last\", to-by = \"{to}\", \
                 width = \"{width}\" }}\n"
            )
        };
        let text = "template = \"dog-collar\"\nstrap.width = \"25 mm\"\n".to_owned()
            + &taper("wide", "30 mm", "60 mm", "40 mm")
            + &taper("narrow", "150 mm", "180 mm", "25 mm");
        let done = crate::prepare("job.toml", &text, &[]);
        let (job, _, layout) = done.laid.unwrap();
        let strap = layout.strap().unwrap();
        assert_eq!(strap.width, Length::from_mm(40));
        let rings: Vec<Length> = hardware(&job, &layout)
            .into_keys()
            .filter_map(|kind| match kind {
                Hardware::Ring(round) => Some(round.width),
                _ => None,
            })
            .collect();
        assert_eq!(rings, [Length::from_mm(25)]);
    }
}
