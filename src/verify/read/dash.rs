//! Dashed lines (ISO 32000-1:2008, 8.4.3.6), and what those show whose dashes are shorter
//! than the line is wide: a row of strokes across it.

use super::paths::{Line, Pen};
use super::plane::{Matrix, Spot};
use std::rc::Rc;

/// Dash and gap in turn, in units of the content.
#[derive(Clone, Debug)]
pub(super) struct Dashes {
    /// Of even number, of a sum above zero.
    lengths: Rc<[f64]>,
    sum: f64,
    /// How far into them a line begins.
    phase: f64,
}

impl Dashes {
    /// What an array of lengths and a phase say; `None` for a continuous line, which an
    /// array without gaps also is.
    pub(super) fn of(mut lengths: Vec<f64>, phase: f64) -> Option<Self> {
        if lengths.len() % 2 == 1 {
            // The second time round, dashes are gaps.
            lengths.extend_from_within(..);
        }
        let sum: f64 = lengths.iter().sum();
        let is_sound = lengths.iter().all(|n| *n >= 0.0) && sum > 0.0 && sum.is_finite();
        let has_gaps = lengths.iter().skip(1).step_by(2).any(|gap| *gap > 0.0);
        (is_sound && has_gaps && phase.is_finite()).then(|| Self {
            lengths: lengths.into(),
            sum,
            phase,
        })
    }

    /// Whether every dash is shorter than a line of this width is wide.
    pub(super) fn are_bars(&self, width: f64) -> bool {
        self.lengths.iter().step_by(2).all(|dash| *dash < width)
    }

    /// Middle and length of each dash that a line of length `long` shows, from its start.
    fn shown(&self, long: f64) -> impl Iterator<Item = (f64, f64)> + '_ {
        let first = -self.phase.rem_euclid(self.sum);
        let starts = (0_u32..).map(move |n| first + f64::from(n) * self.sum);
        starts.take_while(move |start| *start < long).flat_map(move |start| {
            let mut at = start;
            self.lengths.chunks_exact(2).filter_map(move |pair| {
                let (from, to) = (at.max(0.0), (at + pair[0]).min(long));
                at += pair[0] + pair[1];
                (to > from).then(|| (f64::midpoint(from, to), to - from))
            })
        })
    }

    /// How many dashes `line` has at most, which is as it is placed by `matrix`.
    pub(super) fn count(&self, line: &Line, matrix: Matrix) -> usize {
        let long = Straight::of(line, matrix).map_or(0.0, |s| s.long);
        let rounds = (long / self.sum).min(1e9) + 2.0;
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a number from 2 to 1e9"
        )]
        let rounds = rounds as usize;
        rounds.saturating_mul(self.lengths.len() / 2)
    }

    /// The strokes across `line`, which is as it is placed by `matrix` and `width` wide
    /// before that: each as long as the line is wide, and as wide as its dash is long.
    pub(super) fn bars(
        &self,
        line: Line,
        width: f64,
        matrix: Matrix,
    ) -> impl Iterator<Item = Line> {
        let straight = Straight::of(&line, matrix);
        straight.into_iter().flat_map(move |Straight { along, long }| {
            let half = matrix.way(Spot::new(-along.y, along.x) * (width / 2.0));
            let along = matrix.way(along);
            let thick = along.norm();
            self.shown(long).map(move |(middle, dash)| {
                let middle = line.from + along * middle;
                let pen = Pen { width: dash * thick, dashed: false, ..line.pen };
                Line { from: middle - half, to: middle + half, pen }
            })
        })
    }
}

/// A line before it is placed: the way that it goes, one long, and how far.
struct Straight {
    along: Spot,
    long: f64,
}

impl Straight {
    fn of(line: &Line, matrix: Matrix) -> Option<Self> {
        let way = matrix.inverse()?.way(line.to - line.from);
        Some(Self { along: way.unit()?, long: way.norm() })
    }
}

#[cfg(test)]
mod tests {
    use super::super::Layer;
    use super::*;

    fn shown(lengths: &[f64], phase: f64, long: f64) -> Vec<(f64, f64)> {
        Dashes::of(lengths.to_vec(), phase).expect("dashes").shown(long).collect()
    }

    fn is_near(found: &[(f64, f64)], wanted: &[(f64, f64)]) -> bool {
        let near = |(a, b): (&(f64, f64), &(f64, f64))| {
            (a.0 - b.0).abs() < 1e-12 && (a.1 - b.1).abs() < 1e-12
        };
        found.len() == wanted.len() && found.iter().zip(wanted).all(near)
    }

    /// The patterns of ISO 32000-1:2008, table 56 (from memory), on a line of 12.
    #[test]
    fn patterns_are_those_of_the_standard() {
        let all = [(1.5, 3.0), (7.5, 3.0)];
        assert!(is_near(&shown(&[3.0], 0.0, 12.0), &all), "3 on, 3 off");
        let all = [(0.5, 1.0), (4.0, 2.0), (8.0, 2.0), (11.5, 1.0)];
        assert!(is_near(&shown(&[2.0], 1.0, 12.0), &all), "1 on, 2 off, 2 on, ...");
        let all = [(1.0, 2.0), (4.0, 2.0), (7.0, 2.0), (10.0, 2.0)];
        assert!(is_near(&shown(&[2.0, 1.0], 0.0, 12.0), &all), "2 on, 1 off");
        let all = [(3.5, 3.0), (11.0, 2.0)];
        assert!(is_near(&shown(&[3.0, 5.0], 6.0, 12.0), &all), "2 off, 3 on, 5 off");
        let all = [(0.5, 1.0), (5.0, 2.0), (10.0, 2.0)];
        assert!(is_near(&shown(&[2.0, 3.0], 11.0, 12.0), &all), "1 on, 3 off, 2 on, ...");
    }

    #[test]
    fn without_gaps_a_line_is_continuous() {
        for lengths in [&[][..], &[3.0, 0.0], &[0.0], &[-1.0, 3.0], &[f64::NAN, 1.0]] {
            assert!(Dashes::of(lengths.to_vec(), 0.0).is_none(), "{lengths:?}");
        }
    }

    /// A level line 4 wide, on a page that is twice as wide and three times as high.
    #[test]
    fn a_wide_dashed_line_is_strokes_across_it() {
        let dashes = Dashes::of(vec![1.0, 9.0], 0.0).expect("dashes");
        assert!(dashes.are_bars(4.0) && !dashes.are_bars(1.0));
        let matrix = Matrix::scale(2.0, 3.0);
        let pen = Pen { layer: Layer::Other, width: 4.0, dashed: true };
        let (from, to) = (Spot::new(20.0, 30.0), Spot::new(44.0, 30.0));
        let found: Vec<_> = dashes.bars(Line { from, to, pen }, 4.0, matrix).collect();
        assert_eq!(found.len(), 2);
        for (bar, x) in found.iter().zip([21.0, 41.0]) {
            assert!(bar.from.far(Spot::new(x, 24.0)) < 1e-9, "{bar:?}");
            assert!(bar.to.far(Spot::new(x, 36.0)) < 1e-9, "{bar:?}");
            assert!((bar.pen.width - 2.0).abs() < 1e-9 && !bar.pen.dashed);
        }
    }
}
