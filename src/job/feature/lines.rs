//! Keys of what runs along the piece: stitching, creases, changes of width, and what is
//! written or marked out on it.

use super::{Section, Spanned};
use crate::geom::Length;
use crate::job::DatumRef;

/// Where a line of stitching or a crease runs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Course {
    /// All round the outline.
    Outline,
    /// Along both long edges, from here to there.
    Edges(Between),
    /// A box: along both edges and across, from here to there.
    Box(Between),
    /// One line beside the centre line, from here to there.
    Line(Between, Spanned<Length>),
}

/// A stretch of the piece between two datums.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Between {
    /// Where it begins.
    pub from: DatumRef,
    /// How far past that.
    pub by: Spanned<Length>,
    /// Where it ends.
    pub to: DatumRef,
    /// How far past that.
    pub to_by: Spanned<Length>,
}

impl Between {
    fn read(t: &Section<'_, '_>) -> Self {
        Self {
            from: t.datum("from"),
            by: t.length_or("by", Length::ZERO),
            to: t.datum("to"),
            to_by: t.length_or("to-by", Length::ZERO),
        }
    }
}

type ReadCourse = fn(&Section<'_, '_>) -> Course;

impl Course {
    fn read(t: &Section<'_, '_>) -> Self {
        let words: [(&str, ReadCourse); 4] = [
            ("outline", |_| Self::Outline),
            ("edges", |t| Self::Edges(Between::read(t))),
            ("box", |t| Self::Box(Between::read(t))),
            ("line", |t| {
                Self::Line(Between::read(t), t.length_or("across", Length::ZERO))
            }),
        ];
        t.choice("along", &words).map_or(Self::Outline, |read| (read.value)(t))
    }

    fn inset(&self, t: &Section<'_, '_>) -> Spanned<Length> {
        match self {
            Self::Line(..) => Spanned::without_span(Length::ZERO),
            _ => t.size("inset"),
        }
    }
}

/// A line of holes for stitching, pricked beforehand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stitch {
    /// Where it runs.
    pub course: Course,
    /// From the edge to the line.
    pub inset: Spanned<Length>,
    /// From hole to hole; it is divided evenly, so that ends and corners get a hole.
    pub pitch: Spanned<Length>,
    /// A hole across.
    pub diameter: Spanned<Length>,
}

impl Stitch {
    pub(super) fn read(t: &Section<'_, '_>) -> Self {
        let course = Course::read(t);
        Self {
            inset: course.inset(t),
            course,
            pitch: t.size("pitch"),
            diameter: t.size("diameter"),
        }
    }
}

/// A line that is creased into the leather, not punched.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Crease {
    /// Where it runs.
    pub course: Course,
    /// From the edge to the line.
    pub inset: Spanned<Length>,
}

impl Crease {
    pub(super) fn read(t: &Section<'_, '_>) -> Self {
        let course = Course::read(t);
        Self { inset: course.inset(t), course }
    }
}

/// How a change of width joins the straight edges.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Join {
    /// Two arcs, each tangent to an edge and to the other.
    Smooth,
    /// A straight line.
    Straight,
}

/// A change of width, even on both edges, from here to there; the width before it is that
/// of the piece or of the change before it. Two of them make a neck or a swell.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Taper {
    /// Where.
    pub between: Between,
    /// The width past it.
    pub width: Spanned<Length>,
    /// How it joins.
    pub join: Join,
}

impl Taper {
    pub(super) fn read(t: &Section<'_, '_>) -> Self {
        let joins = [("smooth", Join::Smooth), ("straight", Join::Straight)];
        Self {
            between: Between::read(t),
            width: t.size("width"),
            join: t.choice_or("join", &joins, Join::Smooth),
        }
    }
}

/// Words on the piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Words {
    /// Where their middle is placed from.
    pub from: DatumRef,
    /// How far past it.
    pub by: Spanned<Length>,
    /// How far their middle lies from the centre line, upward.
    pub across: Spanned<Length>,
    /// What they say.
    pub text: Spanned<String>,
    /// Size of the type.
    pub size: Spanned<Length>,
}

impl Words {
    pub(super) fn read(t: &Section<'_, '_>) -> Self {
        Self {
            from: t.place(),
            by: t.length_or("by", Length::ZERO),
            across: t.length_or("across", Length::ZERO),
            text: t.text("text"),
            size: t.size_or("size", &Spanned::without_span(Length::from_mm(4))),
        }
    }
}

/// A box for the maker's mark or another stamp.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stamp {
    /// Where its middle is placed from.
    pub from: DatumRef,
    /// How far past it.
    pub by: Spanned<Length>,
    /// How far its middle lies from the centre line, upward.
    pub across: Spanned<Length>,
    /// Along the strap.
    pub length: Spanned<Length>,
    /// Across the strap.
    pub width: Spanned<Length>,
    /// What stands in it; may be empty.
    pub text: Spanned<String>,
}

impl Stamp {
    pub(super) fn read(t: &Section<'_, '_>) -> Self {
        Self {
            from: t.place(),
            by: t.length_or("by", Length::ZERO),
            across: t.length_or("across", Length::ZERO),
            length: t.size("length"),
            width: t.size("width"),
            text: t.text("text"),
        }
    }
}
