//! Tiles put together by their crosses, as a person does it.

/// A turn and a shift that carry one tile's places onto the tile before it.
#[derive(Clone, Copy)]
pub(crate) struct Join {
    cos: f64,
    sin: f64,
    x: f64,
    y: f64,
}

impl Join {
    pub(crate) const NONE: Self = Self { cos: 1.0, sin: 0.0, x: 0.0, y: 0.0 };

    pub(crate) fn apply(self, (x, y): (f64, f64)) -> (f64, f64) {
        (self.cos * x - self.sin * y + self.x, self.sin * x + self.cos * y + self.y)
    }

    /// Lays the two crosses `own` on the two crosses `other`, middle on middle.
    pub(crate) fn of(own: [(f64, f64); 2], other: [(f64, f64); 2]) -> Self {
        let (u, v) = (sub(own[1], own[0]), sub(other[1], other[0]));
        let (dot, cross) = (u.0 * v.0 + u.1 * v.1, u.0 * v.1 - u.1 * v.0);
        let norm = libm::hypot(dot, cross);
        let turned = Self { cos: dot / norm, sin: cross / norm, x: 0.0, y: 0.0 };
        let (from, to) = (turned.apply(middle(own)), middle(other));
        Self { x: to.0 - from.0, y: to.1 - from.1, ..turned }
    }

    /// This one after `first`.
    pub(crate) fn after(self, first: Self) -> Self {
        let (x, y) = self.apply((first.x, first.y));
        Self {
            cos: self.cos * first.cos - self.sin * first.sin,
            sin: self.sin * first.cos + self.cos * first.sin,
            x,
            y,
        }
    }
}

pub(crate) fn sub(a: (f64, f64), b: (f64, f64)) -> (f64, f64) {
    (a.0 - b.0, a.1 - b.1)
}

fn middle([a, b]: [(f64, f64); 2]) -> (f64, f64) {
    (f64::midpoint(a.0, b.0), f64::midpoint(a.1, b.1))
}
