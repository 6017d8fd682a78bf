//! Keys of what makes an end of a piece: folds, turn-backs among them, and tips.

use super::rows::set_diameter;
use super::{HardwareId, Names, Rows, Section, Spanned};
use crate::geom::Length;
use crate::input::worded;
use crate::job::section::table;
use crate::job::{DatumRef, Place};

worded! {
    /// Which end of a piece.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
    pub enum Side {
        /// Where x is least.
        Start = "start",
        /// Where x is greatest.
        End = "end",
    }
}

/// An end that folds back round a buckle, a ring or a bar, or about itself for a loop: the bend,
/// the slot for a tongue, and fasteners through both layers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fold {
    /// Which end folds.
    pub side: Side,
    /// Where the bend is placed from; where nothing is said, at x = 0.
    pub from: Option<DatumRef>,
    /// How far past it.
    pub by: Spanned<Length>,
    /// From the middle of the bend to the cut end.
    pub length: Spanned<Length>,
    /// What it closes round.
    pub round: ClosesRound,
    /// Form of the cut end.
    pub shape: TipShape,
    /// Slot in the bend for a tongue, over all; zero for none.
    pub slot_length: Spanned<Length>,
    /// That slot, across.
    pub slot_width: Spanned<Length>,
    /// Where the fasteners stand.
    pub fasteners: Fasteners,
    /// Hole for their posts.
    pub fastener_diameter: Spanned<Length>,
    /// Fasteners side by side.
    pub rows: Rows,
    /// Width of a keeper strip between the fasteners; zero for none.
    pub keeper_width: Spanned<Length>,
    /// What it closes round, where the job describes it.
    pub holds: Option<HardwareId>,
    /// The fasteners.
    pub sets: Option<HardwareId>,
    /// What holds it where no mark shows it, as the job says.
    pub held: Option<Spanned<Held>>,
}

/// What an end folds back round.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ClosesRound {
    /// The bar of the job's buckle: a turn-back.
    Buckle,
    /// A ring or bar of this diameter; zero for leather that folds on itself.
    Bar(Spanned<Length>),
}

/// The fasteners of a fold, counted from the middle of the bend.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fasteners {
    /// So many in line through both layers, the first one so far away, at one pitch.
    Line {
        /// How many.
        count: Spanned<u32>,
        /// To the first.
        first: Spanned<Length>,
        /// From one to the next.
        pitch: Spanned<Length>,
    },
    /// Two through both layers, with room for a keeper between them.
    Pair {
        /// To either.
        at: [Spanned<Length>; 2],
        /// In their place each hole by itself, flat from the cut end, as a blank has them.
        holes: Option<Vec<Spanned<Length>>>,
    },
}

worded! {
    /// What holds a fold where no mark shows it.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum Held {
        /// Cement.
        Cement = "cement",
        /// A seam that is sewn without pricked holes.
        HandSewn = "hand-sewn",
        /// Nothing: the end is to stay open.
        Free = "free",
    }
}

impl Fold {
    /// The end that folds back round the buckle's bar.
    pub(super) fn read_turn_back(t: &Section<'_, '_>, names: &Names<'_>) -> Self {
        let sets = names.fastener(t);
        let slot = (t.no_less_than_nothing("slot-length"), t.size("slot-width"));
        let (slot_length, slot_width) = open_slot(t, slot);
        let length = t.size("length");
        let at = ["first-fastener", "second-fastener"].map(|key| t.size(key));
        Self {
            side: Side::Start,
            from: None,
            by: Spanned::default(),
            length,
            round: ClosesRound::Buckle,
            shape: TipShape::Straight,
            slot_length,
            slot_width,
            fastener_diameter: set_diameter(t, "fastener-diameter", names, sets),
            fasteners: Fasteners::Pair { at, holes: t.lengths_if("holes") },
            rows: Rows {
                count: Spanned::without_span(1),
                apart: Spanned::default(),
                across: Spanned::default(),
            },
            keeper_width: t.no_less_than_nothing("keeper-width"),
            holds: names.buckle(),
            sets,
            held: None,
        }
    }

    pub(super) fn read(t: &Section<'_, '_>, names: &Names<'_>) -> Self {
        let (holds, sets) = (names.held(t), names.fastener(t));
        let count = t.count_or("fasteners", 0);
        let n = count.value;
        let slot_length = t.length_or("slot-length", Length::ZERO);
        // A tongue that nothing else is said of is that of the strap's buckle.
        let has_tongue = slot_length.value > Length::ZERO;
        let slot_width = t.size_where("slot-width", has_tongue);
        let (slot_length, slot_width) = open_slot(t, (slot_length, slot_width));
        let holds = holds.or_else(|| names.buckle().filter(|_| has_tongue));
        let held = holds.and_then(|id| names.spec(id).kind.bar());
        let bar = match held {
            Some(bar) if !t.has("bar") => bar.clone(),
            _ => t.no_less_than_nothing("bar"),
        };
        Self {
            side: t.choice_or("at", &Side::WORDS, Side::Start),
            from: t.datum_if("from"),
            by: t.length_or("by", Length::ZERO),
            length: t.size("length"),
            round: ClosesRound::Bar(bar),
            shape: t.choice_or("shape", &TipShape::WORDS, TipShape::Straight),
            slot_length,
            slot_width,
            fasteners: Fasteners::Line {
                count,
                first: t.size_where("first-fastener", n > 0),
                pitch: t.size_where("fastener-pitch", n > 1),
            },
            fastener_diameter: if n > 0 {
                set_diameter(t, "fastener-diameter", names, sets)
            } else {
                t.length_or("fastener-diameter", Length::ZERO)
            },
            rows: Rows::read(t),
            keeper_width: Spanned::default(),
            holds,
            sets,
            held: t.choice_if("held", &Held::WORDS),
        }
    }

    /// The diameter of the ring or bar that it closes round, and the line that gives it; `None`
    /// for a buckle's, and for a mere loop.
    pub fn bar(&self) -> Option<&Spanned<Length>> {
        match &self.round {
            ClosesRound::Bar(bar) if bar.value > Length::ZERO => Some(bar),
            ClosesRound::Bar(_) | ClosesRound::Buckle => None,
        }
    }

    /// Whether it closes round a buckle, ring or bar, and is no mere loop.
    pub fn is_closed(&self) -> bool {
        self.round == ClosesRound::Buckle || self.bar().is_some()
    }

    /// Whether posts go through it: a turn-back always has some.
    pub(super) fn has_posts(&self) -> bool {
        !matches!(&self.fasteners, Fasteners::Line { count, .. } if count.value == 0)
    }

    /// How far each fastener stands from the middle of the bend, the nearest first, and the
    /// line that says so. Measured holes count on the layer that is not turned back.
    pub fn fasteners(&self) -> Vec<(Length, &Spanned<Length>)> {
        let mut all: Vec<_> = match &self.fasteners {
            Fasteners::Line { count, first, pitch } => {
                let nth = |i: u32| (first.value + pitch.value * i64::from(i), pitch);
                return (0..count.value).map(nth).collect();
            }
            Fasteners::Pair { holes: Some(read), .. } => {
                read.iter().map(|s| (s.value - self.length.value, s)).collect()
            }
            Fasteners::Pair { at, holes: None } => {
                at.iter().map(|s| (s.value, s)).collect()
            }
        };
        all.retain(|(x, _)| *x > Length::ZERO);
        all.sort_by_key(|(x, _)| *x);
        all
    }

    /// From one fastener to the next, where a keeper may sit between them, and the line that
    /// gives it.
    pub fn keeper_room(&self) -> Option<(Length, &Spanned<Length>)> {
        let all = self.fasteners();
        let [(first, _), (second, read), ..] = all.as_slice() else { return None };
        let given = match &self.fasteners {
            Fasteners::Pair { at: [_, given], holes: None } => given,
            _ => *read,
        };
        Some((*second - *first, given))
    }
}

/// The slot of a fold, which is at least as long as it is wide where there is one.
fn open_slot(
    t: &Section<'_, '_>,
    (length, width): (Spanned<Length>, Spanned<Length>),
) -> (Spanned<Length>, Spanned<Length>) {
    if length.value > Length::ZERO {
        t.no_shorter_than_wide(["slot-length", "slot-width"], &length, &width);
    }
    (length, width)
}

worded! {
    /// The form of a cut end.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
    pub enum TipShape {
        /// Two arcs that meet in a point.
        EnglishPoint = "english-point",
        /// A half circle.
        Round = "round",
        /// Shoulder arcs that run into straight flanks and a sharp point.
        Spear = "spear",
        /// A flat nose a little narrower than the strap.
        BridlePoint = "bridle-point",
        /// Cut straight across, the corners rounded.
        RoundedCorners = "rounded-corners",
        /// Cut straight across.
        Straight = "straight",
    }
}

table! {
    /// A cut end of the piece.
    pub struct Tip(t) {
        /// Which end it is.
        side: Side = t.choice_or("at", &Side::WORDS, Side::End),
        /// Where the point lies.
        at: Place = Place { from: t.datum("from"), by: t.length("by") },
        /// Its form.
        shape: TipShape =
            t.choice("shape", &TipShape::WORDS).map_or(TipShape::Round, |s| s.value),
        /// Least way from the last size hole to the point, where it is not a belt's.
        least: Option<Spanned<Length>> = t.length_if("least-past-hole"),
        /// Greatest way from the last size hole to the point.
        most: Option<Spanned<Length>> = t.length_if("most-past-hole"),
    }
}
