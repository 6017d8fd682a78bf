//! Which of its feature's marks a mark is, and what it is called on paper.

use super::{Mark, MarkKind};
use crate::geom::Length;
use crate::job::FeatureId;
use crate::words::{Name, Word, Wording};
use serde::Serialize;
use std::collections::BTreeMap;

/// What a mark is to its feature. Numbers count from 1 and are unique on a piece: a second
/// row of fittings goes on where the first one ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub enum MarkRole {
    /// The end at which x is least.
    Start,
    /// A cut end.
    End,
    /// The point of a tip.
    Tip,
    /// The line of a fold.
    Bend,
    /// A slot.
    Slot,
    /// A size hole, counted from the buckle.
    SizeHole {
        /// Its number.
        n: u32,
        /// Whether it is the hole of the size itself.
        is_size: bool,
    },
    /// One of a row of holes.
    Hole {
        /// Its number.
        n: u32,
    },
    /// The only hole of its feature, which is called by the feature's name.
    Only,
    /// A fastener. Both layers of a fold and rows side by side share the number.
    Fastener {
        /// Its number.
        n: u32,
    },
    /// A hole of a decorative fitting. All holes of a fitting share the number.
    Fitting {
        /// Its number.
        n: u32,
        /// Which of its feature's pattern it is, from 0.
        of: usize,
    },
    /// The hole of a button hole.
    Stud,
    /// The slit of a button hole.
    Slit,
    /// The cap of a snap.
    SnapCap,
    /// The only post of a snap.
    SnapPost,
    /// One of a snap's posts.
    NumberedPost {
        /// Its number.
        n: u32,
    },
    /// A prick of a seam.
    Stitch,
}

/// Marks that are numbered together.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Series {
    Hole,
    Fastener,
    Fitting,
    Post,
}

impl MarkRole {
    /// Its number; `None` for a mark without one.
    pub fn number(self) -> Option<u32> {
        match self {
            Self::SizeHole { n, .. }
            | Self::Hole { n }
            | Self::Fastener { n }
            | Self::Fitting { n, .. }
            | Self::NumberedPost { n } => Some(n),
            Self::Start
            | Self::End
            | Self::Tip
            | Self::Bend
            | Self::Slot
            | Self::Only
            | Self::Stud
            | Self::Slit
            | Self::SnapCap
            | Self::SnapPost
            | Self::Stitch => None,
        }
    }

    /// Whether it is the hole of the size itself.
    pub fn is_size(self) -> bool {
        matches!(self, Self::SizeHole { is_size: true, .. })
    }

    /// The series that goes on from feature to feature, and the number in it. The numbers
    /// of size holes are fixed.
    fn in_series(&mut self) -> Option<(Series, &mut u32)> {
        match self {
            Self::Hole { n } => Some((Series::Hole, n)),
            Self::Fastener { n } => Some((Series::Fastener, n)),
            Self::Fitting { n, .. } => Some((Series::Fitting, n)),
            Self::NumberedPost { n } => Some((Series::Post, n)),
            _ => None,
        }
    }
}

impl Mark {
    /// A few characters that tell it from its neighbours on paper: `3 size`, `P1`, `tip`, or
    /// the name of its feature. A hole that only some of several nested sizes have is told by
    /// its tag, and its label is empty.
    pub fn label(&self, feature: &Name, wording: Wording) -> String {
        let say = |word| wording.say(word).to_owned();
        if let Some(size) = &self.size {
            return match self.kind {
                MarkKind::Tip => format!("{} {size}", wording.say(Word::Tip)),
                MarkKind::Bend => say(Word::Bend),
                MarkKind::End => say(Word::End),
                _ => String::new(),
            };
        }
        match self.role {
            MarkRole::Start => say(Word::Start),
            MarkRole::End => say(Word::End),
            MarkRole::Tip => say(Word::Tip),
            MarkRole::Bend => say(Word::Bend),
            MarkRole::Slot => say(Word::Slot),
            MarkRole::SizeHole { n, is_size: true } => {
                format!("{n} {}", wording.say(Word::Size))
            }
            MarkRole::SizeHole { n, is_size: false } | MarkRole::Hole { n } => {
                n.to_string()
            }
            MarkRole::Only => wording.name(feature).to_owned(),
            MarkRole::Fastener { n } => format!("P{n}"),
            MarkRole::Fitting { n, .. } => format!("F{n}"),
            MarkRole::Stud => say(Word::Stud),
            MarkRole::Slit => say(Word::Slit),
            MarkRole::SnapCap => say(Word::Cap),
            MarkRole::SnapPost => say(Word::Post),
            MarkRole::NumberedPost { n } => format!("{} {n}", wording.say(Word::Post)),
            MarkRole::Stitch => String::new(),
        }
    }
}

/// Numbers the marks of one piece, which each feature has numbered from 1, through: along
/// the piece a feature goes on where the one before it ends.
pub(super) fn number_through(marks: &mut [Mark]) {
    let mut features: BTreeMap<(Series, FeatureId), (Length, u32)> = BTreeMap::new();
    let mut size_holes = 0;
    for mark in marks.iter_mut() {
        let (at, feature) = (mark.at.x, mark.feature);
        if let MarkRole::SizeHole { n, .. } = mark.role {
            size_holes = size_holes.max(n);
        }
        if let Some((series, n)) = mark.role.in_series() {
            let own = features.entry((series, feature)).or_insert((at, *n));
            *own = (own.0.min(at), own.1.max(*n));
        }
    }
    let mut order: Vec<_> = features.into_iter().collect();
    order.sort_by_key(|((series, feature), (at, _))| (*series, *at, *feature));
    let mut next = BTreeMap::from([(Series::Hole, size_holes)]);
    let mut before = BTreeMap::new();
    for ((series, feature), (_, count)) in order {
        let used = next.entry(series).or_insert(0);
        before.insert((series, feature), *used);
        *used += count;
    }
    for mark in marks {
        let feature = mark.feature;
        if let Some((series, n)) = mark.role.in_series() {
            *n += before[&(series, feature)];
        }
    }
}
