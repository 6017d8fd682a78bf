//! What can be placed on a strap, as the job asks for it. How each is placed stands in
//! the file of the same name under `layout/feature`.

use super::section::Section;
use super::{DatumRef, Said};
use crate::diagnostic::Place;
use crate::geom::Length;

/// A feature with its name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Feature {
    /// The name of its table.
    pub name: String,
    /// Where the table stands.
    pub place: Option<Place>,
    /// Whether the blank came with it.
    pub on_blank: bool,
    /// What it is.
    pub kind: FeatureKind,
}

/// The kinds of feature. Each kind reads its keys here and is placed by a file of its own
/// under `layout/feature`; a match that forgets one does not compile.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FeatureKind {
    /// The end that folds back round the buckle's bar.
    TurnBack(TurnBack),
    /// A row of size holes about a datum.
    HoleRow(HoleRow),
    /// Fittings spaced equally between two datums.
    Spread(Spread),
    /// The cut end.
    Tip(Tip),
}

impl FeatureKind {
    /// The words that `kind = ` takes.
    pub const NAMES: [&'static str; 4] = ["turn-back", "hole-row", "spread", "tip"];

    /// The word of this kind.
    pub fn name(&self) -> &'static str {
        match self {
            Self::TurnBack(_) => "turn-back",
            Self::HoleRow(_) => "hole-row",
            Self::Spread(_) => "spread",
            Self::Tip(_) => "tip",
        }
    }

    pub(super) fn read(kind: &str, table: &Section<'_, '_>) -> Option<Self> {
        Some(match kind {
            "turn-back" => Self::TurnBack(TurnBack::read(table)),
            "hole-row" => Self::HoleRow(HoleRow::read(table)),
            "spread" => Self::Spread(Spread::read(table)),
            "tip" => Self::Tip(Tip::read(table)),
            _ => return None,
        })
    }
}

/// The end that folds back round the buckle's bar: bend, tongue slot, two fasteners
/// through both layers, and room for a keeper between them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TurnBack {
    /// From the middle of the bend to the strap's end.
    pub length: Said<Length>,
    /// Tongue slot, over all; zero for none.
    pub slot_length: Said<Length>,
    /// Tongue slot, across.
    pub slot_width: Said<Length>,
    /// From the middle of the bend to the first fastener.
    pub first_fastener: Said<Length>,
    /// From the middle of the bend to the second fastener.
    pub second_fastener: Said<Length>,
    /// Hole for the fasteners' posts.
    pub fastener_diameter: Said<Length>,
    /// Width of the keeper strip that sits between the fasteners; zero for none.
    pub keeper_width: Said<Length>,
}

impl TurnBack {
    fn read(t: &Section<'_, '_>) -> Self {
        let (slot_length, slot_width) =
            (t.no_less_than_nothing("slot-length"), t.size("slot-width"));
        if slot_length.value > Length::ZERO {
            let width = slot_width.value;
            t.at_least("slot-length", &slot_length, width, "the slot is wide");
        }
        Self {
            length: t.size("length"),
            slot_length,
            slot_width,
            first_fastener: t.size("first-fastener"),
            second_fastener: t.size("second-fastener"),
            fastener_diameter: t.size("fastener-diameter"),
            keeper_width: t.no_less_than_nothing("keeper-width"),
        }
    }
}

/// The form of a size hole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HoleShape {
    /// Round.
    Round,
    /// Longer along the strap.
    Oval,
}

/// A row of size holes about a datum.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HoleRow {
    /// Where the size hole is placed from.
    pub from: DatumRef,
    /// How far past it.
    pub by: Said<Length>,
    /// Holes toward the buckle, for a smaller girth.
    pub inside: Said<u32>,
    /// Holes toward the tip, for a larger girth.
    pub outside: Said<u32>,
    /// From hole to hole.
    pub pitch: Said<Length>,
    /// Diameter, across the strap.
    pub diameter: Said<Length>,
    /// Round or oval.
    pub shape: HoleShape,
    /// Over-all length of an oval hole.
    pub oval_length: Said<Length>,
}

impl HoleRow {
    fn read(t: &Section<'_, '_>) -> Self {
        let shapes = [("round", HoleShape::Round), ("oval", HoleShape::Oval)];
        let (diameter, oval_length) = (t.size("diameter"), t.size("oval-length"));
        t.at_least("oval-length", &oval_length, diameter.value, "the hole is wide");
        Self {
            from: t.datum("from"),
            by: t.length("by"),
            inside: t.count("inside"),
            outside: t.count("outside"),
            pitch: t.size("pitch"),
            diameter,
            shape: t.choice("shape", &shapes).map_or(HoleShape::Round, |s| s.value),
            oval_length,
        }
    }
}

/// Fittings with equal gaps to each other and to both datums.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spread {
    /// Where the span begins.
    pub from: DatumRef,
    /// How far past that.
    pub by: Said<Length>,
    /// Where the span ends.
    pub to: DatumRef,
    /// How far past that (negative: before).
    pub to_by: Said<Length>,
    /// How many.
    pub count: Said<u32>,
    /// Hole for the fitting's post.
    pub diameter: Said<Length>,
    /// Length of the fitting's face along the strap.
    pub face: Said<Length>,
}

impl Spread {
    fn read(t: &Section<'_, '_>) -> Self {
        Self {
            from: t.datum("from"),
            by: t.length("by"),
            to: t.datum("to"),
            to_by: t.length("to-by"),
            count: t.count("count"),
            diameter: t.size("diameter"),
            face: t.size("face"),
        }
    }
}

/// The form of the cut end.
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
}

/// The cut end of the strap.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tip {
    /// Where it is placed from.
    pub from: DatumRef,
    /// How far past that the point lies.
    pub by: Said<Length>,
    /// Its form.
    pub shape: TipShape,
}

impl Tip {
    fn read(t: &Section<'_, '_>) -> Self {
        let shapes = [
            ("english-point", TipShape::EnglishPoint),
            ("round", TipShape::Round),
            ("spear", TipShape::Spear),
            ("bridle-point", TipShape::BridlePoint),
        ];
        Self {
            from: t.datum("from"),
            by: t.length("by"),
            shape: t.choice("shape", &shapes).map_or(TipShape::Round, |s| s.value),
        }
    }
}
