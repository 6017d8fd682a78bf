//! The hardware of a strap, on its ticket and added up over many straps.

mod count;
mod lace;

use super::{Body, Part, TicketInput};
use crate::check::limits::RIVET_OVER;
use crate::geom::Length;
use crate::job::{Form, Job};
use crate::layout::{Layout, MarkKind};
use crate::words::{Name, Word, Wording};
use count::{feature_hardware, is_fold};
use std::collections::BTreeMap;

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
            wording.fill(
                word,
                &[("count", &count), ("bar", &size(bar)), ("inside", &size(width))],
            )
        };
        let through = |word, Through { hole, stack }| {
            wording.fill(
                word,
                &[("count", &count), ("hole", &size(hole)), ("stack", &size(stack))],
            )
        };
        match self {
            Self::Buckle { inside, bar, reach } => {
                let one = wording.fill(
                    Word::Buckle,
                    &[
                        ("inside", &size(inside)),
                        ("bar", &size(bar)),
                        ("reach", &size(reach)),
                    ],
                );
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
                let line = wording.fill(
                    word,
                    &[
                        ("count", &count),
                        ("hole", &size(hole)),
                        ("stack", &least),
                        ("least", &least),
                        ("most", &most),
                    ],
                );
                match post {
                    None => line,
                    Some(post) => wording.fill(
                        Word::PostGiven,
                        &[("fastener", &line), ("post", &size(post))],
                    ),
                }
            }
            Self::FastenerOn(size) => through(Word::FastenersOn, size),
            Self::Stud(size) => through(Word::Studs, size),
            Self::Fitting { through: Through { hole, stack }, face } => wording.fill(
                Word::Fittings,
                &[
                    ("count", &count),
                    ("hole", &size(hole)),
                    ("stack", &size(stack)),
                    ("face", &size(face)),
                ],
            ),
            Self::Eyelet(size) => through(Word::Eyelets, size),
            Self::Snap(size) => through(Word::Snaps, size),
            Self::Lace { thickness, length } => {
                let line = wording
                    .fill(Word::Laces, &[("count", &count), ("thick", &size(thickness))]);
                let long = |l| {
                    wording.fill(
                        Word::LaceLength,
                        &[("laces", &line), ("length", &wording.girth(l))],
                    )
                };
                length.map_or_else(|| line.clone(), long)
            }
            Self::Keeper { width, length } => {
                let length = wording.length(length, 1);
                wording.fill(
                    Word::Keeper,
                    &[("count", &count), ("width", &size(width)), ("length", &length)],
                )
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

/// The part of the ticket, with the names of the workshop's own hardware; `None` for a strap
/// without hardware.
pub(super) fn part(input: &TicketInput<'_>) -> Option<Part> {
    let TicketInput { job, layout, wording, .. } = *input;
    let all = feature_hardware(job, layout).into_iter();
    let all = all.map(|(kind, count)| kind.words(count, wording));
    let is_piece = |name: &Name| layout.pieces.iter().any(|piece| piece.name == *name);
    let named = job.house_names().filter(|(what, _)| !is_piece(what));
    let named = named.map(|(what, name)| wording.labelled(wording.name(&what), name));
    let lines: Vec<String> = all.chain(named).collect();
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

fn is_set(kind: MarkKind) -> bool {
    matches!(
        kind,
        MarkKind::Fastener | MarkKind::Fitting | MarkKind::Eyelet | MarkKind::Snap
    )
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
