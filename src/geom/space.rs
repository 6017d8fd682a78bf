//! Points and vectors that carry their space in the type.

use super::Length;
use serde::{Deserialize, Serialize};
use std::marker::PhantomData;
use std::ops::{Add, Neg, Sub};

/// The flat strap, grain side up: x along it from the middle of the bend toward the tip,
/// y across it from the centre line, both in [`Length`].
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Strap;

/// A sheet of paper: x from its left edge, y from its lower edge, as PDF pages count.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Sheet;

/// A point in space `S`, [`Strap`] or [`Sheet`].
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Point<S> {
    /// Along the x axis.
    pub x: Length,
    /// Along the y axis.
    pub y: Length,
    space: PhantomData<S>,
}

/// A displacement in space `S`, [`Strap`] or [`Sheet`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Vector<S> {
    /// Along the x axis.
    pub x: Length,
    /// Along the y axis.
    pub y: Length,
    #[serde(skip)]
    space: PhantomData<S>,
}

impl<S> Point<S> {
    /// The point at (`x`, `y`).
    pub const fn new(x: Length, y: Length) -> Self {
        Self { x, y, space: PhantomData }
    }
}

impl<S> Vector<S> {
    /// The vector (`x`, `y`).
    pub const fn new(x: Length, y: Length) -> Self {
        Self { x, y, space: PhantomData }
    }
}

impl<S: Copy> Vector<S> {
    /// Its length, rounded down to the nanometre.
    pub fn norm(self) -> Length {
        Length::from_square(self.x.square() + self.y.square())
    }

    /// The dot product in square nanometres, exact.
    pub fn dot(self, other: Self) -> i128 {
        let product = |a: Length, b: Length| i128::from(a.nm()) * i128::from(b.nm());
        product(self.x, other.x) + product(self.y, other.y)
    }

    /// The z of the cross product in square nanometres, exact: positive where `other` points
    /// to the left of `self`.
    pub fn cross(self, other: Self) -> i128 {
        self.perpendicular().dot(other)
    }

    /// The vector a quarter turn counter-clockwise from it.
    #[must_use]
    pub fn perpendicular(self) -> Self {
        Self::new(-self.y, self.x)
    }
}

impl<S> Add<Vector<S>> for Point<S> {
    type Output = Self;
    fn add(self, v: Vector<S>) -> Self {
        Self::new(self.x + v.x, self.y + v.y)
    }
}

impl<S> Sub<Vector<S>> for Point<S> {
    type Output = Self;
    fn sub(self, v: Vector<S>) -> Self {
        Self::new(self.x - v.x, self.y - v.y)
    }
}

impl<S> Sub for Point<S> {
    type Output = Vector<S>;
    fn sub(self, other: Self) -> Vector<S> {
        Vector::new(self.x - other.x, self.y - other.y)
    }
}

impl<S> Neg for Vector<S> {
    type Output = Self;
    fn neg(self) -> Self {
        Self::new(-self.x, -self.y)
    }
}

/// A stretch along one axis, from `from` to `to`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Extent {
    /// The lower end.
    pub from: Length,
    /// The upper end, not below `from`.
    pub to: Length,
}

impl Extent {
    /// The stretch between two ends, given in either order.
    pub fn new(a: Length, b: Length) -> Self {
        Self { from: a.min(b), to: a.max(b) }
    }

    /// The single place `at`: a stretch without length.
    pub fn at(at: Length) -> Self {
        Self { from: at, to: at }
    }

    /// How long it is.
    pub fn length(self) -> Length {
        self.to - self.from
    }

    /// Whether `inner` lies in it, ends included.
    pub fn holds(self, inner: Self) -> bool {
        self.from <= inner.from && inner.to <= self.to
    }

    /// Whether the place lies in it, ends included.
    pub fn has(self, at: Length) -> bool {
        self.holds(Self::at(at))
    }

    /// Its ends in both units: `0 mm (0 in) to 254 mm (10 in)`.
    pub fn both(self) -> String {
        format!("{} to {}", self.from.both(), self.to.both())
    }

    /// Whether the two have more than an end in common.
    pub fn overlaps(self, other: Self) -> bool {
        self.from < other.to && other.from < self.to
    }

    /// The shortest stretch that holds both.
    #[must_use]
    pub fn union(self, other: Self) -> Self {
        Self { from: self.from.min(other.from), to: self.to.max(other.to) }
    }

    /// The stretch grown by `margin` at both ends.
    #[must_use]
    pub fn grown(self, margin: Length) -> Self {
        Self { from: self.from - margin, to: self.to + margin }
    }

    /// The stretch moved by `distance`.
    #[must_use]
    pub fn shifted(self, distance: Length) -> Self {
        Self { from: self.from + distance, to: self.to + distance }
    }

    /// What both have in common. Where they do not meet, `from` lies above `to`.
    #[must_use]
    pub fn intersection(self, other: Self) -> Self {
        Self { from: self.from.max(other.from), to: self.to.min(other.to) }
    }
}
