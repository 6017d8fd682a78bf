//! What can be placed on a piece, as the job asks for it. How each is placed stands in
//! the file of the same name under `layout/feature`.

mod ends;
mod facts;
mod holes;
mod lines;
mod rows;

pub use ends::{Fold, Side, Tip, TipShape, TurnBack};
pub use facts::{ClosesRound, Facts, FoldFacts, Run, SlotFacts};
pub use holes::{
    ButtonHole, Fitting, HoleRow, HoleShape, Row, RowCount, Slot, Snap, Spacing, Spread,
    Use,
};
pub use lines::{Between, Course, Crease, Join, Stamp, Stitch, Taper, Words};
pub use rows::{Posts, Rows};

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
    /// The end that folds back round the buckle's bar.
    TurnBack(TurnBack),
    /// An end that folds back round a ring, or about itself.
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

impl FeatureKind {
    /// The words that `kind = ` takes.
    pub const NAMES: [&'static str; 14] = [
        "turn-back",
        "fold",
        "tip",
        "taper",
        "hole-row",
        "row",
        "spread",
        "slot",
        "button-hole",
        "snap",
        "stitch",
        "crease",
        "text",
        "stamp",
    ];

    /// The word of this kind.
    pub fn name(&self) -> &'static str {
        match self {
            Self::TurnBack(_) => "turn-back",
            Self::Fold(_) => "fold",
            Self::Tip(_) => "tip",
            Self::Taper(_) => "taper",
            Self::HoleRow(_) => "hole-row",
            Self::Row(_) => "row",
            Self::Spread(_) => "spread",
            Self::Slot(_) => "slot",
            Self::ButtonHole(_) => "button-hole",
            Self::Snap(_) => "snap",
            Self::Stitch(_) => "stitch",
            Self::Crease(_) => "crease",
            Self::Text(_) => "text",
            Self::Stamp(_) => "stamp",
        }
    }

    pub(super) fn read(kind: &str, table: &Section<'_, '_>) -> Option<Self> {
        Some(match kind {
            "turn-back" => Self::TurnBack(TurnBack::read(table)),
            "fold" => Self::Fold(Fold::read(table)),
            "tip" => Self::Tip(Tip::read(table)),
            "taper" => Self::Taper(Taper::read(table)),
            "hole-row" => Self::HoleRow(HoleRow::read(table)),
            "row" => Self::Row(Row::read(table)),
            "spread" => Self::Spread(Spread::read(table)),
            "slot" => Self::Slot(Slot::read(table)),
            "button-hole" => Self::ButtonHole(ButtonHole::read(table)),
            "snap" => Self::Snap(Snap::read(table)),
            "stitch" => Self::Stitch(Stitch::read(table)),
            "crease" => Self::Crease(Crease::read(table)),
            "text" => Self::Text(Words::read(table)),
            "stamp" => Self::Stamp(Stamp::read(table)),
            _ => return None,
        })
    }

    /// Whether it is placed on the finished outline.
    pub fn needs_outline(&self) -> bool {
        matches!(self, Self::Stitch(_) | Self::Crease(_))
    }
}
