//! Outlines of lines and circular arcs.

use super::{Extent, Length, Placement, Point, Sheet, Strap};
use serde::Serialize;

/// One step of a path, from where the step before it ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub enum Step<S> {
    /// A straight line.
    Line {
        /// Where it ends.
        to: Point<S>,
    },
    /// A circular arc of at most half a turn.
    Arc {
        /// Where it ends.
        to: Point<S>,
        /// The circle's centre, to the nanometre.
        centre: Point<S>,
        /// Whether it runs clockwise, with y upward.
        clockwise: bool,
    },
}

impl<S: Copy> Step<S> {
    /// Where the step ends.
    pub fn to(self) -> Point<S> {
        match self {
            Self::Line { to } | Self::Arc { to, .. } => to,
        }
    }

    /// The same line, or an arc about the same centre, to another end.
    pub(super) fn ending_at(self, to: Point<S>) -> Self {
        match self {
            Self::Line { .. } => Self::Line { to },
            Self::Arc { centre, clockwise, .. } => Self::Arc { to, centre, clockwise },
        }
    }
}

/// One step together with where it starts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Segment<S> {
    /// Where it starts.
    pub from: Point<S>,
    /// The step.
    pub step: Step<S>,
}

/// A run of lines and arcs; true curves, not chords.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Path<S> {
    /// Where it starts.
    pub start: Point<S>,
    /// The steps in order.
    pub steps: Vec<Step<S>>,
    /// Whether a line leads back from the last step to the start.
    pub closed: bool,
}

impl<S: Copy> Path<S> {
    /// A path that starts at `start` and goes nowhere yet.
    pub fn from(start: Point<S>) -> Self {
        Self { start, steps: Vec::new(), closed: false }
    }

    /// The straight line between two points.
    pub fn line(a: Point<S>, b: Point<S>) -> Self {
        Self::from(a).line_to(b)
    }

    /// The rectangle with these corners.
    pub fn rectangle(a: Point<S>, b: Point<S>) -> Self {
        Self::from(a)
            .line_to(Point::new(b.x, a.y))
            .line_to(b)
            .line_to(Point::new(a.x, b.y))
            .close()
    }

    /// The circle about `centre`, as two half turns counter-clockwise.
    pub fn circle(centre: Point<S>, radius: Length) -> Self {
        let right = Point::new(centre.x + radius, centre.y);
        let left = Point::new(centre.x - radius, centre.y);
        Self::from(right).arc_to(left, centre, false).arc_to(right, centre, false).close()
    }

    /// A slot with half-round ends: `length` over all along x, `width` along y, whichever is
    /// the longer.
    pub fn slot(centre: Point<S>, length: Length, width: Length) -> Self {
        if width > length {
            let across = Self::slot(centre, width, length);
            let turned = |p: Point<S>| {
                let (x, y) = (p.x - centre.x, p.y - centre.y);
                Point::new(centre.x - y, centre.y + x)
            };
            return across.map(turned, false);
        }
        let r = width / 2;
        let half = length / 2 - r;
        let at = |x, y| Point::new(centre.x + x, centre.y + y);
        Self::from(at(-half, -r))
            .line_to(at(half, -r))
            .arc_to(at(half, r), at(half, Length::ZERO), false)
            .line_to(at(-half, r))
            .arc_to(at(-half, -r), at(-half, Length::ZERO), false)
            .close()
    }

    /// Goes on in a straight line.
    #[must_use]
    pub fn line_to(mut self, to: Point<S>) -> Self {
        self.steps.push(Step::Line { to });
        self
    }

    /// Goes on in an arc.
    #[must_use]
    pub fn arc_to(mut self, to: Point<S>, centre: Point<S>, clockwise: bool) -> Self {
        self.steps.push(Step::Arc { to, centre, clockwise });
        self
    }

    /// Closes the path with a straight line to its start.
    #[must_use]
    pub fn close(mut self) -> Self {
        self.closed = true;
        self
    }

    /// Where it ends, not counting the closing line.
    pub fn end(&self) -> Point<S> {
        self.steps.last().map_or(self.start, |s| s.to())
    }

    /// Every step with its start; the closing line too where it has a length.
    pub fn segments(&self) -> Vec<Segment<S>> {
        let (mut from, end) = (self.start, self.end());
        let is_open = (end.x, end.y) != (from.x, from.y);
        let closing = (self.closed && is_open).then_some(Step::Line { to: from });
        let segment = |step: Step<S>| Segment {
            from: std::mem::replace(&mut from, step.to()),
            step,
        };
        self.steps.iter().copied().chain(closing).map(segment).collect()
    }

    /// Its stretch along x, by the ends of its steps: exact for lines, and for arcs whose
    /// widest points are their ends.
    pub fn x_extent(&self) -> Extent {
        let at = |p: Point<S>| Extent::new(p.x, p.x);
        self.steps.iter().map(|s| at(s.to())).fold(at(self.start), Extent::union)
    }

    /// The path with every point moved by `point`: a rotation and a shift, or a reflection
    /// if `reflects`, which changes the sense of every arc.
    pub(crate) fn map<T>(
        &self,
        point: impl Fn(Point<S>) -> Point<T>,
        reflects: bool,
    ) -> Path<T> {
        let steps = self.steps.iter().map(|&step| match step {
            Step::Line { to } => Step::Line { to: point(to) },
            Step::Arc { to, centre, clockwise } => Step::Arc {
                to: point(to),
                centre: point(centre),
                clockwise: clockwise != reflects,
            },
        });
        let steps = steps.collect();
        Path { start: point(self.start), steps, closed: self.closed }
    }
}

impl Path<Strap> {
    /// The same path on the sheet.
    pub fn placed(&self, placement: Placement) -> Path<Sheet> {
        self.map(|p| placement.apply(p), false)
    }
}
