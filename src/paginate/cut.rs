//! Where one piece is cut into tiles, along the strap and, where it is wider than a sheet
//! has room for, across it.

use super::joins::{self, Class, Joins, Obstacle, Run};
use super::lanes::BESIDE;
use super::pack::Room;
use crate::geom::{Extent, Length, Step};
use crate::layout::Piece;

/// What the first and last tile show beyond the ends of the piece.
const BEYOND: Length = Length::from_mm(3);
/// An edge that runs off by more than one in so many is a curve that no join should lie on;
/// a gentler one is laid edge to edge like a straight one.
const GENTLE: i64 = 4;

/// One piece with its joins.
#[derive(Clone, Debug)]
pub(super) struct Cut {
    /// What is shown of it, along x and along y.
    pub(super) whole: (Extent, Extent),
    obstacles: Vec<Obstacle>,
    /// Match lines across the strap.
    pub(super) along: Joins,
    /// Match lines along the strap.
    pub(super) across: Joins,
    /// How many of the given match lines are kept.
    pub(super) kept: usize,
    /// A tile that is shorter than the others, to lie beside something else.
    pub(super) short: Option<usize>,
}

/// What is shown of a piece along x.
pub(super) fn shown(piece: &Piece) -> Extent {
    piece.extent.grown(BEYOND)
}

/// What is shown of a piece along y.
pub(super) fn shown_across(piece: &Piece) -> Extent {
    let middle = Extent { from: Length::ZERO, to: Length::ZERO };
    middle.grown(piece.width / 2 + BESIDE)
}

impl Cut {
    /// With the fewest joins; `None` when there is no room to go on from join to join.
    pub(super) fn new(piece: &Piece, room: Room) -> Option<Self> {
        let whole = (shown(piece), shown_across(piece));
        let mut across: Vec<Obstacle> = Vec::new();
        let mut obstacles = curves(piece);
        for mark in &piece.marks {
            let Some(class) = Class::of(mark) else { continue };
            obstacles.push(Obstacle { extent: mark.x_extent(), class });
            // A line across the strap lies across every join along it.
            if mark.path().is_some() {
                across.push(Obstacle { extent: mark.y_extent(), class });
            }
        }
        // Words and boxes are of use only in one piece.
        for drawn in &piece.guides {
            let whole = drawn.whole().map(|x| (x, drawn.y_extent()));
            if let Some((along, over)) = whole {
                obstacles.push(Obstacle { extent: along, class: Class::Curve });
                across.push(Obstacle { extent: over, class: Class::Curve });
            }
        }
        let run = Run {
            whole: whole.1,
            window: room.height,
            short: None,
            obstacles: &across,
            kept: &[],
        };
        let across = joins::solve(&run)?;
        let mut cut = Self {
            whole,
            obstacles,
            along: Joins::default(),
            across,
            kept: 0,
            short: None,
        };
        cut.along = cut.solve(room.width, None, &[])?;
        Some(cut)
    }

    fn solve(
        &self,
        window: Length,
        short: Option<(usize, Length)>,
        kept: &[Length],
    ) -> Option<Joins> {
        joins::solve(&Run { short, ..self.run(window, kept) })
    }

    fn run<'a>(&'a self, window: Length, kept: &'a [Length]) -> Run<'a> {
        Run { whole: self.whole.0, window, short: None, obstacles: &self.obstacles, kept }
    }

    /// With its first match lines as they are in `kept`, where that is as clear.
    pub(super) fn keeping(&self, window: Length, kept: &[Length]) -> Option<Self> {
        let along = self.solve(window, None, kept)?;
        let level = |j: &Joins| (j.harm.marks, j.harm.curves);
        let as_clear = level(&along) <= level(&self.along);
        as_clear.then(|| Self { along, kept: kept.len(), short: None, ..self.clone() })
    }

    /// With one tile no longer than this, as many tiles, and as clear of everything.
    pub(super) fn with_short(
        &self,
        window: Length,
        tile: usize,
        length: Length,
    ) -> Option<Self> {
        let kept = &self.along.lines[..self.kept];
        let along = self.solve(window, Some((tile, length)), kept)?;
        let same = along.lines.len() == self.along.lines.len();
        let as_clear = along.harm <= self.along.harm;
        let short = Some(tile);
        (same && as_clear).then(|| Self { along, short, ..self.clone() })
    }

    /// With one tile as short as any can be; `None` where there is only one.
    pub(super) fn shortest(&self, window: Length) -> Option<Self> {
        if self.along.lines.is_empty() || !self.across.lines.is_empty() {
            return None;
        }
        let kept = &self.along.lines[..self.kept];
        let (tile, length) = joins::shortest(&self.run(window, kept), &self.along)?;
        self.with_short(window, tile, length)
    }

    /// Which band of the piece its tile of this stretch shows: where it is one band, no more
    /// than that stretch needs.
    pub(super) fn shown_of(
        &self,
        piece: &Piece,
        stretch: Extent,
        band: Extent,
    ) -> Extent {
        if !self.across.lines.is_empty() {
            return band;
        }
        let middle = Extent { from: Length::ZERO, to: Length::ZERO };
        middle.grown(piece.reach(stretch) + BESIDE)
    }

    /// Its stretches along x, and its bands along y from the top.
    pub(super) fn grid(&self) -> (Vec<Extent>, Vec<Extent>) {
        let mut bands = self.across.stretches(self.whole.1);
        bands.reverse();
        (self.along.stretches(self.whole.0), bands)
    }
}

/// Where the outline turns: steep edges whole, and the corners of gentle ones.
fn curves(piece: &Piece) -> Vec<Obstacle> {
    let mut all: Vec<Extent> = Vec::new();
    for segment in piece.outline.segments() {
        let (from, to) = (segment.from, segment.step.to());
        let chord = to - from;
        let is_flat = match segment.step {
            Step::Line { .. } => true,
            // At its ends an arc is off its chord by half the chord to the radius.
            Step::Arc { centre, .. } => {
                (from - centre).norm() * 2 >= chord.norm() * GENTLE
            }
        };
        if !is_flat || chord.y.abs() * GENTLE > chord.x.abs() {
            all.push(Extent::new(from.x, to.x));
        } else if !matches!(segment.step, Step::Line { .. } if chord.y == Length::ZERO) {
            all.extend([from.x, to.x].map(|x| Extent { from: x, to: x }));
        }
    }
    all.sort_unstable();
    all.dedup();
    all.into_iter().map(|extent| Obstacle { extent, class: Class::Curve }).collect()
}
