//! What a sheet's lines and letters cover, in mm: letters by their outlines in the face.

use super::{mm, spot};
use strapwright::geom::{Length, Path, Point, QuarterTurn, Sheet as OnSheet, Step};
use strapwright::paginate::Anchor;
use ttf_parser::{Face, OutlineBuilder};

/// An upright rectangle in mm.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Area {
    pub(crate) low: (f64, f64),
    pub(crate) high: (f64, f64),
}

impl Area {
    pub(crate) fn grown(self, by: f64) -> Self {
        Self {
            low: (self.low.0 - by, self.low.1 - by),
            high: (self.high.0 + by, self.high.1 + by),
        }
    }

    pub(crate) fn overlaps(self, other: Self) -> bool {
        self.low.0 < other.high.0
            && other.low.0 < self.high.0
            && self.low.1 < other.high.1
            && other.low.1 < self.high.1
    }

    /// Which part of the way from `a` to `b` lies in it, from 0 to 1; Liang and Barsky's
    /// way (1984), from memory.
    pub(crate) fn part(self, a: (f64, f64), b: (f64, f64)) -> Option<(f64, f64)> {
        let (dx, dy) = (b.0 - a.0, b.1 - a.1);
        let (mut from, mut to) = (0.0_f64, 1.0_f64);
        for (run, gap) in [
            (-dx, a.0 - self.low.0),
            (dx, self.high.0 - a.0),
            (-dy, a.1 - self.low.1),
            (dy, self.high.1 - a.1),
        ] {
            if run.abs() < 1e-12 {
                if gap < 0.0 {
                    return None;
                }
            } else if run < 0.0 {
                from = from.max(gap / run);
            } else {
                to = to.min(gap / run);
            }
        }
        (from < to).then_some((from, to))
    }
}

/// Extents of a glyph by its outline, in units of the face.
#[derive(Default)]
struct Extents(Option<[f32; 4]>);

impl Extents {
    fn add(&mut self, x: f32, y: f32) {
        let [left, low, right, high] = self.0.unwrap_or([x, y, x, y]);
        self.0 = Some([left.min(x), low.min(y), right.max(x), high.max(y)]);
    }
}

impl OutlineBuilder for Extents {
    fn move_to(&mut self, x: f32, y: f32) {
        self.add(x, y);
    }
    fn line_to(&mut self, x: f32, y: f32) {
        self.add(x, y);
    }
    fn quad_to(&mut self, _: f32, _: f32, x: f32, y: f32) {
        self.add(x, y);
    }
    fn curve_to(&mut self, _: f32, _: f32, _: f32, _: f32, x: f32, y: f32) {
        self.add(x, y);
    }
    fn close(&mut self) {}
}

/// The ink of a line of text: from its first letter's to its last one's.
pub(crate) fn inked(
    face: &Face<'_>,
    at: Point<OnSheet>,
    anchor: Anchor,
    turn: QuarterTurn,
    size: Length,
    text: &str,
) -> Area {
    let unit = mm(size) / f64::from(face.units_per_em());
    let (mut pen, mut ink) = (0.0, Extents::default());
    for c in text.chars() {
        let glyph = face.glyph_index(c).unwrap();
        let mut extents = Extents::default();
        face.outline_glyph(glyph, &mut extents);
        if let Some([left, low, right, high]) = extents.0 {
            ink.add(pen + left, low);
            ink.add(pen + right, high);
        }
        pen += f32::from(face.glyph_hor_advance(glyph).unwrap());
    }
    let [left, low, right, high] = ink.0.unwrap().map(|n| f64::from(n) * unit);
    let wide = f64::from(pen) * unit;
    let start = match anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => -wide / 2.0,
        Anchor::End => -wide,
    };
    let (left, right) = (start + left, start + right);
    let (x, y) = (mm(at.x), mm(at.y));
    match turn {
        QuarterTurn::None => {
            Area { low: (x + left, y + low), high: (x + right, y + high) }
        }
        QuarterTurn::Left => {
            Area { low: (x - high, y + left), high: (x - low, y + right) }
        }
    }
}

/// A path as a row of places, arcs in steps of a degree.
pub(crate) fn places(path: &Path<OnSheet>) -> Vec<(f64, f64)> {
    let mut all = vec![spot(path.start)];
    for segment in path.segments() {
        let to = spot(segment.step.to());
        if let Step::Arc { centre, clockwise, .. } = segment.step {
            let (from, centre) = (spot(segment.from), spot(centre));
            let angle = |p: (f64, f64)| libm::atan2(p.1 - centre.1, p.0 - centre.0);
            let full = std::f64::consts::TAU;
            let turn = (angle(to) - angle(from)).rem_euclid(full);
            let turn = if clockwise { turn - full } else { turn };
            let r = libm::hypot(from.0 - centre.0, from.1 - centre.1);
            for n in 1..180 {
                let a = angle(from) + turn * f64::from(n) / 180.0;
                all.push((centre.0 + r * libm::cos(a), centre.1 + r * libm::sin(a)));
            }
        }
        all.push(to);
    }
    all
}

/// What a row of places lies within.
pub(crate) fn bounds(places: &[(f64, f64)]) -> Area {
    let start = Area { low: places[0], high: places[0] };
    places.iter().fold(start, |a, p| Area {
        low: (a.low.0.min(p.0), a.low.1.min(p.1)),
        high: (a.high.0.max(p.0), a.high.1.max(p.1)),
    })
}
