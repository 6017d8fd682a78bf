//! The way from strap to sheet: a shift and quarter turns, and never a scale.

use super::{Length, Point, Sheet, Strap, Vector};
use serde::{Deserialize, Serialize};

/// A turn counter-clockwise.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum QuarterTurn {
    /// Not turned.
    #[default]
    None,
    /// A quarter turn counter-clockwise.
    Left,
}

/// Where a stretch of strap lies on its sheet. It has no scale: a printer's error is
/// corrected once, by the exporter.
///
/// ```compile_fail
/// use strapwright::geom::Placement;
/// let p = Placement::default();
/// let _ = p.scaled(2); // there is no such thing
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Placement {
    turn: QuarterTurn,
    shift: Vector<Sheet>,
}

impl QuarterTurn {
    /// So far along and up, turned.
    pub fn turned<S: Copy>(self, along: Length, up: Length) -> Vector<S> {
        match self {
            Self::None => Vector::new(along, up),
            Self::Left => Vector::new(-up, along),
        }
    }
}

impl Placement {
    /// Turns the strap about its origin, then moves the origin to `origin` on the sheet.
    pub fn new(turn: QuarterTurn, origin: Point<Sheet>) -> Self {
        Self { turn, shift: Vector::new(origin.x, origin.y) }
    }

    /// The place on the sheet of a place on the strap.
    pub fn apply(self, p: Point<Strap>) -> Point<Sheet> {
        Point::default() + self.turn.turned(p.x, p.y) + self.shift
    }

    /// The place on the strap of a place on the sheet.
    pub fn invert(self, p: Point<Sheet>) -> Point<Strap> {
        let moved = p - self.shift;
        match self.turn {
            QuarterTurn::None => Point::new(moved.x, moved.y),
            QuarterTurn::Left => Point::new(moved.y, -moved.x),
        }
    }

    /// How far the strap is turned on the sheet.
    pub fn turn(self) -> QuarterTurn {
        self.turn
    }
}
