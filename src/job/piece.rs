//! The pieces of a job other than the strap itself, as it asks for them.

use super::feature::{Feature, FeatureKind, Hole, Row, RowCount, Rows, Use};
use super::names::TableContext;
use super::origin::Origin;
use super::section::Section;
use super::{DatumRef, FeatureId, Leather, PieceId, Place, STRAP, Spanned};
use crate::diagnostic::{Finding, Span};
use crate::geom::Length;
use crate::input::worded;
use crate::job::rule;
use crate::words::Name;

/// Most copies of a piece.
const MOST_COPIES: usize = 20;
/// Most holes at one end of a keeper.
const MOST_END_HOLES: usize = 10;

/// One piece of leather.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PieceSpec {
    /// Which piece it is.
    pub id: PieceId,
    /// The name of its table, `strap` for the strap itself.
    pub name: Name,
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
    Keeper(Box<Keeper>),
    /// Another piece's outline, smaller by an inset all round.
    Lining {
        /// The other piece.
        of: Spanned<PieceId>,
        /// How much smaller.
        inset: Spanned<Length>,
        /// What becomes of it where the other piece has holes.
        holes: LiningHoles,
    },
}

worded! {
    /// What becomes of a lining where its piece is punched.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum LiningHoles {
        /// The holes are punched through both.
        Through = "through",
        /// The lining is cut away round each hole, so posts and tongues go through the piece alone.
        Trimmed = "trimmed",
    }
}

/// The loop that holds a strap's end: a strip round the strap's layers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Keeper {
    /// Width of the strap within.
    pub around: Spanned<Length>,
    /// How many layers of strap pass through.
    pub layers: Spanned<u32>,
    /// Thickness of one of them; where nothing is said, that of the strap with its lining.
    pub layer: Option<Spanned<Length>>,
    /// Room to slide.
    pub ease: Spanned<Length>,
    /// How far its ends lap; nothing where they butt.
    pub lap: Spanned<Length>,
    /// How many holes for thread or staples each end has.
    pub end_holes: Spanned<u32>,
    /// Their diameter.
    pub end_diameter: Spanned<Length>,
    /// How far they lie from the ends; where those lap, the holes lie over each other.
    pub end_inset: Spanned<Length>,
}

/// Holes for thread or staples in a keeper's ends, and how far from them (common practice, no
/// source).
const END_DIAMETER: Length = Length::from_um(1_200);
/// See [`END_DIAMETER`].
const END_INSET: Length = Length::from_mm(3);

impl PieceSpec {
    /// The words that `kind = ` takes for pieces.
    pub const NAMES: [&'static str; 3] = ["piece", "keeper", "lining"];

    /// Whether `kind` is a kind of piece.
    pub(super) fn is_kind(kind: &str) -> bool {
        Self::NAMES.contains(&kind)
    }

    /// Reads the table of a piece. What it leaves out is as in the strap.
    pub(super) fn read(
        id: PieceId,
        context: &TableContext<'_, '_>,
        strap: &Leather,
    ) -> Self {
        let &TableContext { table: t, kind, names, origin } = context;
        t.text("leather");
        let kind = kind.value.as_str();
        // A keeper of no width is none.
        let width = if kind == "keeper" {
            t.no_less_than_nothing("width")
        } else {
            t.size_or("width", &strap.width)
        };
        let form = match kind {
            "keeper" => Form::Keeper(Box::new(Keeper {
                end_holes: t
                    .count_within("end-holes", 0..=MOST_END_HOLES)
                    .unwrap_or_default(),
                end_diameter: t
                    .size_or("end-diameter", &Spanned::without_span(END_DIAMETER)),
                end_inset: t.size_or("end-inset", &Spanned::without_span(END_INSET)),
                around: t.size_or("around", &strap.width),
                layers: t.count_or("layers", 3),
                layer: t.length_if("layer-thickness"),
                ease: t.length_or("ease", Length::ZERO),
                lap: t.length_or("lap", Length::ZERO),
            })),
            "lining" => {
                let of = names.piece(t, t.text_or("of", STRAP));
                let holes =
                    t.choice_or("holes", &LiningHoles::WORDS, LiningHoles::Through);
                Form::Lining { of, inset: t.length("inset"), holes }
            }
            _ => Form::Strap(t.size_if("length")),
        };
        let mirrored = t.truth_or("mirrored", false);
        let count = t.count_within("count", 0..=MOST_COPIES);
        let default = Spanned::without_span(if mirrored { 2 } else { 1 });
        let count = count.unwrap_or(default);
        if mirrored && count.value == 1 {
            find_lone_mirrored(t, &count, origin);
        }
        Self {
            id,
            name: origin.table(t.name),
            span: t.span.clone(),
            leather: Leather {
                width,
                thickness: t.size_or("thickness", &strap.thickness),
                k: t.ratio_or("k", &strap.k),
            },
            count,
            mirrored,
            form,
        }
    }
}

impl PieceSpec {
    /// The holes for thread or staples in the ends of a keeper: across each, even over its width.
    pub(super) fn end_holes(&self, id: FeatureId) -> Option<Feature> {
        let Form::Keeper(keeper) = &self.form else { return None };
        let Keeper { lap, end_holes, end_inset, end_diameter, .. } = &**keeper;
        let n = i64::from(end_holes.value);
        if n == 0 {
            return None;
        }
        let inset =
            if lap.value > Length::ZERO { lap.value / 2 } else { end_inset.value };
        let place = |end, by| Place {
            from: DatumRef {
                name: format!("{}.{end}", self.name),
                span: None,
                and: None,
            },
            by: Spanned { value: by, span: end_inset.span.clone() },
        };
        let apart = self.leather.width.value / n;
        Some(Feature {
            id,
            name: self.name.clone(),
            span: self.span.clone(),
            on_blank: false,
            on: Spanned { value: self.id, span: None },
            mirror: None,
            kind: FeatureKind::Row(Row {
                at: place("start", inset),
                run: RowCount::To {
                    to: place("end", -inset),
                    count: Spanned::without_span(2),
                },
                usage: Use::Stitch,
                hole: Hole { diameter: end_diameter.clone(), oval: None },
                rows: Rows {
                    count: end_holes.clone(),
                    apart: Spanned { value: apart, span: end_holes.span.clone() },
                    across: Spanned::default(),
                },
                layers: None,
                holds: None,
                meets: None,
                sets: None,
            }),
        })
    }
}

/// Finds a single piece that the user wants mirrored: it has no other to be the mirror of.
fn find_lone_mirrored(t: &Section<'_, '_>, count: &Spanned<u32>, origin: &Origin) {
    let given = t.leaf("mirrored").map(|leaf| leaf.span.clone());
    // A job that makes one of a template's pair wants the one.
    if given.as_ref().is_none_or(|span| origin.is_built_in(span)) {
        return;
    }
    let [mirrored, number] = ["mirrored", "count"].map(|key| t.full_name(key));
    t.reader.find(
        Finding::warning(rule::BAD_VALUE, format!("`{mirrored}` has no effect"))
            .at(given)
            .expected(format!("{number} = {}", count.value), "a count of two or more")
            .remedy(format!("give {number} = 2, or take {mirrored} out")),
    );
}
