//! Closed forms: rings and slots, told by where their strokes run and not by how they are
//! written.

use super::super::read::plane::{Bounds, Spot};
use super::super::read::{Path, Step};

/// A form that strays further from a circle, as a part of its radius, is none.
const ROUGH: f64 = 0.04;
/// No mark has more steps.
const MOST_STEPS: usize = 256;

/// A ring or a slot, in mm.
#[derive(Clone, Copy, Debug)]
pub(in crate::verify) struct Form {
    pub(in crate::verify) centre: Spot,
    /// From edge to edge along x and along y.
    pub(in crate::verify) size: Spot,
    /// The way a slot runs, one long; a ring has none.
    pub(in crate::verify) axis: Option<Spot>,
    /// How far the stroke strays from true half rounds and flats.
    pub(in crate::verify) stray: f64,
    /// Dashed: a target.
    pub(in crate::verify) dashed: bool,
    /// Width of its stroke in mm.
    pub(in crate::verify) pen: f64,
}

/// The ring or slot that `path` is; `None` for anything else.
pub(super) fn form(path: &Path) -> Option<Form> {
    if path.steps.len() > MOST_STEPS || path.steps.len() < 2 {
        return None;
    }
    let end = path.steps.last()?.to();
    if !path.closed && end.far(path.start) > 1e-3 {
        return None;
    }
    let mut spots: Vec<Spot> = Vec::with_capacity(path.steps.len() * 4);
    for (from, step) in path.segments() {
        spots.extend([0.0, 0.25, 0.5, 0.75].map(|part| step.at(from, part)));
    }
    let bounds = Bounds::of(spots.iter().copied());
    let size = bounds.size();
    let ring = || {
        let (centre, radius) = circle(&spots)?;
        let off = |p: &Spot| (p.far(centre) - radius).abs();
        let stray = spots.iter().map(off).fold(0.0, f64::max);
        let (dashed, pen) = (path.pen.dashed, path.pen.width);
        let form = Form { centre, size, axis: None, stray, dashed, pen };
        (stray < ROUGH * radius).then_some(form)
    };
    // A slot that is hardly longer than wide is nearly a ring: what it strays from less counts.
    let both = ring().into_iter().chain(slot(path, &spots, bounds));
    both.min_by(|a, b| a.stray.total_cmp(&b.stray))
}

/// The circle nearest to `spots` by least squares (Kåsa): its centre and radius.
fn circle(spots: &[Spot]) -> Option<(Spot, f64)> {
    let count = u32::try_from(spots.len()).ok().filter(|n| *n >= 8)?;
    let share = 1.0 / f64::from(count);
    let mean = spots.iter().fold(Spot::ZERO, |sum, p| sum + *p) * share;
    let (mut xx, mut xy, mut yy, mut xr, mut yr, mut rr) = (0.0, 0.0, 0.0, 0.0, 0.0, 0.0);
    for p in spots {
        let d = *p - mean;
        let r = d.dot(d);
        xx += d.x * d.x;
        xy += d.x * d.y;
        yy += d.y * d.y;
        xr += d.x * r;
        yr += d.y * r;
        rr += r;
    }
    let area = xx * yy - xy * xy;
    if area.abs() < 1e-12 {
        return None;
    }
    let off = Spot::new(xr * yy - yr * xy, yr * xx - xr * xy) * (0.5 / area);
    let radius = libm::sqrt(off.dot(off) + rr * share);
    (radius > 0.05 && radius.is_finite()).then(|| (mean + off, radius))
}

/// Two flats side by side and half a round at either end.
fn slot(path: &Path, spots: &[Spot], bounds: Bounds) -> Option<Form> {
    let straight = path.segments().filter_map(|(from, step)| match step {
        Step::Line(to) => Some((from, to)),
        Step::Curve(..) => None,
    });
    let mut flats: Vec<(Spot, Spot)> = straight.collect();
    flats.sort_by(|a, b| b.0.far(b.1).total_cmp(&a.0.far(a.1)));
    let (&(from, to), &(back, end)) = (flats.first()?, flats.get(1)?);
    let axis = (to - from).unit()?;
    // The two flats run against each other, half a round apart.
    let (width, slant) = (axis.cross(back - to).abs(), axis.cross(end - back).abs());
    let centre = from.middle(to).middle(back.middle(end));
    let half = from.far(to) / 2.0;
    if slant > 0.05 || width < 0.1 || (half * 2.0 - back.far(end)).abs() > 0.05 {
        return None;
    }
    let off = |p: &Spot| {
        let at = (*p - centre).dot(axis).clamp(-half, half);
        (p.far(centre + axis * at) - width / 2.0).abs()
    };
    let stray = spots.iter().map(off).fold(0.0, f64::max);
    let form = Form {
        centre,
        size: bounds.size(),
        axis: Some(axis),
        stray,
        dashed: path.pen.dashed,
        pen: path.pen.width,
    };
    (stray < ROUGH * width).then_some(form)
}

#[cfg(test)]
mod tests {
    use super::super::super::read::{Layer, Pen};
    use super::*;

    const PEN: Pen = Pen { layer: Layer::Punch, width: 0.25, dashed: false };

    fn at(x: f64, y: f64) -> Spot {
        Spot::new(x, y)
    }

    /// Quarter circles of radius 2 about (`x`, 7), from the right counter-clockwise, `wide`
    /// times as wide.
    fn quarters(x: f64, wide: f64) -> [Step; 4] {
        let k = 2.0 * 0.552_284_75;
        let on = |dx: f64, dy: f64| at(x + dx * wide, 7.0 + dy);
        [
            Step::Curve(on(2.0, k), on(k, 2.0), on(0.0, 2.0)),
            Step::Curve(on(-k, 2.0), on(-2.0, k), on(-2.0, 0.0)),
            Step::Curve(on(-2.0, -k), on(-k, -2.0), on(0.0, -2.0)),
            Step::Curve(on(k, -2.0), on(2.0, -k), on(2.0, 0.0)),
        ]
    }

    fn path(start: Spot, steps: &[Step]) -> Path {
        Path { start, steps: steps.to_vec(), closed: true, pen: PEN }
    }

    #[test]
    fn a_circle_is_a_ring() {
        let ring = form(&path(at(7.0, 7.0), &quarters(5.0, 1.0))).expect("a ring");
        assert!(
            ring.centre.far(at(5.0, 7.0)) < 1e-9 && ring.size.far(at(4.0, 4.0)) < 1e-9
        );
        assert!(ring.axis.is_none() && ring.stray < 2.0 * 2.8e-4, "{ring:?}");
    }

    #[test]
    fn an_ellipse_strays() {
        let oval =
            form(&path(at(7.1, 7.0), &quarters(5.0, 1.05))).expect("nearly a ring");
        assert!(oval.stray > 0.04 && (oval.size.x - 4.2).abs() < 1e-9, "{oval:?}");
        assert!(form(&path(at(9.0, 7.0), &quarters(5.0, 2.0))).is_none());
    }

    /// A slot from half round to half round about (5, 7) and (`to`, 7).
    fn slot_to(to: f64) -> Path {
        let (left, right) = (quarters(5.0, 1.0), quarters(to, 1.0));
        let steps = [
            right[0],
            Step::Line(at(5.0, 9.0)),
            left[1],
            left[2],
            Step::Line(at(to, 5.0)),
            right[3],
        ];
        path(at(to + 2.0, 7.0), &steps)
    }

    #[test]
    fn a_slot_that_is_nearly_round_is_a_slot() {
        let slot = form(&slot_to(5.15)).expect("a slot");
        assert!(slot.axis.is_some() && slot.stray < 1e-3, "{slot:?}");
        assert!(slot.size.far(at(4.15, 4.0)) < 1e-9, "{slot:?}");
    }

    #[test]
    fn two_half_rounds_are_a_slot() {
        let slot = form(&slot_to(11.0)).expect("a slot");
        assert!(
            slot.centre.far(at(8.0, 7.0)) < 1e-9 && slot.size.far(at(10.0, 4.0)) < 1e-9
        );
        assert!(slot.axis.is_some_and(|a| a.y.abs() < 1e-9) && slot.stray < 1e-3);
    }

    #[test]
    fn squares_and_open_curves_are_neither() {
        let corners = [at(4.0, 0.0), at(4.0, 4.0), at(0.0, 4.0)].map(Step::Line);
        assert!(form(&path(Spot::ZERO, &corners)).is_none());
        let mut open = path(at(7.0, 7.0), &quarters(5.0, 1.0)[..3]);
        open.closed = false;
        assert!(form(&open).is_none());
    }
}
