//! Paths as they are drawn, and as they are kept.

use super::file::Layer;
use super::plane::{Matrix, Spot};

/// What a stroke is made with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::verify) struct Pen {
    pub(in crate::verify) layer: Layer,
    /// In mm.
    pub(in crate::verify) width: f64,
    pub(in crate::verify) dashed: bool,
}

impl Pen {
    fn placed(self, by: Matrix) -> Self {
        Self { width: self.width * libm::sqrt(by.area().abs()), ..self }
    }
}

/// A straight stroke from one place to another, and nothing more.
#[derive(Clone, Copy, Debug)]
pub(in crate::verify) struct Line {
    pub(in crate::verify) from: Spot,
    pub(in crate::verify) to: Spot,
    pub(in crate::verify) pen: Pen,
}

/// One step of a path.
#[derive(Clone, Copy, Debug)]
pub(in crate::verify) enum Step {
    Line(Spot),
    Curve(Spot, Spot, Spot),
}

impl Step {
    pub(in crate::verify) fn to(self) -> Spot {
        match self {
            Self::Line(to) | Self::Curve(_, _, to) => to,
        }
    }

    fn placed(self, by: Matrix) -> Self {
        match self {
            Self::Line(to) => Self::Line(by.place(to)),
            Self::Curve(a, b, to) => Self::Curve(by.place(a), by.place(b), by.place(to)),
        }
    }

    /// Where the step from `from` is after `part` of it, from 0 to 1.
    pub(in crate::verify) fn at(self, from: Spot, part: f64) -> Spot {
        let rest = 1.0 - part;
        match self {
            Self::Line(to) => from * rest + to * part,
            Self::Curve(a, b, to) => {
                from * (rest * rest * rest)
                    + a * (3.0 * rest * rest * part)
                    + b * (3.0 * rest * part * part)
                    + to * (part * part * part)
            }
        }
    }
}

/// A stroke of any other form.
#[derive(Clone, Debug)]
pub(in crate::verify) struct Path {
    pub(in crate::verify) start: Spot,
    /// One at least.
    pub(in crate::verify) steps: Vec<Step>,
    pub(in crate::verify) closed: bool,
    pub(in crate::verify) pen: Pen,
}

impl Path {
    pub(in crate::verify) fn placed(&self, by: Matrix) -> Self {
        Self {
            start: by.place(self.start),
            steps: self.steps.iter().map(|s| s.placed(by)).collect(),
            closed: self.closed,
            pen: self.pen.placed(by),
        }
    }

    /// Every step with where it starts; a closing line too if there is a way to close.
    pub(in crate::verify) fn segments(&self) -> impl Iterator<Item = (Spot, Step)> + '_ {
        let starts = std::iter::once(self.start).chain(self.steps.iter().map(|s| s.to()));
        let end = self.steps.last().map_or(self.start, |s| s.to());
        let last = (self.closed && end.far(self.start) > 1e-4)
            .then_some((end, Step::Line(self.start)));
        starts.zip(self.steps.iter().copied()).chain(last)
    }
}

impl Line {
    pub(in crate::verify) fn placed(&self, by: Matrix) -> Self {
        Self {
            from: by.place(self.from),
            to: by.place(self.to),
            pen: self.pen.placed(by),
        }
    }
}

/// The path that a content stream is about to paint.
#[derive(Debug, Default)]
pub(super) struct Growing {
    start: Spot,
    steps: Vec<Step>,
    closed: bool,
    done: Vec<(Spot, Vec<Step>, bool)>,
    lines: Vec<(Spot, Spot)>,
}

impl Growing {
    pub(super) fn here(&self) -> Spot {
        let open = self.steps.last().filter(|_| !self.closed);
        open.map_or(self.start, |s| s.to())
    }

    pub(super) fn move_to(&mut self, to: Spot) {
        self.finish();
        self.start = to;
    }

    pub(super) fn step(&mut self, step: Step) {
        if self.closed {
            let start = self.start;
            self.finish();
            self.start = start;
        }
        self.steps.push(step);
    }

    pub(super) fn close(&mut self) {
        self.closed = !self.steps.is_empty();
    }

    fn finish(&mut self) {
        match self.steps.as_slice() {
            [] => {}
            [Step::Line(to)] if !self.closed => {
                self.lines.push((self.start, *to));
                self.steps.clear();
            }
            _ => {
                self.done.push((
                    self.start,
                    std::mem::take(&mut self.steps),
                    self.closed,
                ));
            }
        }
        self.closed = false;
    }

    /// Hands over what was stroked, `pen` and all, and begins anew.
    pub(super) fn stroke(
        &mut self,
        pen: Pen,
        lines: &mut Vec<Line>,
        paths: &mut Vec<Path>,
    ) {
        self.finish();
        let sane = |p: &Spot| p.is_sane();
        let drawn = self.lines.drain(..).filter(|(from, to)| sane(from) && sane(to));
        lines.extend(drawn.map(|(from, to)| Line { from, to, pen }));
        for (start, steps, closed) in self.done.drain(..) {
            if sane(&start) && steps.iter().all(|s| sane(&s.to())) {
                paths.push(Path { start, steps, closed, pen });
            }
        }
    }

    /// Forgets the path: it is filled, or only clips.
    pub(super) fn drop_all(&mut self) {
        self.steps.clear();
        self.lines.clear();
        self.done.clear();
        self.closed = false;
    }
}
