//! Outlines of lines and circular arcs.

use super::{Extent, Length, Placement, Point, Sheet, Strap};

/// One step of a path, from where the step before it ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
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
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
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

    /// A slot with half-round ends: `length` over all along x, `width` across.
    pub fn slot(centre: Point<S>, length: Length, width: Length) -> Self {
        let r = width / 2;
        let half = length / 2 - r;
        let (right, left) = (centre.x + half, centre.x - half);
        let (top, bottom) = (centre.y + r, centre.y - r);
        Self::from(Point::new(left, bottom))
            .line_to(Point::new(right, bottom))
            .arc_to(Point::new(right, top), Point::new(right, centre.y), false)
            .line_to(Point::new(left, top))
            .arc_to(Point::new(left, bottom), Point::new(left, centre.y), false)
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
        let mut from = self.start;
        let mut all = Vec::with_capacity(self.steps.len() + 1);
        for &step in &self.steps {
            all.push(Segment { from, step });
            from = step.to();
        }
        let back = self.start;
        if self.closed && (from.x != back.x || from.y != back.y) {
            all.push(Segment { from, step: Step::Line { to: back } });
        }
        all
    }
}

impl Path<Strap> {
    /// The same path on the sheet.
    pub fn placed(&self, placement: Placement) -> Path<Sheet> {
        let steps = self.steps.iter().map(|&s| match s {
            Step::Line { to } => Step::Line { to: placement.apply(to) },
            Step::Arc { to, centre, clockwise } => Step::Arc {
                to: placement.apply(to),
                centre: placement.apply(centre),
                clockwise,
            },
        });
        Path {
            start: placement.apply(self.start),
            steps: steps.collect(),
            closed: self.closed,
        }
    }
}

impl<S: Copy> Path<S> {
    /// Its stretch along x, by the ends of its steps: exact for straight steps and for
    /// arcs that have their widest points at their ends.
    pub fn x_extent(&self) -> Extent {
        let mut extent = Extent { from: self.start.x, to: self.start.x };
        for step in &self.steps {
            extent.from = extent.from.min(step.to().x);
            extent.to = extent.to.max(step.to().x);
        }
        extent
    }
}
