//! What can be placed on a piece, as the job asks for it. How each is placed stands in
//! the file of the same name under `layout/feature`.

mod ends;
mod facts;
mod fittings;
mod holes;
mod lines;
mod rows;

pub use ends::{ClosesRound, Fasteners, Fold, Held, Side, Tip, TipShape};
pub use facts::{Facts, Run, SlotFacts};
pub use fittings::{Fitting, Spacing, Spread};
pub use holes::{ButtonHole, Hole, HoleRow, Row, RowCount, Slot, Snap, Use};
pub use lines::{Between, Course, Crease, Join, Stamp, Stitch, Taper, Words};
pub use rows::Rows;

use super::hardware::{HardwareId, Target};
use super::names::Names;
use super::section::Section;
use super::{DatumRef, FeatureId, PieceId, Spanned};
use crate::diagnostic::Span;
use crate::words::Name;

/// A feature with its name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Feature {
    /// Which feature it is.
    pub id: FeatureId,
    /// The name of its table.
    pub name: Name,
    /// Where the table stands.
    pub span: Option<Span>,
    /// Whether the blank came with it.
    pub on_blank: bool,
    /// The piece that it lies on.
    pub on: Spanned<PieceId>,
    /// Where its marks are mirrored, so that they go through both layers of a fold there.
    pub mirror: Option<DatumRef>,
    /// What it is.
    pub kind: FeatureKind,
}

/// The kinds of feature. Each kind reads its keys here and is placed by a file of its own
/// under `layout/feature`; a match that forgets one does not compile.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FeatureKind {
    /// An end that folds back round a buckle, a ring, or about itself.
    Fold(Fold),
    /// A cut end.
    Tip(Tip),
    /// A change of width.
    Taper(Taper),
    /// A row of size holes about a datum.
    HoleRow(HoleRow),
    /// A row of holes from its first one on.
    Row(Row),
    /// Fittings spaced equally between two datums.
    Spread(Spread),
    /// A slot.
    Slot(Slot),
    /// A hole with a slit.
    ButtonHole(ButtonHole),
    /// A snap's cap and posts.
    Snap(Snap),
    /// Holes for stitching.
    Stitch(Stitch),
    /// A creased line.
    Crease(Crease),
    /// Words.
    Text(Words),
    /// A box for a stamp.
    Stamp(Stamp),
}

type ReadTable = fn(&Section<'_, '_>, &Names<'_>) -> FeatureKind;

impl FeatureKind {
    /// Each kind by the word that `kind = ` takes, with the reader of its table.
    const KINDS: [(&'static str, ReadTable); 14] = [
        ("turn-back", |t, n| Self::Fold(Fold::read_turn_back(t, n))),
        ("fold", |t, n| Self::Fold(Fold::read(t, n))),
        ("tip", |t, _| Self::Tip(Tip::read(t))),
        ("taper", |t, _| Self::Taper(Taper::read(t))),
        ("hole-row", |t, n| Self::HoleRow(HoleRow::read(t, n))),
        ("row", |t, n| Self::Row(Row::read(t, n))),
        ("spread", |t, _| Self::Spread(Spread::read(t))),
        ("slot", |t, _| Self::Slot(Slot::read(t))),
        ("button-hole", |t, n| Self::ButtonHole(ButtonHole::read(t, n))),
        ("snap", |t, n| Self::Snap(Snap::read(t, n))),
        ("stitch", |t, _| Self::Stitch(Stitch::read(t))),
        ("crease", |t, _| Self::Crease(Crease::read(t))),
        ("text", |t, _| Self::Text(Words::read(t))),
        ("stamp", |t, _| Self::Stamp(Stamp::read(t))),
    ];

    /// The words that `kind = ` takes.
    pub fn names() -> impl Iterator<Item = &'static str> {
        Self::KINDS.iter().map(|(name, _)| *name)
    }

    /// Reads the table of a feature; `None` where `word` is no kind of feature.
    pub(super) fn read(
        word: &str,
        table: &Section<'_, '_>,
        names: &Names<'_>,
    ) -> Option<Self> {
        let kind = Self::KINDS.iter().find(|(name, _)| *name == word);
        kind.map(|(_, read)| read(table, names))
    }

    /// Whether it is placed on the finished outline.
    pub fn needs_outline(&self) -> bool {
        match self {
            Self::Stitch(_) | Self::Crease(_) => true,
            Self::Fold(_)
            | Self::Tip(_)
            | Self::Taper(_)
            | Self::HoleRow(_)
            | Self::Row(_)
            | Self::Spread(_)
            | Self::Slot(_)
            | Self::ButtonHole(_)
            | Self::Snap(_)
            | Self::Text(_)
            | Self::Stamp(_) => false,
        }
    }
}
