//! Keys of what is punched or slit.

use super::rows::set_diameter;
use super::{Between, HardwareId, Rows, Section, Spanned, Target};
use crate::geom::Length;
use crate::input::worded;
use crate::job::section::table;
use crate::job::{HardwareKind, Place};

/// A hole, round or longer along the strap.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hole {
    /// Diameter, across the strap.
    pub diameter: Spanned<Length>,
    /// Over-all length of an oval hole.
    pub oval: Option<Spanned<Length>>,
}

impl Hole {
    /// The forms of a hole: whether it is oval.
    const SHAPES: [(&str, bool); 2] = [("round", false), ("oval", true)];

    fn new(
        t: &Section<'_, '_>,
        diameter: Spanned<Length>,
        length: Spanned<Length>,
        is_oval: bool,
    ) -> Self {
        if is_oval {
            t.no_shorter_than_wide(["oval-length", "diameter"], &length, &diameter);
        }
        Self { diameter, oval: is_oval.then_some(length) }
    }
}

table! {
    /// A row of size holes about a datum.
    pub struct HoleRow(t, names) with {
        let buckle = names.buckle().map(Target::Hardware);
        let (diameter, length) = (t.size("diameter"), t.size("oval-length"));
        let is_oval = t.choice("shape", &Hole::SHAPES).is_some_and(|s| s.value);
        let hole = Hole::new(t, diameter, length, is_oval);
    } {
        /// Where the size hole is.
        at: Place = Place { from: t.datum("from"), by: t.length("by") },
        /// Holes toward the buckle, for a smaller girth.
        inside: Spanned<u32> = t.count("inside"),
        /// Holes toward the tip, for a larger girth.
        outside: Spanned<u32> = t.count("outside"),
        /// From hole to hole.
        pitch: Spanned<Length> = t.size("pitch"),
        /// Each of them.
        hole: Hole = hole,
        /// One row for each tongue.
        rows: Rows = Rows::read(t),
        /// What they close on; where nothing is said, the strap's buckle.
        meets: Option<Target> = names.target(t).or(buckle),
    }
}

worded! {
    /// What a row of holes is for.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum Use {
        /// A plain hole.
        Hole = "hole",
        /// A hole that gets an eyelet.
        Eyelet = "eyelet",
        /// A rivet, screw post or stud.
        Fastener = "fastener",
        /// A slot that is cut.
        Slot = "slot",
        /// A prick hole for thread or a staple.
        Stitch = "stitch",
    }
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
        /// Where the last is.
        to: Place,
        /// How many.
        count: Spanned<u32>,
    },
    /// As many from the first to this place as make them at most a pitch apart.
    AtMost {
        /// Where the last is.
        to: Place,
        /// The greatest pitch.
        pitch: Spanned<Length>,
    },
    /// One at each of these places past the datum, as they were measured.
    Places(Vec<Spanned<Length>>),
}

table! {
    /// A row of holes that is placed from its first one.
    pub struct Row(t, names) with {
        let holds = names.held(t);
        let usage = t.choice_or("use", &Use::WORDS, Use::Hole);
        let sets = match usage {
            Use::Eyelet => {
                names.set(t, |kind| matches!(kind, HardwareKind::Eyelet { .. }))
            }
            Use::Fastener => names.fastener(t),
            // The posts of the row that they meet go through them.
            Use::Hole if t.has("meets") => names.fastener(t),
            Use::Hole | Use::Slot | Use::Stitch => None,
        };
        let run = RowCount::read(t);
        let is_oval = t.choice_or("shape", &Hole::SHAPES, false);
        let diameter = set_diameter(t, "diameter", names, sets);
        let hole = Hole::new(t, diameter, t.size_where("oval-length", is_oval), is_oval);
    } {
        /// Where the first is.
        at: Place = t.past(t.place(), "by"),
        /// How it goes on.
        run: RowCount = run,
        /// What it is for.
        usage: Use = usage,
        /// Each of them.
        hole: Hole = hole,
        /// Side by side.
        rows: Rows = Rows::read(t),
        /// How many layers of the strap a fastener holds; where nothing is said, one, or the
        /// two of a fold that its marks are mirrored in.
        layers: Option<Spanned<u32>> = t.positive_count_if("layers"),
        /// The ring that the fasteners shut in.
        holds: Option<HardwareId> = holds,
        /// What they close on.
        meets: Option<Target> = names.target(t),
        /// What is set in them.
        sets: Option<HardwareId> = sets,
    }
}

impl RowCount {
    fn read(t: &Section<'_, '_>) -> Self {
        match (t.datum_if("to"), t.has("count")) {
            (None, has_count) if t.has_lengths("places") => {
                if has_count {
                    t.clash("places", "count");
                }
                Self::Places(t.lengths_if("places").unwrap_or_default())
            }
            (None, _) => {
                let count = t.count("count");
                let pitch = t.length_where("pitch", count.value > 1);
                Self::Pitch { count, pitch }
            }
            (Some(to), true) => {
                Self::To { to: t.past(to, "to-by"), count: t.count("count") }
            }
            (Some(to), false) => {
                Self::AtMost { to: t.past(to, "to-by"), pitch: t.size("pitch") }
            }
        }
    }
}

table! {
    /// A knife slit along the strap with a hole at its one end: for a strap button or a stud.
    pub struct ButtonHole(t, names) with {
        let count = t.count_or("count", 1);
        let meets = names.target(t);
    } {
        /// Where the middle of the hole is.
        at: Place = t.past(t.datum("from"), "by"),
        /// Hole across: the button's neck.
        diameter: Spanned<Length> = t.size("diameter"),
        /// Slit from the hole's rim to its end; negative toward the start.
        slit: Spanned<Length> = t.length("slit"),
        /// From one to the next.
        pitch: Spanned<Length> = t.length_where("pitch", count.value > 1),
        /// How many there are.
        count: Spanned<u32> = count,
        /// The stud or button that they close on.
        meets: Option<Target> = meets,
    }
}

table! {
    /// Slots along the strap, for straps that pass through and for adjustment.
    pub struct Slot(t) {
        /// Over all, along the strap.
        length: Spanned<Length> = t.size("length"),
        /// Across, which is the diameter of its ends.
        width: Spanned<Length> = t.size("width"),
        /// Where the middle is.
        at: Place = t.past(t.place(), "by"),
        /// Side by side.
        rows: Rows = Rows::read(t),
    }
}

table! {
    /// A snap: a cap, and one or more places for its post.
    pub struct Snap(t, names) with {
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
    } {
        /// Where the cap is, and where the first post is.
        at: Between = Between::read(t),
        /// From post to post; negative toward the start.
        pitch: Spanned<Length> = t.length_where("pitch", posts.value > 1),
        /// How many places the post has: one for each size.
        posts: Spanned<u32> = posts,
        /// Hole for the cap.
        cap_diameter: Spanned<Length> = cap,
        /// Hole for the post.
        post_diameter: Spanned<Length> = set_diameter(t, "post-diameter", names, sets),
        /// Side by side.
        rows: Rows = Rows::read(t),
        /// The snaps.
        sets: Option<HardwareId> = sets,
    }
}
