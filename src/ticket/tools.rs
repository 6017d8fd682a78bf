//! What has to lie on the bench: punches by diameter, and the hardware with its posts.

use super::{Body, Part, Subject};
use crate::geom::Length;
use crate::job::{Feature, FeatureKind, Side};
use crate::layout::{Mark, MarkKind, Piece, Shape};
use crate::words::{Word, Wording};
use std::collections::BTreeMap;

/// A cap rivet's post stands up to 3 mm above the stack that it goes through (common
/// practice, no source).
const RIVET_OVER: Length = Length::from_mm(3);

/// Punches with how often each is used, then what every strap takes.
pub(super) fn tools(subject: &Subject<'_>) -> Vec<Part> {
    let wording = subject.wording;
    let mut counts: BTreeMap<(Length, Length), usize> = BTreeMap::new();
    let mut pricks = 0_usize;
    for mark in subject.layout.pieces.iter().flat_map(|p| &p.marks) {
        let size = match mark.shape {
            Shape::Round { diameter } => (diameter, diameter),
            Shape::Slot { length, width } => (length, width),
            Shape::Across | Shape::Point => continue,
        };
        if mark.kind == MarkKind::Stitch {
            pricks += 1;
        } else if mark.is_punched() {
            *counts.entry(size).or_default() += 1;
        }
    }
    let mm = |l: Length| format!("{} mm", wording.plain(l));
    let mut lines: Vec<String> = counts
        .iter()
        .map(|((length, width), count)| {
            if length == width {
                wording.fill(Word::PunchRound, &[&mm(*width), count])
            } else {
                wording
                    .fill(Word::PunchSlot, &[&wording.plain(*length), &mm(*width), count])
            }
        })
        .collect();
    if pricks > 0 {
        lines.push(wording.fill(Word::PrickStitches, &[&pricks]));
    }
    lines.push(wording.say(Word::CommonTools).to_owned());
    vec![Part { heading: wording.say(Word::Tools).to_owned(), body: Body::Lines(lines) }]
}

/// A sort of hardware.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Sort {
    /// What a fold closes round: its bar, and the strap's width there.
    Round { tongue: bool, bar: Length, width: Length },
    /// What is set in a hole, through a stack of leather.
    Set {
        kind: MarkKind,
        hole: Length,
        stack: Length,
        holds: bool,
        /// The posts that there are, rivets, then screws.
        posts: [Option<Length>; 2],
    },
}

/// Hardware with counts, and posts for the stack that each goes through.
pub(super) fn hardware(subject: &Subject<'_>) -> Vec<Part> {
    let wording = subject.wording;
    let all = sorts(subject);
    if all.is_empty() {
        return Vec::new();
    }
    let lines = all.iter().filter_map(|(sort, count)| line(wording, *sort, *count));
    vec![Part {
        heading: wording.say(Word::Hardware).to_owned(),
        body: Body::Lines(lines.collect()),
    }]
}

/// Whether anything is set that no fold holds.
pub(super) fn sets_more_than_folds(subject: &Subject<'_>) -> bool {
    let apart = |f: &&Feature| !is_fold(f) && f.mirror.is_none();
    let features: Vec<&str> =
        subject.job.features.iter().filter(apart).map(|f| f.name.as_str()).collect();
    let marks = subject.layout.pieces.iter().flat_map(|p| &p.marks);
    marks.filter(|m| is_set(m.kind)).any(|m| features.contains(&m.feature.as_str()))
}

/// Whether there is any hardware.
pub(super) fn has_hardware(subject: &Subject<'_>) -> bool {
    !sorts(subject).is_empty()
}

fn is_fold(feature: &Feature) -> bool {
    matches!(feature.kind, FeatureKind::TurnBack(_) | FeatureKind::Fold(_))
}

fn is_set(kind: MarkKind) -> bool {
    matches!(
        kind,
        MarkKind::Fastener | MarkKind::Fitting | MarkKind::Eyelet | MarkKind::Snap
    )
}

/// Every sort with how many there are of it, in the order of the job.
fn sorts(subject: &Subject<'_>) -> Vec<(Sort, usize)> {
    let mut all: Vec<(Sort, usize)> = Vec::new();
    let mut add = |sort, count| match all.iter_mut().find(|(known, _)| *known == sort) {
        Some((_, counted)) => *counted += count,
        None => all.push((sort, count)),
    };
    for feature in &subject.job.features {
        let own = |m: &&Mark| m.feature == feature.name;
        // What holds a fold is punched in each of its two layers.
        let twice = is_fold(feature) || feature.mirror.is_some();
        let layers: usize = if twice { 2 } else { 1 };
        let mut holes: BTreeMap<(MarkKind, Length, Length), usize> = BTreeMap::new();
        for piece in &subject.layout.pieces {
            if piece.marks.iter().any(|m| m.feature == feature.name)
                && let Some(round) = round(piece, feature)
            {
                add(round, 1);
            }
            for mark in piece.marks.iter().filter(own).filter(|m| is_set(m.kind)) {
                if let Shape::Round { diameter } = mark.shape {
                    let key = (mark.kind, diameter, piece.thickness);
                    *holes.entry(key).or_default() += 1;
                }
            }
        }
        for ((kind, hole, thickness), count) in holes {
            let stack = match kind {
                MarkKind::Fastener => subject.layout.stack(subject.job, feature),
                _ if twice => thickness * 2,
                _ => thickness,
            };
            let posts = posts(feature);
            add(Sort::Set { kind, hole, stack, holds: !twice, posts }, count / layers);
        }
    }
    all
}

/// The posts that the maker has for the fasteners of a feature: rivets, then screws.
fn posts(feature: &Feature) -> [Option<Length>; 2] {
    let posts = match &feature.kind {
        FeatureKind::TurnBack(f) => &f.posts,
        FeatureKind::Fold(f) => &f.posts,
        FeatureKind::Row(f) => &f.posts,
        _ => return [None; 2],
    };
    [&posts.rivet, &posts.screw].map(|said| said.as_ref().map(|s| s.value))
}

/// What a fold closes round, other than the buckle of the job; a loop closes round nothing.
fn round(piece: &Piece, feature: &Feature) -> Option<Sort> {
    let FeatureKind::Fold(fold) = &feature.kind else { return None };
    let bar = fold.bar.value;
    if bar == Length::ZERO {
        return None;
    }
    let own = |m: &&Mark| m.feature == feature.name && m.kind == MarkKind::Bend;
    let bend = piece.marks.iter().find(own)?.at.x;
    let beyond = |x: Length| match fold.side {
        Side::Start => x <= bend,
        Side::End => x >= bend,
    };
    let points = piece.outline.segments().into_iter().map(|s| s.from);
    let half = points.filter(|p| beyond(p.x)).map(|p| p.y.abs()).max()?;
    let tongue = fold.slot_length.value > Length::ZERO;
    Some(Sort::Round { tongue, bar, width: half * 2 })
}

/// One sort of hardware in words.
fn line(wording: Wording, sort: Sort, count: usize) -> Option<String> {
    let mm = |l: Length| format!("{} mm", wording.plain(l));
    let (kind, hole, stack, holds, posts) = match sort {
        Sort::Round { tongue, bar, width } => {
            let word = if tongue { Word::TongueBuckle } else { Word::Ring };
            return Some(wording.fill(word, &[&count, &mm(bar), &mm(width)]));
        }
        Sort::Set { kind, hole, stack, holds, posts } => {
            (kind, hole, stack, holds, posts)
        }
    };
    let word = match kind {
        MarkKind::Fastener if holds => Word::FastenersOn,
        MarkKind::Fastener => {
            let (through, most) = (mm(stack), mm(stack + RIVET_OVER));
            let filled: [&dyn std::fmt::Display; 5] =
                [&count, &mm(hole), &through, &through, &most];
            let line = wording.fill(Word::Fasteners, &filled);
            let given: Vec<String> = posts.into_iter().flatten().map(mm).collect();
            return Some(if given.is_empty() {
                line
            } else {
                wording.fill(Word::PostGiven, &[&line, &given.join(", ")])
            });
        }
        MarkKind::Fitting => Word::Fittings,
        MarkKind::Eyelet => Word::Eyelets,
        MarkKind::Snap => Word::Snaps,
        MarkKind::End
        | MarkKind::Bend
        | MarkKind::Slot
        | MarkKind::Hole
        | MarkKind::Stitch
        | MarkKind::Slit
        | MarkKind::Target
        | MarkKind::Tip => return None,
    };
    Some(wording.fill(word, &[&count, &mm(hole), &mm(stack)]))
}
