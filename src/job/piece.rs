//! The pieces of a job other than the strap itself, as it asks for them.

use super::section::Section;
use super::{Leather, Spanned};
use crate::diagnostic::Span;
use crate::geom::Length;

/// Most copies of a piece.
const MOST_COPIES: u32 = 20;

/// One piece of leather.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PieceSpec {
    /// Its name: that of its table, `strap` for the strap itself.
    pub name: String,
    /// Where its table stands.
    pub span: Option<Span>,
    /// Its width where no taper changes it, its thickness and its bend.
    pub leather: Leather,
    /// How many are cut.
    pub count: Spanned<u32>,
    /// Whether every other one is cut the other way round, left and right.
    pub mirrored: bool,
    /// What gives it its form.
    pub form: Form,
}

/// What gives a piece its form.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Form {
    /// The features on it; where one end has none, it is cut straight at x = 0 or at this
    /// length.
    Strap(Option<Spanned<Length>>),
    /// A strip round other layers, whose length is computed.
    Keeper(Keeper),
    /// Another piece's outline, smaller by an inset all round.
    Lining {
        /// The other piece.
        of: Spanned<String>,
        /// How much smaller.
        inset: Spanned<Length>,
    },
}

/// The loop that holds a strap's end: a strip round the strap's layers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Keeper {
    /// Width of the strap within.
    pub around: Spanned<Length>,
    /// How many layers of strap pass through.
    pub layers: Spanned<u32>,
    /// Thickness of one of them.
    pub layer: Spanned<Length>,
    /// Room to slide.
    pub ease: Spanned<Length>,
    /// How far its ends lap; nothing where they butt.
    pub lap: Spanned<Length>,
}

impl PieceSpec {
    /// The words that `kind = ` takes for pieces.
    pub const NAMES: [&'static str; 3] = ["piece", "keeper", "lining"];

    /// Reads the table of a piece; `None` where `kind` is no kind of piece. What it does
    /// not say is as in the strap.
    pub(super) fn read(
        name: &str,
        kind: &str,
        t: &Section<'_, '_>,
        strap: &Leather,
    ) -> Option<Self> {
        if !Self::NAMES.contains(&kind) {
            return None;
        }
        let size_or = |key: &str, other: &Spanned<Length>| {
            if t.has(key) { t.size(key) } else { other.clone() }
        };
        // A keeper of no width is none.
        let width = if kind == "keeper" {
            t.no_less_than_nothing("width")
        } else {
            size_or("width", &strap.width)
        };
        let form = match kind {
            "keeper" => Form::Keeper(Keeper {
                around: size_or("around", &strap.width),
                layers: t.count_or("layers", 3),
                layer: size_or("layer-thickness", &strap.thickness),
                ease: t.length_or("ease", Length::ZERO),
                lap: t.length_or("lap", Length::ZERO),
            }),
            "lining" => {
                Form::Lining { of: t.text_or("of", "strap"), inset: t.length("inset") }
            }
            _ => Form::Strap(t.has("length").then(|| t.size("length"))),
        };
        let mirrored = t.truth_or("mirrored", false);
        let count = t.count_or("count", if mirrored { 2 } else { 1 });
        if count.value > MOST_COPIES {
            t.too_many("count", &count, MOST_COPIES);
        }
        Some(Self {
            name: name.to_owned(),
            span: t.span.clone(),
            leather: Leather {
                width,
                thickness: size_or("thickness", &strap.thickness),
                k: if t.has("k") { t.ratio("k") } else { strap.k.clone() },
            },
            count,
            mirrored,
            form,
        })
    }
}
