//! The hardware of a strap: what is on its ticket, and what adds up over many straps.

use super::{Body, Part, Subject};
use crate::geom::Length;
use crate::job::{Feature, FeatureKind, Form, Job};
use crate::layout::{Layout, MarkKind, Piece, Shape};
use crate::words::{Word, Wording};
use std::collections::BTreeMap;

/// A cap rivet's post stands up to 3 mm above the stack that it goes through (common
/// practice, no source).
const RIVET_OVER: Length = Length::from_mm(3);

/// One sort of hardware. Things of a sort serve alike, so their numbers add up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Hardware {
    /// A buckle.
    Buckle {
        /// Clear width for the strap.
        inside: Length,
        /// Diameter of its bar.
        bar: Length,
        /// From the bar's centre to where the hole sits on the tongue.
        reach: Length,
    },
    /// A ring, a hook or a bar in a fold.
    Ring {
        /// Diameter of its bar.
        bar: Length,
        /// Width of the strap that goes through.
        width: Length,
    },
    /// A rivet or a screw post.
    Fastener(Through),
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
            Self::Ring { .. } => "ring",
            Self::Fastener(_) => "fastener",
            Self::Fitting(_) => "fitting",
            Self::Eyelet(_) => "eyelet",
            Self::Snap(_) => "snap",
            Self::Keeper { .. } => "keeper",
        }
    }

    /// So many of it, in words.
    pub fn words(self, count: usize, wording: Wording) -> String {
        let mm = |l: Length| format!("{} mm", wording.plain(l));
        let times = |phrase: String| format!("{count} × {phrase}");
        let set = |word, Through { hole, stack }| {
            wording.fill(word, &[&count, &mm(hole), &mm(stack)])
        };
        match self {
            Self::Buckle { inside, bar, reach } => {
                times(wording.fill(Word::Buckle, &[&mm(inside), &mm(bar), &mm(reach)]))
            }
            Self::Ring { bar, width } => {
                times(wording.fill(Word::Ring, &[&mm(bar), &mm(width)]))
            }
            Self::Fastener(Through { hole, stack }) => {
                let (through, most) = (mm(stack), mm(stack + RIVET_OVER));
                let filled: [&dyn std::fmt::Display; 5] =
                    [&count, &mm(hole), &through, &through, &most];
                wording.fill(Word::Fasteners, &filled)
            }
            Self::Fitting(through) => set(Word::Fittings, through),
            Self::Eyelet(through) => set(Word::Eyelets, through),
            Self::Snap(through) => set(Word::Snaps, through),
            Self::Keeper { width, length } => {
                let length = format!("{} mm", wording.number(length, 1));
                times(wording.fill(Word::Keeper, &[&mm(width), &length]))
            }
        }
    }
}

/// How many of each sort a strap takes: its buckle and its keepers, then what each feature
/// takes.
pub fn hardware(job: &Job, layout: &Layout) -> BTreeMap<Hardware, usize> {
    let mut counts = BTreeMap::new();
    let mut add = |sort: Hardware, count: usize| {
        if count > 0 {
            *counts.entry(sort).or_default() += count;
        }
    };
    if let Some(buckle) = job.worn.as_ref().and_then(|w| w.buckle.as_ref()) {
        let [inside, bar, reach] =
            [&buckle.inside, &buckle.bar, &buckle.reach].map(|l| l.value);
        add(Hardware::Buckle { inside, bar, reach }, 1);
    }
    let is_keeper = |piece: &Piece| {
        let orders = job.pieces.iter().filter(|o| matches!(o.form, Form::Keeper(_)));
        orders.map(|o| o.name.as_str()).any(|name| is_copy(&piece.name, name))
    };
    for keeper in layout.pieces.iter().filter(|p| is_keeper(p)) {
        let (width, length) = (keeper.width, keeper.extent.length());
        add(Hardware::Keeper { width, length }, 1);
    }
    for feature in &job.features {
        for (sort, count) in ring(layout, feature).into_iter().chain(set(layout, feature))
        {
            add(sort, count);
        }
    }
    counts
}

/// Whether a piece is `name` or one of its copies, which are called `name-1`, ...
fn is_copy(piece: &str, name: &str) -> bool {
    piece.strip_prefix(name).is_some_and(|rest| {
        rest.is_empty()
            || rest
                .strip_prefix('-')
                .is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()))
    })
}

/// The ticket's list: what each feature takes, in the order of the features.
pub(super) fn part(subject: &Subject<'_>) -> Vec<Part> {
    let Subject { job, layout, wording, .. } = *subject;
    let mut lines = Vec::new();
    for feature in &job.features {
        lines.extend(ring(layout, feature).map(|(sort, count)| {
            let words = sort.words(count, wording);
            // One goes without saying.
            words.strip_prefix("1 × ").map(ToOwned::to_owned).unwrap_or(words)
        }));
        let all = set(layout, feature).into_iter();
        lines.extend(all.map(|(sort, count)| sort.words(count, wording)));
    }
    if lines.is_empty() {
        return Vec::new();
    }
    vec![Part {
        heading: wording.say(Word::Hardware).to_owned(),
        body: Body::Lines(lines),
    }]
}

/// What a fold closes round, other than the buckle: one on each piece that has the fold.
/// A fold round no bar is a loop.
fn ring(layout: &Layout, feature: &Feature) -> Option<(Hardware, usize)> {
    let FeatureKind::Fold(fold) = &feature.kind else { return None };
    let own = |piece: &&Piece| piece.marks.iter().any(|m| m.feature == feature.name);
    let pieces = || layout.pieces.iter().filter(own);
    let (bar, width) = (fold.bar.value, pieces().next()?.width);
    (bar > Length::ZERO).then(|| (Hardware::Ring { bar, width }, pieces().count()))
}

/// What is set in the holes of a feature, by hole and stack.
fn set(layout: &Layout, feature: &Feature) -> Vec<(Hardware, usize)> {
    let mut holes: BTreeMap<(MarkKind, Length, Length), usize> = BTreeMap::new();
    for piece in &layout.pieces {
        for mark in piece.marks.iter().filter(|m| m.feature == feature.name) {
            if let Shape::Round { diameter } = mark.shape {
                let key = (mark.kind, diameter, piece.thickness);
                *holes.entry(key).or_default() += 1;
            }
        }
    }
    // What holds a fold is punched in each of its two layers.
    let folds = matches!(feature.kind, FeatureKind::TurnBack(_) | FeatureKind::Fold(_));
    let layers: usize = if folds { 2 } else { 1 };
    let sort = |((kind, hole, thickness), count): ((MarkKind, Length, Length), usize)| {
        let stack = if folds { thickness * 2 } else { thickness };
        let through = Through { hole, stack };
        let sort = match kind {
            MarkKind::Fastener => Hardware::Fastener(through),
            // A fold that the blank came with is punched, but not yet closed.
            MarkKind::Target if folds => Hardware::Fastener(through),
            MarkKind::Fitting => Hardware::Fitting(through),
            MarkKind::Eyelet => Hardware::Eyelet(through),
            MarkKind::Snap => Hardware::Snap(through),
            MarkKind::End
            | MarkKind::Bend
            | MarkKind::Slot
            | MarkKind::Hole
            | MarkKind::Stitch
            | MarkKind::Slit
            | MarkKind::Target
            | MarkKind::Tip => return None,
        };
        Some((sort, count / layers))
    };
    holes.into_iter().filter_map(sort).collect()
}
