//! The hardware of a strap: what is on its ticket, and what adds up over many straps.

use super::{Body, Part, TicketInput};
use crate::geom::Length;
use crate::job::{ClosesRound, Feature, Form, Job, Side};
use crate::layout::{Layout, Mark, MarkKind, Piece, Shape};
use crate::words::{Word, Wording};
use std::collections::BTreeMap;

/// A cap rivet's post stands up to 3 mm above the stack that it goes through (common
/// practice, no source).
const RIVET_OVER: Length = Length::from_mm(3);

/// One sort of hardware. Things of a sort serve alike, so their numbers add up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Hardware {
    /// A buckle that the job tells of.
    Buckle {
        /// Clear width for the strap.
        inside: Length,
        /// Diameter of its bar.
        bar: Length,
        /// From the bar's centre to where the hole sits on the tongue.
        reach: Length,
    },
    /// Another buckle, whose tongue goes through the slot of a fold.
    TongueBuckle(Round),
    /// A ring, a hook or a bar in a fold.
    Ring(Round),
    /// A rivet or a screw post.
    Fastener {
        /// What it goes through.
        through: Through,
        /// The posts that there are, rivets, then screws.
        posts: [Option<Length>; 2],
    },
    /// A rivet, a screw post or a stud that holds something to the strap.
    FastenerOn(Through),
    /// A decorative fitting.
    Fitting(Through),
    /// An eyelet.
    Eyelet(Through),
    /// Half a snap.
    Snap(Through),
    /// A keeper, the leather loop that holds the strap's end.
    Keeper {
        /// Width of its strip.
        width: Length,
        /// Its cut length.
        length: Length,
    },
}

/// What a fold closes round.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Round {
    /// Diameter of its bar.
    pub bar: Length,
    /// Width of the strap that goes through.
    pub width: Length,
}

/// What a post goes through.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Through {
    /// Diameter of the hole.
    pub hole: Length,
    /// Thickness of all layers.
    pub stack: Length,
}

impl Hardware {
    /// The name of its sort in tables.
    pub fn kind(self) -> &'static str {
        match self {
            Self::Buckle { .. } => "buckle",
            Self::TongueBuckle(_) => "tongue-buckle",
            Self::Ring(_) => "ring",
            Self::Fastener { .. } => "fastener",
            Self::FastenerOn(_) => "fastener-on",
            Self::Fitting(_) => "fitting",
            Self::Eyelet(_) => "eyelet",
            Self::Snap(_) => "snap",
            Self::Keeper { .. } => "keeper",
        }
    }

    /// So many of it, in words.
    pub fn words(self, count: usize, wording: Wording) -> String {
        let size = |l: Length| wording.size(l);
        let round = |word, Round { bar, width }| {
            wording.fill(word, &[&count, &size(bar), &size(width)])
        };
        let set = |word, Through { hole, stack }| {
            wording.fill(word, &[&count, &size(hole), &size(stack)])
        };
        match self {
            Self::Buckle { inside, bar, reach } => {
                let one = wording
                    .fill(Word::Buckle, &[&size(inside), &size(bar), &size(reach)]);
                format!("{count} × {one}")
            }
            Self::TongueBuckle(of) => round(Word::TongueBuckle, of),
            Self::Ring(of) => round(Word::Ring, of),
            Self::Fastener { through: Through { hole, stack }, posts } => {
                let (through, most) = (size(stack), size(stack + RIVET_OVER));
                let filled: [&dyn std::fmt::Display; 5] =
                    [&count, &size(hole), &through, &through, &most];
                let line = wording.fill(Word::Fasteners, &filled);
                let given: Vec<String> = posts.into_iter().flatten().map(size).collect();
                if given.is_empty() {
                    line
                } else {
                    wording.fill(Word::PostGiven, &[&line, &given.join(", ")])
                }
            }
            Self::FastenerOn(through) => set(Word::FastenersOn, through),
            Self::Fitting(through) => set(Word::Fittings, through),
            Self::Eyelet(through) => set(Word::Eyelets, through),
            Self::Snap(through) => set(Word::Snaps, through),
            Self::Keeper { width, length } => {
                let length = wording.length(length, 1);
                wording.fill(Word::Keeper, &[&count, &size(width), &length])
            }
        }
    }
}

/// How many of each sort a strap takes: its buckle and its keepers, then what each feature
/// takes.
pub fn hardware(job: &Job, layout: &Layout) -> BTreeMap<Hardware, usize> {
    let mut counts = BTreeMap::new();
    let mut add =
        |sort: Hardware, count: usize| *counts.entry(sort).or_default() += count;
    if let Some(buckle) = buckle(job) {
        add(buckle, 1);
    }
    let keepers = || job.pieces.iter().filter(|o| matches!(o.form, Form::Keeper(_)));
    for copies in layout.copies() {
        if keepers().any(|o| o.id == copies.pieces[0].id) {
            for keeper in copies.pieces {
                let (width, length) = (keeper.width, keeper.extent.length());
                add(Hardware::Keeper { width, length }, 1);
            }
        }
    }
    for (sort, count) in sorts(job, layout) {
        add(sort, count);
    }
    counts
}

/// The buckle that the job tells of.
fn buckle(job: &Job) -> Option<Hardware> {
    let buckle = job.worn.as_ref()?.buckle.as_ref()?;
    let [inside, bar, reach] =
        [&buckle.inside, &buckle.bar, &buckle.reach].map(|l| l.value);
    Some(Hardware::Buckle { inside, bar, reach })
}

/// The ticket's list: the buckle and what the features take, with posts for the stack that
/// each goes through; keepers are among the pieces.
pub(super) fn part(input: &TicketInput<'_>) -> Vec<Part> {
    let TicketInput { job, layout, wording, .. } = *input;
    let mut all: Vec<(Hardware, usize)> =
        buckle(job).map(|b| (b, 1)).into_iter().collect();
    all.extend(sorts(job, layout));
    if all.is_empty() {
        return Vec::new();
    }
    let lines = all.iter().map(|(sort, count)| sort.words(*count, wording));
    vec![Part {
        heading: wording.say(Word::Hardware).to_owned(),
        body: Body::Lines(lines.collect()),
    }]
}

/// Whether anything is set that no fold holds.
pub(super) fn sets_more_than_folds(input: &TicketInput<'_>) -> bool {
    let apart = |f: &&Feature| !is_fold(f) && f.mirror.is_none();
    let mut marks = input.layout.pieces.iter().flat_map(|p| &p.marks);
    marks.any(|m| is_set(m.kind) && apart(&input.job.feature(m.feature)))
}

/// Whether the features take any hardware.
pub(super) fn takes_any(input: &TicketInput<'_>) -> bool {
    !sorts(input.job, input.layout).is_empty()
}

fn is_fold(feature: &Feature) -> bool {
    feature.kind.facts().fold.is_some()
}

fn is_set(kind: MarkKind) -> bool {
    matches!(
        kind,
        MarkKind::Fastener | MarkKind::Fitting | MarkKind::Eyelet | MarkKind::Snap
    )
}

/// Every sort that the features take with how many there are of it, in the order of the job.
fn sorts(job: &Job, layout: &Layout) -> Vec<(Hardware, usize)> {
    let mut all: Vec<(Hardware, usize)> = Vec::new();
    let mut add = |sort, count| match all.iter_mut().find(|(known, _)| *known == sort) {
        Some((_, counted)) => *counted += count,
        None => all.push((sort, count)),
    };
    for feature in &job.features {
        let own = |m: &&Mark| m.feature == feature.id;
        for piece in &layout.pieces {
            if piece.marks.iter().any(|m| m.feature == feature.id)
                && let Some(round) = round(piece, feature)
                && !is_own_buckle(job, round)
            {
                add(round, 1);
            }
        }
        let mut holes: BTreeMap<(MarkKind, Length, Length), usize> = BTreeMap::new();
        for piece in &layout.pieces {
            for mark in piece.marks.iter().filter(own) {
                if let Shape::Round { diameter } = mark.shape {
                    let key = (mark.kind, diameter, piece.thickness);
                    *holes.entry(key).or_default() += 1;
                }
            }
        }
        // What holds a fold is punched in each of its two layers.
        let twice = is_fold(feature) || feature.mirror.is_some();
        let layers: usize = if twice { 2 } else { 1 };
        for ((kind, hole, thickness), count) in holes {
            let stack = if twice { thickness * 2 } else { thickness };
            let layered = Through { hole, stack };
            let sort = set(kind, feature, layered, || layout.stack(job, feature));
            if let Some(sort) = sort {
                add(sort, count / layers);
            }
        }
    }
    all
}

/// What is set in the holes of a feature; `None` for holes that take nothing. `layered` goes
/// through the layers of the piece itself, `stack` says how thick all is that fasteners hold.
fn set(
    kind: MarkKind,
    feature: &Feature,
    layered: Through,
    stack: impl Fn() -> Length,
) -> Option<Hardware> {
    let fastened = || Through { hole: layered.hole, stack: stack() };
    match kind {
        MarkKind::Fastener if !is_fold(feature) && !knows_all_layers(feature) => {
            Some(Hardware::FastenerOn(fastened()))
        }
        MarkKind::Fastener => {
            Some(Hardware::Fastener { through: fastened(), posts: posts(feature) })
        }
        // A fold that the blank came with is punched, but not yet closed.
        MarkKind::Target if is_fold(feature) => {
            Some(Hardware::Fastener { through: fastened(), posts: posts(feature) })
        }
        MarkKind::Fitting => Some(Hardware::Fitting(layered)),
        MarkKind::Eyelet => Some(Hardware::Eyelet(layered)),
        MarkKind::Snap => Some(Hardware::Snap(layered)),
        MarkKind::End
        | MarkKind::Bend
        | MarkKind::Slot
        | MarkKind::Hole
        | MarkKind::Stitch
        | MarkKind::Slit
        | MarkKind::Target
        | MarkKind::Tip => None,
    }
}

/// Whether the job says of all that the fasteners hold how many layers it has: those of a
/// fold, or as many as are given.
fn knows_all_layers(feature: &Feature) -> bool {
    let told = feature.kind.facts().layers.is_some_and(|said| said.value > 1);
    told || feature.mirror.is_some()
}

/// The posts that the maker has for the fasteners of a feature: rivets, then screws.
fn posts(feature: &Feature) -> [Option<Length>; 2] {
    let Some(posts) = feature.kind.facts().posts else { return [None; 2] };
    [&posts.rivet, &posts.screw].map(|said| said.as_ref().map(|s| s.value))
}

/// Whether what a fold closes round is the buckle that the job tells of: where no turn-back
/// holds that, the fold with a slot for its tongue does.
fn is_own_buckle(job: &Job, round: Hardware) -> bool {
    let turned = || {
        job.features.iter().any(|f| {
            let fold = f.kind.facts().fold;
            fold.is_some_and(|fold| fold.round == ClosesRound::Buckle)
        })
    };
    match (buckle(job), round) {
        (Some(Hardware::Buckle { bar, .. }), Hardware::TongueBuckle(round)) => {
            bar == round.bar && !turned()
        }
        _ => false,
    }
}

/// What a fold closes round, other than the buckle of the job; a loop closes round nothing.
/// Fasteners may close in a ring of their own.
fn round(piece: &Piece, feature: &Feature) -> Option<Hardware> {
    let facts = feature.kind.facts();
    if let Some(bar) = facts.ring_bar {
        let first = piece.marks_of(feature.id).next()?;
        let width = piece.width_at(first.at.x);
        return Some(Hardware::Ring(Round { bar: bar.value, width }));
    }
    let (fold, slot) = (facts.fold?, facts.slot?);
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
    let tongue = slot.length.value > Length::ZERO;
    Some(if tongue { Hardware::TongueBuckle(round) } else { Hardware::Ring(round) })
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
            .filter_map(|sort| match sort {
                Hardware::Ring(round) => Some(round.width),
                _ => None,
            })
            .collect();
        assert_eq!(rings, [Length::from_mm(25)]);
    }
}
