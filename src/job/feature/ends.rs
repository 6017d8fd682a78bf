//! Keys of what makes an end of a piece: turn-backs, folds and tips.

use super::rows::set_diameter;
use super::{HardwareId, Names, Rows, Section, Spanned};
use crate::geom::Length;
use crate::job::DatumRef;

/// The end that folds back round the buckle's bar: bend, tongue slot, two fasteners
/// through both layers, and room for a keeper between them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TurnBack {
    /// From the middle of the bend to the strap's end.
    pub length: Spanned<Length>,
    /// Tongue slot, over all; zero for none.
    pub slot_length: Spanned<Length>,
    /// Tongue slot, across.
    pub slot_width: Spanned<Length>,
    /// From the middle of the bend to the first fastener.
    pub first_fastener: Spanned<Length>,
    /// From the middle of the bend to the second fastener.
    pub second_fastener: Spanned<Length>,
    /// Hole for the fasteners' posts.
    pub fastener_diameter: Spanned<Length>,
    /// Each fastener's hole by itself, flat from the cut end, as a blank has them: in place of
    /// the two fasteners.
    pub holes: Option<Vec<Spanned<Length>>>,
    /// Width of the keeper strip that sits between the fasteners; zero for none.
    pub keeper_width: Spanned<Length>,
    /// The buckle that it holds.
    pub holds: Option<HardwareId>,
    /// The fasteners.
    pub sets: Option<HardwareId>,
}

impl TurnBack {
    pub(super) fn read(t: &Section<'_, '_>, names: &Names<'_>) -> Self {
        let sets = names.fastener(t);
        let (slot_length, slot_width) =
            (t.no_less_than_nothing("slot-length"), t.size("slot-width"));
        if slot_length.value > Length::ZERO {
            let keys = ["slot-length", "slot-width"];
            t.no_shorter_than_wide(keys, &slot_length, &slot_width);
        }
        Self {
            length: t.size("length"),
            slot_length,
            slot_width,
            first_fastener: t.size("first-fastener"),
            second_fastener: t.size("second-fastener"),
            fastener_diameter: set_diameter(t, "fastener-diameter", names, sets),
            holes: t.lengths_if("holes"),
            keeper_width: t.no_less_than_nothing("keeper-width"),
            holds: names.buckle(),
            sets,
        }
    }
}

impl TurnBack {
    /// How far each fastener stands from the middle of the bend, the nearest first, and the
    /// line that says so. Measured holes count on the layer that is not turned back.
    pub(super) fn fasteners(&self) -> Vec<(Length, &Spanned<Length>)> {
        let given = [&self.first_fastener, &self.second_fastener];
        let mut all: Vec<_> = match &self.holes {
            Some(read) => read.iter().map(|s| (s.value - self.length.value, s)).collect(),
            None => given.into_iter().map(|s| (s.value, s)).collect(),
        };
        all.retain(|(x, _)| *x > Length::ZERO);
        all.sort_by_key(|(x, _)| *x);
        all
    }
}

/// Which end of a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// Where x is least.
    Start,
    /// Where x is greatest.
    End,
}

const SIDES: [(&str, Side); 2] = [("start", Side::Start), ("end", Side::End)];

/// An end that folds back round a ring or bar, or about itself for a loop.
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
    /// Diameter of the ring or bar; zero for leather that folds on itself.
    pub bar: Spanned<Length>,
    /// Form of the cut end.
    pub shape: TipShape,
    /// Slot in the bend for a tongue, over all; zero for none.
    pub slot_length: Spanned<Length>,
    /// That slot, across.
    pub slot_width: Spanned<Length>,
    /// How many fasteners stand in line through both layers.
    pub fasteners: Spanned<u32>,
    /// From the middle of the bend to the first of them.
    pub first_fastener: Spanned<Length>,
    /// From one to the next.
    pub fastener_pitch: Spanned<Length>,
    /// Hole for their posts.
    pub fastener_diameter: Spanned<Length>,
    /// Fasteners side by side.
    pub rows: Rows,
    /// What it closes round, where the job describes it.
    pub holds: Option<HardwareId>,
    /// The fasteners.
    pub sets: Option<HardwareId>,
    /// What holds it where no mark shows it, as the job says.
    pub held: Option<Spanned<Held>>,
}

/// What holds a fold where no mark shows it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Held {
    /// Cement.
    Cement,
    /// A seam that is sewn without pricked holes.
    HandSewn,
    /// Nothing: the end is to stay open.
    Free,
}

const HELD: [(&str, Held); 3] =
    [("cement", Held::Cement), ("hand-sewn", Held::HandSewn), ("free", Held::Free)];

impl Fold {
    pub(super) fn read(t: &Section<'_, '_>, names: &Names<'_>) -> Self {
        let (holds, sets) = (names.held(t), names.fastener(t));
        let fasteners = t.count_or("fasteners", 0);
        let slot_length = t.length_or("slot-length", Length::ZERO);
        let slot_width = t.size_where("slot-width", slot_length.value > Length::ZERO);
        if slot_length.value > Length::ZERO {
            let keys = ["slot-length", "slot-width"];
            t.no_shorter_than_wide(keys, &slot_length, &slot_width);
        }
        // A tongue that nothing else is said of is that of the strap's buckle.
        let has_tongue = slot_length.value > Length::ZERO;
        let holds = holds.or_else(|| names.buckle().filter(|_| has_tongue));
        let held = holds.and_then(|id| names.spec(id).kind.bar());
        let bar = match held {
            Some(bar) if !t.has("bar") => bar.clone(),
            _ => t.no_less_than_nothing("bar"),
        };
        Self {
            side: t.choice_or("at", &SIDES, Side::Start),
            from: t.datum_if("from"),
            by: t.length_or("by", Length::ZERO),
            length: t.size("length"),
            bar,
            shape: t.choice_or("shape", &TipShape::WORDS, TipShape::Straight),
            slot_length,
            slot_width,
            first_fastener: t.size_where("first-fastener", fasteners.value > 0),
            fastener_pitch: t.size_where("fastener-pitch", fasteners.value > 1),
            fastener_diameter: if fasteners.value > 0 {
                set_diameter(t, "fastener-diameter", names, sets)
            } else {
                t.length_or("fastener-diameter", Length::ZERO)
            },
            fasteners,
            rows: Rows::read(t),
            holds,
            sets,
            held: t.choice_if("held", &HELD),
        }
    }
}

/// The form of a cut end.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum TipShape {
    /// Two arcs that meet in a point.
    EnglishPoint,
    /// A half circle.
    Round,
    /// Shoulder arcs that run into straight flanks and a sharp point.
    Spear,
    /// A flat nose a little narrower than the strap.
    BridlePoint,
    /// Cut straight across, the corners rounded.
    RoundedCorners,
    /// Cut straight across.
    Straight,
}

impl TipShape {
    /// The words for them.
    pub const WORDS: [(&'static str, Self); 6] = [
        ("english-point", Self::EnglishPoint),
        ("round", Self::Round),
        ("spear", Self::Spear),
        ("bridle-point", Self::BridlePoint),
        ("rounded-corners", Self::RoundedCorners),
        ("straight", Self::Straight),
    ];
}

/// A cut end of the piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tip {
    /// Which end it is.
    pub side: Side,
    /// Where it is placed from.
    pub from: DatumRef,
    /// How far past that the point lies.
    pub by: Spanned<Length>,
    /// Its form.
    pub shape: TipShape,
    /// Least way from the last size hole to the point, where it is not a belt's.
    pub least: Option<Spanned<Length>>,
    /// Greatest way from the last size hole to the point.
    pub most: Option<Spanned<Length>>,
}

impl Tip {
    pub(super) fn read(t: &Section<'_, '_>) -> Self {
        Self {
            side: t.choice_or("at", &SIDES, Side::End),
            from: t.datum("from"),
            by: t.length("by"),
            shape: t
                .choice("shape", &TipShape::WORDS)
                .map_or(TipShape::Round, |s| s.value),
            least: t.length_if("least-past-hole"),
            most: t.length_if("most-past-hole"),
        }
    }
}
