//! Keys of what runs along the piece: stitching, creases, changes of width, and what is
//! written or marked out on it.

use super::{Section, Spanned};
use crate::geom::Length;
use crate::input::worded;
use crate::job::Place;
use crate::job::section::table;

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

table! {
    /// A stretch of the piece between two places.
    pub struct Between(t) {
        /// Where it begins.
        from: Place = t.past(t.datum("from"), "by"),
        /// Where it ends.
        to: Place = t.past(t.datum("to"), "to-by"),
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

table! {
    /// A line of holes for stitching, pricked beforehand.
    pub struct Stitch(t) with {
        let course = Course::read(t);
    } {
        /// From the edge to the line.
        inset: Spanned<Length> = course.inset(t),
        /// Where it runs.
        course: Course = course,
        /// From hole to hole; it is divided evenly, so that ends and corners get a hole.
        pitch: Spanned<Length> = t.size("pitch"),
        /// A hole across.
        diameter: Spanned<Length> = t.size("diameter"),
    }
}

table! {
    /// A line that is creased into the leather, not punched.
    pub struct Crease(t) with {
        let course = Course::read(t);
    } {
        /// From the edge to the line.
        inset: Spanned<Length> = course.inset(t),
        /// Where it runs.
        course: Course = course,
    }
}

worded! {
    /// How a change of width joins the straight edges.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum Join {
        /// Two arcs, each tangent to an edge and to the other.
        Smooth = "smooth",
        /// A straight line.
        Straight = "straight",
    }
}

table! {
    /// A change of width, even on both edges, from here to there; the width before it is that
    /// of the piece or of the change before it. Two of them make a neck or a swell.
    pub struct Taper(t) {
        /// Where.
        between: Between = Between::read(t),
        /// The width past it.
        width: Spanned<Length> = t.size("width"),
        /// How it joins.
        join: Join = t.choice_or("join", &Join::WORDS, Join::Smooth),
    }
}

table! {
    /// Words on the piece.
    pub struct Words(t) {
        /// Where their middle is.
        at: Place = t.past(t.place(), "by"),
        /// How far their middle lies from the centre line, upward.
        across: Spanned<Length> = t.length_or("across", Length::ZERO),
        /// What they say.
        text: Spanned<String> = t.text("text"),
        /// Size of the type.
        size: Spanned<Length> = t.size_or("size", &Spanned::without_span(Length::from_mm(4))),
    }
}

table! {
    /// A box for the maker's mark or another stamp.
    pub struct Stamp(t) {
        /// Where its middle is.
        at: Place = t.past(t.place(), "by"),
        /// How far its middle lies from the centre line, upward.
        across: Spanned<Length> = t.length_or("across", Length::ZERO),
        /// Along the strap.
        length: Spanned<Length> = t.size("length"),
        /// Across the strap.
        width: Spanned<Length> = t.size("width"),
        /// What stands in it; may be empty.
        text: Spanned<String> = t.text("text"),
    }
}
