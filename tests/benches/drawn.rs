//! What a set of sheets asks of any writer: greys and strokes, in points.

use strapwright::geom::{Length, Path, Point, Sheet, Step, Vector};
use strapwright::paginate::{Pen, TickRow, Tone};

/// One step of a path.
pub(crate) enum Stroke {
    Move([f32; 2]),
    Line([f32; 2]),
    Curve([f32; 6]),
}

/// Hands on the steps of `path`, its arcs as curves.
pub(crate) fn trace(path: &Path<Sheet>, mut to_page: impl FnMut(Stroke)) {
    to_page(Stroke::Move(spot(path.start).map(cut)));
    let mut from = path.start;
    for step in &path.steps {
        match *step {
            Step::Line { to } => to_page(Stroke::Line(spot(to).map(cut))),
            Step::Arc { to, centre, clockwise } => {
                arc(&mut to_page, spot(from), spot(to), spot(centre), clockwise);
            }
        }
        from = step.to();
    }
}

fn arc(
    to_page: &mut impl FnMut(Stroke),
    from: [f64; 2],
    to: [f64; 2],
    c: [f64; 2],
    clockwise: bool,
) {
    use std::f64::consts::{FRAC_PI_2, TAU};
    let angle = |p: [f64; 2]| libm::atan2(p[1] - c[1], p[0] - c[0]);
    let (start, end) = (angle(from), angle(to));
    let sign = if clockwise { -1.0 } else { 1.0 };
    let swept = ((end - start) * sign).rem_euclid(TAU);
    let count = ((swept - 1e-6) / FRAC_PI_2).ceil().max(1.0);
    let turn = swept / count;
    let k = sign * 4.0 / 3.0 * libm::tan(turn / 4.0);
    let radius = libm::hypot(from[0] - c[0], from[1] - c[1]);
    let mut p = from;
    for i in 1..=count as u32 {
        let angle = start + sign * turn * f64::from(i);
        let q = [c[0] + radius * libm::cos(angle), c[1] + radius * libm::sin(angle)];
        let curve = [
            p[0] - k * (p[1] - c[1]),
            p[1] + k * (p[0] - c[0]),
            q[0] + k * (q[1] - c[1]),
            q[1] - k * (q[0] - c[0]),
            q[0],
            q[1],
        ];
        to_page(Stroke::Curve(curve.map(cut)));
        p = q;
    }
}

/// A row of strokes as the exporter draws it: width of the line, dash and gap, and the line's
/// parts from end to end, in points.
pub(crate) fn row(row: &TickRow, pen: Pen) -> (f32, [f32; 2], Vec<[[f32; 2]; 2]>) {
    let thick = pen.width();
    let [wide, step] = [row.tick, row.pitch].map(Vector::norm);
    let half = [row.pitch.x, row.pitch.y].map(|n| n.times(thick.nm() / 2, step.nm()));
    let middle = |n: i64, sign: i64| {
        let Point { x, y, .. } = row.base(n);
        let x = x + row.tick.x / 2 + half[0] * sign;
        spot(Point::new(x, y + row.tick.y / 2 + half[1] * sign)).map(cut)
    };
    let parts = (0..row.count).step_by(200).map(|first| {
        let last = (first + 200).min(row.count) - 1;
        [middle(first, -1), middle(last, 1)]
    });
    (pt(wide), [pt(thick), pt(step - thick)], parts.collect())
}

fn spot(p: Point<Sheet>) -> [f64; 2] {
    [p.x, p.y].map(|n| n.nm() as f64 * 72.0 / 25_400_000.0)
}

pub(crate) fn pt(length: Length) -> f32 {
    cut(length.nm() as f64 * 72.0 / 25_400_000.0)
}

/// Cut to the places that the exporter writes.
fn cut(points: f64) -> f32 {
    (libm::round(points * 1e4) / 1e4) as f32
}

/// From 0 for black to 1 for white.
pub(crate) fn grey(tone: Tone) -> f32 {
    f32::from(tone.lightness()) / 100.0
}
