//! What has to lie on the bench: punches by diameter, and the hardware with its posts.

use super::{Body, Part, Subject};
use crate::geom::Length;
use crate::job::{Feature, FeatureKind};
use crate::layout::{MarkKind, Piece, Shape};
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

/// Hardware with counts, and posts for the stack that each goes through.
pub(super) fn hardware(subject: &Subject<'_>) -> Vec<Part> {
    let wording = subject.wording;
    let mut lines = Vec::new();
    for feature in &subject.job.features {
        lines.extend(rings(subject, feature));
        let mut holes: BTreeMap<(MarkKind, Length, Length), usize> = BTreeMap::new();
        for piece in &subject.layout.pieces {
            for mark in piece.marks.iter().filter(|m| m.feature == feature.name) {
                if let Shape::Round { diameter } = mark.shape {
                    let key = (mark.kind, diameter, piece.thickness);
                    *holes.entry(key).or_default() += 1;
                }
            }
        }
        // What holds a fold is punched in each of its two layers.
        let folds =
            matches!(feature.kind, FeatureKind::TurnBack(_) | FeatureKind::Fold(_))
                || feature.mirror.is_some();
        let layers: usize = if folds { 2 } else { 1 };
        for ((kind, hole, thickness), count) in holes {
            let stack = match kind {
                MarkKind::Fastener => subject.layout.stack(subject.job, feature),
                _ => thickness,
            };
            let given = posts(feature).map(|p| format!("{} mm", wording.plain(p)));
            let line = line(wording, kind, count / layers, hole, stack);
            lines.extend(line.map(|line| {
                let given: Vec<String> = given.collect();
                if given.is_empty() {
                    line
                } else {
                    wording.fill(Word::PostGiven, &[&line, &given.join(", ")])
                }
            }));
        }
    }
    if lines.is_empty() {
        return Vec::new();
    }
    vec![Part {
        heading: wording.say(Word::Hardware).to_owned(),
        body: Body::Lines(lines),
    }]
}

/// The posts that the maker has for the fasteners of a feature.
fn posts(feature: &Feature) -> impl Iterator<Item = Length> {
    let posts = match &feature.kind {
        FeatureKind::TurnBack(f) => Some(&f.posts),
        FeatureKind::Fold(f) => Some(&f.posts),
        FeatureKind::Row(f) => Some(&f.posts),
        _ => None,
    };
    let given = posts.into_iter().flat_map(|p| [&p.rivet, &p.screw]);
    given.flatten().map(|said| said.value)
}

/// What a fold closes round, other than the buckle.
fn rings(subject: &Subject<'_>, feature: &Feature) -> Option<String> {
    let FeatureKind::Fold(fold) = &feature.kind else { return None };
    let wording = subject.wording;
    let own = |piece: &&Piece| piece.marks.iter().any(|m| m.feature == feature.name);
    let width = subject.layout.pieces.iter().find(own)?.width;
    let [bar, width] =
        [fold.bar.value, width].map(|l| format!("{} mm", wording.plain(l)));
    Some(wording.fill(Word::Ring, &[&bar, &width]))
}

/// One sort of hardware; `None` for holes that take none.
fn line(
    wording: Wording,
    kind: MarkKind,
    count: usize,
    hole: Length,
    stack: Length,
) -> Option<String> {
    let mm = |l: Length| format!("{} mm", wording.plain(l));
    let word = match kind {
        MarkKind::Fastener => {
            let (through, most) = (mm(stack), mm(stack + RIVET_OVER));
            let filled: [&dyn std::fmt::Display; 5] =
                [&count, &mm(hole), &through, &through, &most];
            return Some(wording.fill(Word::Fasteners, &filled));
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
