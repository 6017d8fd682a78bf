//! What a rule may ask of a feature, whatever its kind.

use super::{
    FeatureKind, Fold, Held, HoleRow, RowCount, Rows, Side, Spread, Stitch, Tip,
    TipShape, TurnBack,
};
use crate::diagnostic::Span;
use crate::geom::Length;
use crate::job::{HardwareId, Spanned, Target};

/// What a feature says of itself. Every kind gives what it has, so that a rule asks for what
/// it is about and not for a kind.
#[derive(Clone, Copy, Debug, Default)]
pub struct Facts<'a> {
    /// An end that folds back.
    pub fold: Option<FoldFacts<'a>>,
    /// A slot that is cut.
    pub slot: Option<SlotFacts<'a>>,
    /// A row of size holes.
    pub size_holes: Option<&'a HoleRow>,
    /// Decorative fittings.
    pub fittings: Option<&'a Spread>,
    /// A tip.
    pub tip: Option<&'a Tip>,
    /// A seam.
    pub seam: Option<&'a Stitch>,
    /// Holes of which one is chosen for each length: their order along the strap.
    pub run: Option<Run<'a>>,
    /// The line that says where its first hole lies.
    pub starts: Option<&'a Span>,
    /// The slit that runs on from its holes.
    pub slit: Option<&'a Spanned<Length>>,
    /// The line that says how far apart its holes stand, where the diameter does not.
    pub spacing: Option<&'a Span>,
    /// The buckle or ring that it closes round or shuts in.
    pub holds: Option<HardwareId>,
    /// Across its holes.
    pub hole: Option<&'a Spanned<Length>>,
    /// Its holes side by side.
    pub rows: Option<&'a Rows>,
    /// What its holes close on.
    pub meets: Option<&'a Target>,
    /// What is set in its holes.
    pub sets: Option<HardwareId>,
    /// How many layers the fasteners of a row hold, where the job says so.
    pub layers: Option<&'a Spanned<u32>>,
    /// Words that are drawn on the piece.
    pub text: Option<&'a Spanned<String>>,
    /// The lines that say where a stamp or words lie, and how far they reach across.
    pub place: [Option<&'a Span>; 2],
}

/// What an end folds back round.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ClosesRound<'a> {
    /// The bar of the job's buckle.
    Buckle,
    /// A ring or bar of this diameter.
    Bar(&'a Spanned<Length>),
    /// Nothing: it is a loop, open at its bend.
    Nothing,
}

/// An end that folds back.
#[derive(Clone, Copy, Debug)]
pub struct FoldFacts<'a> {
    /// Which end folds.
    pub side: Side,
    /// From the middle of the bend to the cut end.
    pub length: &'a Spanned<Length>,
    /// What it closes round.
    pub round: ClosesRound<'a>,
    /// How many fasteners stand one behind the other.
    pub fasteners: u32,
    /// The line that says so.
    pub fasteners_span: Option<&'a Span>,
    /// What holds it where no mark shows it, as the job says.
    pub held: Option<&'a Spanned<Held>>,
    /// From the middle of the bend to the fastener that is furthest from it; zero for none.
    pub last_fastener: Length,
    /// Hole for a fastener's post.
    pub fastener_diameter: &'a Spanned<Length>,
    /// From one fastener to the next, where a keeper may sit between them, and the line that
    /// gives it.
    pub keeper_room: Option<(Length, &'a Spanned<Length>)>,
    /// Width of a keeper that it names itself.
    pub keeper_width: Option<&'a Spanned<Length>>,
    /// Whether its cut end is curved.
    pub is_shaped: bool,
}

impl FoldFacts<'_> {
    /// Whether it closes round a buckle, ring or bar, and is no mere loop.
    pub fn holds(&self) -> bool {
        self.round != ClosesRound::Nothing
    }
}

/// A slot.
#[derive(Clone, Copy, Debug)]
pub struct SlotFacts<'a> {
    /// Over all, along the strap.
    pub length: &'a Spanned<Length>,
    /// Across.
    pub width: &'a Spanned<Length>,
    /// The keys that give the two.
    pub keys: [&'static str; 2],
}

/// The order of a row's holes.
#[derive(Clone, Copy, Debug)]
pub enum Run<'a> {
    /// From one to the next; negative toward the start.
    Pitch(&'a Spanned<Length>),
    /// To a place, at most so far apart.
    AtMost {
        /// How far past the last hole's datum.
        by: &'a Spanned<Length>,
        /// The greatest pitch.
        pitch: &'a Spanned<Length>,
    },
    /// To a place, by so many holes.
    To {
        /// How far past the last hole's datum.
        by: &'a Spanned<Length>,
    },
    /// One at each measured place.
    Places(&'a [Spanned<Length>]),
}

impl FeatureKind {
    /// What a rule may ask of it.
    pub fn facts(&self) -> Facts<'_> {
        let none = Facts::default();
        match self {
            Self::TurnBack(f) => turn_back(f),
            Self::Fold(f) => fold(f),
            Self::Tip(f) => Facts { tip: Some(f), ..none },
            Self::HoleRow(f) => Facts {
                size_holes: Some(f),
                spacing: f.pitch.span.as_ref(),
                hole: Some(&f.diameter),
                rows: Some(&f.rows),
                meets: f.meets.as_ref(),
                ..none
            },
            Self::Row(f) => Facts {
                run: Some(match &f.run {
                    RowCount::Pitch { pitch, .. } => Run::Pitch(pitch),
                    RowCount::AtMost { by, pitch, .. } => Run::AtMost { by, pitch },
                    RowCount::To { by, .. } => Run::To { by },
                    RowCount::Places(places) => Run::Places(places),
                }),
                starts: f.by.span.as_ref().or(f.from.span.as_ref()),
                layers: f.layers.as_ref(),
                hole: Some(&f.diameter),
                rows: Some(&f.rows),
                holds: f.holds,
                meets: f.meets.as_ref(),
                sets: f.sets,
                ..none
            },
            Self::Spread(f) => {
                Facts { fittings: Some(f), spacing: f.count.span.as_ref(), ..none }
            }
            Self::Slot(f) => Facts {
                slot: Some(SlotFacts {
                    length: &f.length,
                    width: &f.width,
                    keys: ["length", "width"],
                }),
                rows: Some(&f.rows),
                ..none
            },
            Self::ButtonHole(f) => Facts {
                run: Some(Run::Pitch(&f.pitch)),
                starts: f.by.span.as_ref().or(f.from.span.as_ref()),
                slit: Some(&f.slit),
                hole: Some(&f.diameter),
                meets: f.meets.as_ref(),
                ..none
            },
            Self::Snap(f) => Facts {
                spacing: f.pitch.span.as_ref(),
                rows: Some(&f.rows),
                sets: f.sets,
                ..none
            },
            Self::Stitch(f) => {
                Facts { seam: Some(f), spacing: f.pitch.span.as_ref(), ..none }
            }
            Self::Text(f) => {
                let by = f.by.span.as_ref().or(f.from.span.as_ref());
                let place = [by, f.size.span.as_ref()];
                Facts { text: Some(&f.text), place, ..none }
            }
            Self::Stamp(f) => {
                let by = f.by.span.as_ref().or(f.from.span.as_ref());
                let place = [by, f.width.span.as_ref()];
                Facts { text: Some(&f.text), place, ..none }
            }
            Self::Crease(f) => Facts { place: [None, f.inset.span.as_ref()], ..none },
            // The outline says nothing more than what is drawn.
            Self::Taper(_) => none,
        }
    }
}

/// The facts of a turn-back.
fn turn_back(f: &TurnBack) -> Facts<'_> {
    let fasteners = f.fasteners();
    Facts {
        fold: Some(FoldFacts {
            side: Side::Start,
            length: &f.length,
            round: ClosesRound::Buckle,
            fasteners: u32::try_from(fasteners.len()).unwrap_or(u32::MAX),
            fasteners_span: None,
            held: None,
            last_fastener: fasteners.last().map_or(Length::ZERO, |l| l.0),
            fastener_diameter: &f.fastener_diameter,
            keeper_room: match fasteners.as_slice() {
                [(first, _), (second, read), ..] => {
                    let given = f.holes.as_ref().map(|_| *read);
                    let given = given.unwrap_or(&f.second_fastener);
                    Some((*second - *first, given))
                }
                _ => None,
            },
            keeper_width: Some(&f.keeper_width)
                .filter(|width| width.value > Length::ZERO),
            is_shaped: false,
        }),
        slot: Some(fold_slot(&f.slot_length, &f.slot_width)),
        hole: Some(&f.fastener_diameter),
        holds: f.holds,
        sets: f.sets,
        ..Facts::default()
    }
}

/// The facts of a fold.
fn fold(f: &Fold) -> Facts<'_> {
    let fasteners = f.fasteners.value;
    let more = f.fastener_pitch.value * i64::from(fasteners.saturating_sub(1));
    Facts {
        fold: Some(FoldFacts {
            side: f.side,
            length: &f.length,
            round: if f.bar.value > Length::ZERO {
                ClosesRound::Bar(&f.bar)
            } else {
                ClosesRound::Nothing
            },
            fasteners,
            fasteners_span: f.fasteners.span.as_ref(),
            held: f.held.as_ref(),
            last_fastener: f.first_fastener.value + more,
            fastener_diameter: &f.fastener_diameter,
            keeper_room: Some((f.fastener_pitch.value, &f.fastener_pitch))
                .filter(|_| fasteners > 1),
            keeper_width: None,
            is_shaped: f.shape != TipShape::Straight,
        }),
        slot: Some(fold_slot(&f.slot_length, &f.slot_width)),
        hole: Some(&f.fastener_diameter).filter(|_| fasteners > 0),
        holds: f.holds,
        sets: f.sets,
        ..Facts::default()
    }
}

fn fold_slot<'a>(
    length: &'a Spanned<Length>,
    width: &'a Spanned<Length>,
) -> SlotFacts<'a> {
    SlotFacts { length, width, keys: ["slot-length", "slot-width"] }
}
