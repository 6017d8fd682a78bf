//! The layout in numbers that can be measured against: mm in strap coordinates.

use super::super::read::plane::{Bounds, Spot};
use crate::geom::{Extent, Length, Path, Point, Step, Strap};
use crate::layout::{Layout, Mark, MarkKind, Piece, Shape};

/// A mark with a form.
#[derive(Clone, Copy, Debug)]
pub(super) struct Wanted<'a> {
    pub(super) mark: &'a Mark,
    pub(super) at: Spot,
    pub(super) size: Spot,
    pub(super) is_slot: bool,
    pub(super) is_target: bool,
}

/// One segment of an outline.
#[derive(Clone, Copy, Debug)]
pub(super) enum Edge {
    Line {
        from: Spot,
        to: Spot,
    },
    /// Counter-clockwise by `sweep` from the angle `start`, in radians.
    Arc {
        centre: Spot,
        radius: f64,
        start: f64,
        sweep: f64,
    },
}

/// A piece of leather.
#[derive(Clone, Debug)]
pub(super) struct WantedPiece<'a> {
    pub(super) layout: &'a Layout,
    pub(super) piece: &'a Piece,
    /// By x.
    pub(super) marks: Vec<Wanted<'a>>,
    pub(super) edges: Vec<Edge>,
    pub(super) bounds: Bounds,
    /// What a tape hooked on the outside of the bend reads more than the flat x is; zero
    /// without a bend.
    pub(super) to_outside: f64,
}

#[expect(clippy::cast_precision_loss, reason = "exact for anything that fits on a wall")]
pub(super) fn mm(length: Length) -> f64 {
    length.nm() as f64 / 1e6
}

/// A length on paper to the nearest nanometre.
#[expect(
    clippy::cast_possible_truncation,
    reason = "what is drawn is less than a mile long"
)]
fn length(mm: f64) -> Length {
    Length::from_nm(libm::round(mm * 1e6) as i64)
}

impl WantedPiece<'_> {
    /// Its lower edge at the lowest and its upper at the highest, from the one place along
    /// it to the other.
    pub(super) fn edges_between(&self, from: f64, to: f64) -> (f64, f64) {
        let edges = self.piece.edges(Extent::new(length(from), length(to)));
        edges.map_or((0.0, 0.0), |y| (mm(y.from), mm(y.to)))
    }
}

fn spot(p: Point<Strap>) -> Spot {
    Spot::new(mm(p.x), mm(p.y))
}

pub(super) fn pieces(layout: &Layout) -> Vec<WantedPiece<'_>> {
    layout.pieces.iter().map(|p| piece(layout, p)).collect()
}

fn piece<'a>(layout: &'a Layout, piece: &'a Piece) -> WantedPiece<'a> {
    let mut marks: Vec<Wanted<'_>> = piece.marks.iter().filter_map(wanted).collect();
    marks.sort_by(|a, b| a.at.x.total_cmp(&b.at.x));
    let edges: Vec<Edge> = edges(&piece.outline);
    let mut bounds = Bounds::NONE;
    for edge in &edges {
        // An arc may bulge beyond its ends.
        for i in 0..=16 {
            bounds.add(edge.at(edge.length() * f64::from(i) / 16.0));
        }
    }
    let to_outside = piece.bend.map_or(0.0, |bend| mm(bend.from_fold_to_outside()));
    WantedPiece { layout, piece, marks, edges, bounds, to_outside }
}

fn wanted(mark: &Mark) -> Option<Wanted<'_>> {
    let (size, is_slot) = match mark.shape {
        Shape::Round { diameter } => (Spot::new(mm(diameter), mm(diameter)), false),
        Shape::Slot { length, width } => {
            (Spot::new(mm(length), mm(width)), length != width)
        }
        Shape::Across | Shape::Point => return None,
    };
    let is_target = mark.kind == MarkKind::Target;
    Some(Wanted { mark, at: spot(mark.at), size, is_slot, is_target })
}

fn edges(outline: &Path<Strap>) -> Vec<Edge> {
    let mut all = Vec::new();
    for segment in outline.segments() {
        let (from, to) = (spot(segment.from), spot(segment.step.to()));
        match segment.step {
            Step::Line { .. } => all.push(Edge::Line { from, to }),
            Step::Arc { centre, clockwise, .. } => {
                let centre = spot(centre);
                let (first, last) = if clockwise { (to, from) } else { (from, to) };
                let angle = |p: Spot| libm::atan2(p.y - centre.y, p.x - centre.x);
                let sweep = turned(angle(last) - angle(first));
                let radius = from.far(centre);
                all.push(Edge::Arc { centre, radius, start: angle(first), sweep });
            }
        }
    }
    all.retain(|edge| edge.length() > 1e-6);
    all
}

/// The angle from 0 to a whole turn.
fn turned(angle: f64) -> f64 {
    if angle < 0.0 { angle + std::f64::consts::TAU } else { angle }
}

impl Edge {
    pub(super) fn length(&self) -> f64 {
        match *self {
            Self::Line { from, to } => from.far(to),
            Self::Arc { radius, sweep, .. } => radius * sweep,
        }
    }

    /// The place `along` it, in mm.
    pub(super) fn at(&self, along: f64) -> Spot {
        match *self {
            Self::Line { from, to } => from + (to - from) * (along / self.length()),
            Self::Arc { centre, radius, start, .. } => {
                let angle = start + along / radius;
                centre + Spot::new(libm::cos(angle), libm::sin(angle)) * radius
            }
        }
    }

    /// How far along it the place nearest to `p` is, and how far `p` is from there.
    pub(super) fn nearest(&self, p: Spot) -> (f64, f64) {
        let along = match *self {
            Self::Line { from, to } => {
                let long = from.far(to);
                ((p - from).dot(to - from) / long).clamp(0.0, long)
            }
            Self::Arc { centre, radius, start, sweep } => {
                let angle = turned(libm::atan2(p.y - centre.y, p.x - centre.x) - start);
                let angle = turned(angle % std::f64::consts::TAU);
                // Past its end, the nearer of the two ends.
                let past = (angle - sweep) * 2.0 > std::f64::consts::TAU - sweep;
                let inside = if angle <= sweep { angle } else { sweep };
                radius * if past { 0.0 } else { inside }
            }
        };
        (along, self.at(along).far(p))
    }
}
