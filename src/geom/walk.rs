//! Along a path: how long its steps are, where the way along one of them leads, and its
//! corners.

use super::turn::Turn;
use super::{Extent, Length, Path, Point, Segment, Step, Vector};

/// Sine of the angle, as a part of a thousand, from which on a bend in a path is a corner:
/// about six degrees.
const CORNER: i128 = 100;

impl<S: Copy> Segment<S> {
    /// How long it is, along its curve.
    pub fn length(self) -> Length {
        match self.step {
            Step::Line { to } => (to - self.from).norm(),
            Step::Arc { to, centre, clockwise } => {
                let out = self.from - centre;
                Turn::between(out, to - centre, clockwise).of(out.norm())
            }
        }
    }

    /// The place `n` / `d` of the way along it, to the nanometre.
    pub fn part(self, n: i64, d: i64) -> Point<S> {
        let from = self.from;
        match self.step {
            Step::Line { to } => Point::new(
                from.x + (to.x - from.x).times(n, d),
                from.y + (to.y - from.y).times(n, d),
            ),
            Step::Arc { to, centre, clockwise } => {
                let whole = Turn::between(from - centre, to - centre, clockwise);
                whole.part(n, d).turn(from, centre, clockwise)
            }
        }
    }

    /// The directions in which it sets out and arrives.
    pub fn directions(self) -> (Vector<S>, Vector<S>) {
        match self.step {
            Step::Line { to } => (to - self.from, to - self.from),
            Step::Arc { to, centre, clockwise } => {
                let along = |p: Point<S>| {
                    let out = p - centre;
                    if clockwise {
                        Vector::new(out.y, -out.x)
                    } else {
                        Vector::new(-out.y, out.x)
                    }
                };
                (along(self.from), along(to))
            }
        }
    }

    /// Its stretch along y, for arcs of at most half a turn.
    fn y_extent(self) -> Extent {
        let (from, to) = (self.from, self.step.to());
        let ends = Extent::new(from.y, to.y);
        let Step::Arc { centre, .. } = self.step else { return ends };
        let along = Extent::new(from.x, to.x);
        if centre.x <= along.from || along.to <= centre.x {
            return ends;
        }
        let radius = (from - centre).norm();
        if self.part(1, 2).y > centre.y {
            Extent { to: ends.to.max(centre.y + radius), ..ends }
        } else {
            Extent { from: ends.from.min(centre.y - radius), ..ends }
        }
    }
}

/// Whether a path that arrives in direction `a` and goes on in direction `b` has a corner
/// between them.
pub(super) fn is_corner<S: Copy>(a: Vector<S>, b: Vector<S>) -> bool {
    // Cut to 30 bits: a thousandth of the angle is all that is asked.
    let scaled = |v: Vector<S>| {
        let (x, y) = (i128::from(v.x.nm()), i128::from(v.y.nm()));
        let longest = x.abs().max(y.abs()).max(1);
        ((x << 30) / longest, (y << 30) / longest)
    };
    let (a, b) = (scaled(a), scaled(b));
    let (dot, across) = (a.0 * b.0 + a.1 * b.1, a.0 * b.1 - a.1 * b.0);
    let square = (a.0 * a.0 + a.1 * a.1) >> 30;
    let other = (b.0 * b.0 + b.1 * b.1) >> 30;
    let norms = (square * other).isqrt() << 30;
    dot <= 0 || across.abs() * 1_000 > norms * CORNER
}

impl<S: Copy> Path<S> {
    /// Its stretch along y, for arcs of at most half a turn.
    pub fn y_extent(&self) -> Extent {
        let start = Extent { from: self.start.y, to: self.start.y };
        self.segments().into_iter().map(Segment::y_extent).fold(start, |all, own| {
            Extent { from: all.from.min(own.from), to: all.to.max(own.to) }
        })
    }

    /// The path cut at its corners: smooth runs of segments, each with its length. A closed
    /// path without a corner is one run.
    pub fn runs(&self) -> Vec<Vec<Segment<S>>> {
        let mut runs: Vec<Vec<Segment<S>>> = Vec::new();
        for segment in self.segments() {
            if segment.length() <= Length::from_um(1) {
                continue;
            }
            let goes_on = runs.last().and_then(|r| r.last()).is_some_and(|last| {
                !is_corner(last.directions().1, segment.directions().0)
            });
            match runs.last_mut() {
                Some(run) if goes_on => run.push(segment),
                _ => runs.push(vec![segment]),
            }
        }
        // The start of a closed path need not be a corner.
        if self.closed && runs.len() > 1 {
            let ends = (runs.last().and_then(|r| r.last()), runs[0].first());
            let smooth = matches!(ends, (Some(last), Some(first))
                if !is_corner(last.directions().1, first.directions().0));
            if smooth && let Some(mut last) = runs.pop() {
                last.append(&mut runs[0]);
                runs[0] = last;
            }
        }
        runs
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::{Strap, circumference};

    fn at(x: i64, y: i64) -> Point<Strap> {
        Point::new(Length::from_mm(x), Length::from_mm(y))
    }

    #[test]
    fn a_slot_is_one_smooth_run_and_a_box_is_four() {
        let slot = Path::slot(at(0, 0), Length::from_mm(30), Length::from_mm(10));
        let runs = slot.runs();
        assert_eq!(runs.len(), 1);
        let length: Length = runs[0].iter().map(|s| s.length()).sum();
        let wanted = Length::from_mm(40) + circumference(Length::from_mm(10));
        assert!((length - wanted).abs() <= Length::from_nm(2), "{length}");
        let corners = Path::rectangle(at(0, 0), at(30, 10)).runs();
        assert_eq!(corners.len(), 4);
        assert_eq!(corners[1][0].part(2, 5), at(30, 4));
    }

    #[test]
    fn half_way_along_an_arc_is_its_top() {
        let arc = Path::from(at(5, 0)).arc_to(at(-5, 0), at(0, 0), false);
        assert_eq!(arc.segments()[0].part(1, 2), at(0, 5));
    }
}
