//! What a rule may ask of a feature, whatever its kind.

use super::{FeatureKind, Fold, HoleRow, RowCount, Rows, Spread, Stitch, Tip};
use crate::diagnostic::Span;
use crate::geom::Length;
use crate::job::{HardwareId, Spanned, Target};
use std::slice::from_ref;

/// What a feature says of itself. Every kind gives what it has, so that a rule asks for what
/// it is about and not for a kind.
#[derive(Clone, Copy, Debug, Default)]
pub struct Facts<'a> {
    /// An end that folds back.
    pub fold: Option<&'a Fold>,
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

impl<'a> Run<'a> {
    /// What gives it: one length, or each measured place.
    pub fn given(self) -> &'a [Spanned<Length>] {
        match self {
            Self::Pitch(by) | Self::AtMost { by, .. } | Self::To { by } => from_ref(by),
            Self::Places(places) => places,
        }
    }
}

impl FeatureKind {
    /// What a rule may ask of it.
    pub fn facts(&self) -> Facts<'_> {
        let none = Facts::default();
        match self {
            Self::Fold(f) => Facts {
                fold: Some(f),
                slot: Some(SlotFacts {
                    length: &f.slot_length,
                    width: &f.slot_width,
                    keys: ["slot-length", "slot-width"],
                }),
                hole: f.has_posts().then_some(&f.fastener_diameter),
                holds: f.holds,
                sets: f.sets,
                ..none
            },
            Self::Tip(f) => Facts { tip: Some(f), ..none },
            Self::HoleRow(f) => Facts {
                size_holes: Some(f),
                spacing: f.pitch.span.as_ref(),
                hole: Some(&f.hole.diameter),
                rows: Some(&f.rows),
                meets: f.meets.as_ref(),
                ..none
            },
            Self::Row(f) => Facts {
                run: Some(match &f.run {
                    RowCount::Pitch { pitch, .. } => Run::Pitch(pitch),
                    RowCount::AtMost { to, pitch } => Run::AtMost { by: &to.by, pitch },
                    RowCount::To { to, .. } => Run::To { by: &to.by },
                    RowCount::Places(places) => Run::Places(places),
                }),
                starts: f.at.span(),
                layers: f.layers.as_ref(),
                hole: Some(&f.hole.diameter),
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
                starts: f.at.span(),
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
                let place = [f.at.span(), f.size.span.as_ref()];
                Facts { text: Some(&f.text), place, ..none }
            }
            Self::Stamp(f) => {
                let place = [f.at.span(), f.width.span.as_ref()];
                Facts { text: Some(&f.text), place, ..none }
            }
            Self::Crease(f) => Facts { place: [None, f.inset.span.as_ref()], ..none },
            // The outline says nothing more than what is drawn.
            Self::Taper(_) => none,
        }
    }
}
