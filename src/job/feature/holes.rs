//! Keys of what is punched or slit.

use super::rows::set_diameter;
use super::{HardwareId, Names, Rows, Section, Spanned, Target};
use crate::geom::Length;
use crate::job::{DatumRef, HardwareKind};

/// The form of a hole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HoleShape {
    /// Round.
    Round,
    /// Longer along the strap.
    Oval,
}

const SHAPES: [(&str, HoleShape); 2] =
    [("round", HoleShape::Round), ("oval", HoleShape::Oval)];

/// A row of size holes about a datum.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HoleRow {
    /// Where the size hole is placed from.
    pub from: DatumRef,
    /// How far past it.
    pub by: Spanned<Length>,
    /// Holes toward the buckle, for a smaller girth.
    pub inside: Spanned<u32>,
    /// Holes toward the tip, for a larger girth.
    pub outside: Spanned<u32>,
    /// From hole to hole.
    pub pitch: Spanned<Length>,
    /// Diameter, across the strap.
    pub diameter: Spanned<Length>,
    /// Round or oval.
    pub shape: HoleShape,
    /// Over-all length of an oval hole.
    pub oval_length: Spanned<Length>,
    /// One row for each tongue.
    pub rows: Rows,
    /// What they close on; where nothing is said, the strap's buckle.
    pub meets: Option<Target>,
}

impl HoleRow {
    pub(super) fn read(t: &Section<'_, '_>, names: &Names<'_>) -> Self {
        let buckle = names.buckle().map(Target::Hardware);
        let (diameter, oval_length) = (t.size("diameter"), t.size("oval-length"));
        let shape = t.choice("shape", &SHAPES).map_or(HoleShape::Round, |s| s.value);
        if shape == HoleShape::Oval {
            t.no_shorter_than_wide(["oval-length", "diameter"], &oval_length, &diameter);
        }
        Self {
            from: t.datum("from"),
            by: t.length("by"),
            inside: t.count("inside"),
            outside: t.count("outside"),
            pitch: t.size("pitch"),
            diameter,
            shape,
            oval_length,
            rows: Rows::read(t),
            meets: names.target(t).or(buckle),
        }
    }
}

/// What a row of holes is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Use {
    /// A plain hole.
    Hole,
    /// A hole that gets an eyelet.
    Eyelet,
    /// A rivet, screw post or stud.
    Fastener,
    /// A slot that is cut.
    Slot,
    /// A prick hole for thread or a staple.
    Stitch,
}

/// How many holes a row has.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum RowCount {
    /// So many, a pitch apart, from the first on.
    Pitch {
        /// How many.
        count: Spanned<u32>,
        /// From hole to hole; negative toward the start.
        pitch: Spanned<Length>,
    },
    /// So many from the first to this place, both ends included.
    To {
        /// Where the last is placed from.
        to: DatumRef,
        /// How far past that.
        by: Spanned<Length>,
        /// How many.
        count: Spanned<u32>,
    },
    /// As many from the first to this place as make them at most a pitch apart.
    AtMost {
        /// Where the last is placed from.
        to: DatumRef,
        /// How far past that.
        by: Spanned<Length>,
        /// The greatest pitch.
        pitch: Spanned<Length>,
    },
    /// One at each of these places past the datum, as they were measured.
    Places(Vec<Spanned<Length>>),
}

/// A row of holes that is placed from its first one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// Where the first is placed from.
    pub from: DatumRef,
    /// How far past it.
    pub by: Spanned<Length>,
    /// How it goes on.
    pub run: RowCount,
    /// What it is for.
    pub usage: Use,
    /// Diameter, across the strap.
    pub diameter: Spanned<Length>,
    /// Round or oval.
    pub shape: HoleShape,
    /// Over-all length of an oval hole.
    pub oval_length: Spanned<Length>,
    /// Side by side.
    pub rows: Rows,
    /// How many layers of the strap a fastener holds; where nothing is said, one, or the two
    /// of a fold that its marks are mirrored in.
    pub layers: Option<Spanned<u32>>,
    /// The ring that the fasteners shut in.
    pub holds: Option<HardwareId>,
    /// What they close on.
    pub meets: Option<Target>,
    /// What is set in them.
    pub sets: Option<HardwareId>,
}

impl Row {
    pub(super) fn read(t: &Section<'_, '_>, names: &Names<'_>) -> Self {
        let uses = [
            ("hole", Use::Hole),
            ("eyelet", Use::Eyelet),
            ("fastener", Use::Fastener),
            ("slot", Use::Slot),
            ("stitch", Use::Stitch),
        ];
        let holds = names.held(t);
        let usage = t.choice_or("use", &uses, Use::Hole);
        let sets = match usage {
            Use::Eyelet => {
                names.set(t, |kind| matches!(kind, HardwareKind::Eyelet { .. }))
            }
            Use::Fastener => names.fastener(t),
            // The posts of the row that they meet go through them.
            Use::Hole if t.has("meets") => names.fastener(t),
            Use::Hole | Use::Slot | Use::Stitch => None,
        };
        let run = match (t.datum_if("to"), t.has("count")) {
            (None, has_count) if t.has_lengths("places") => {
                if has_count {
                    t.clash("places", "count");
                }
                RowCount::Places(t.lengths_if("places").unwrap_or_default())
            }
            (None, _) => {
                let count = t.count("count");
                let pitch = t.length_where("pitch", count.value > 1);
                RowCount::Pitch { count, pitch }
            }
            (Some(to), true) => {
                let by = t.length_or("to-by", Length::ZERO);
                RowCount::To { to, by, count: t.count("count") }
            }
            (Some(to), false) => {
                let by = t.length_or("to-by", Length::ZERO);
                RowCount::AtMost { to, by, pitch: t.size("pitch") }
            }
        };
        let shape = t.choice_or("shape", &SHAPES, HoleShape::Round);
        let diameter = set_diameter(t, "diameter", names, sets);
        let oval_length = t.size_where("oval-length", shape == HoleShape::Oval);
        if shape == HoleShape::Oval {
            t.no_shorter_than_wide(["oval-length", "diameter"], &oval_length, &diameter);
        }
        Self {
            from: t.place(),
            by: t.length_or("by", Length::ZERO),
            run,
            usage,
            diameter,
            shape,
            oval_length,
            rows: Rows::read(t),
            layers: t.positive_count_if("layers"),
            holds,
            meets: names.target(t),
            sets,
        }
    }
}

/// A knife slit along the strap with a hole at its one end: for a strap button or a stud.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ButtonHole {
    /// Where the middle of the hole is placed from.
    pub from: DatumRef,
    /// How far past it.
    pub by: Spanned<Length>,
    /// Hole across: the button's neck.
    pub diameter: Spanned<Length>,
    /// Slit from the hole's rim to its end; negative toward the start.
    pub slit: Spanned<Length>,
    /// How many there are.
    pub count: Spanned<u32>,
    /// From one to the next.
    pub pitch: Spanned<Length>,
    /// The stud or button that they close on.
    pub meets: Option<Target>,
}

impl ButtonHole {
    pub(super) fn read(t: &Section<'_, '_>, names: &Names<'_>) -> Self {
        let count = t.count_or("count", 1);
        let meets = names.target(t);
        Self {
            from: t.datum("from"),
            by: t.length_or("by", Length::ZERO),
            diameter: t.size("diameter"),
            slit: t.length("slit"),
            pitch: t.length_where("pitch", count.value > 1),
            count,
            meets,
        }
    }
}

/// Slots along the strap, for straps that pass through and for adjustment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Slot {
    /// Where the middle is placed from.
    pub from: DatumRef,
    /// How far past it.
    pub by: Spanned<Length>,
    /// Over all, along the strap.
    pub length: Spanned<Length>,
    /// Across, which is the diameter of its ends.
    pub width: Spanned<Length>,
    /// Side by side.
    pub rows: Rows,
}

impl Slot {
    pub(super) fn read(t: &Section<'_, '_>) -> Self {
        let (length, width) = (t.size("length"), t.size("width"));
        Self {
            from: t.place(),
            by: t.length_or("by", Length::ZERO),
            length,
            width,
            rows: Rows::read(t),
        }
    }
}

/// A snap: a cap, and one or more places for its post.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Snap {
    /// Where the cap is placed from.
    pub from: DatumRef,
    /// How far past it.
    pub by: Spanned<Length>,
    /// Where the first post is placed from.
    pub to: DatumRef,
    /// How far past that.
    pub to_by: Spanned<Length>,
    /// How many places the post has: one for each size.
    pub posts: Spanned<u32>,
    /// From post to post; negative toward the start.
    pub pitch: Spanned<Length>,
    /// Hole for the cap.
    pub cap_diameter: Spanned<Length>,
    /// Hole for the post.
    pub post_diameter: Spanned<Length>,
    /// Side by side.
    pub rows: Rows,
    /// The snaps.
    pub sets: Option<HardwareId>,
}

impl Snap {
    pub(super) fn read(t: &Section<'_, '_>, names: &Names<'_>) -> Self {
        let posts = t.count_or("posts", 1);
        let sets = names.set(t, |kind| matches!(kind, HardwareKind::Snap { .. }));
        let cap = match sets.map(|id| &names.spec(id).kind) {
            Some(HardwareKind::Snap { cap, .. })
                if names.takes_hole(t, "cap-diameter") =>
            {
                cap.clone()
            }
            _ => t.size("cap-diameter"),
        };
        Self {
            from: t.datum("from"),
            by: t.length_or("by", Length::ZERO),
            to: t.datum("to"),
            to_by: t.length_or("to-by", Length::ZERO),
            pitch: t.length_where("pitch", posts.value > 1),
            posts,
            cap_diameter: cap,
            post_diameter: set_diameter(t, "post-diameter", names, sets),
            rows: Rows::read(t),
            sets,
        }
    }
}
