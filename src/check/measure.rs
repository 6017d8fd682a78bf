//! Distances between marks and outlines, in whole nanometres.

use crate::geom::distance::depth;
use crate::geom::{Length, Point, Segment, Strap, Vector};
use crate::layout::{Mark, Shape};

/// A mark as its spine and the radius about it: a round hole is a point with a radius, a
/// slot a line with one, along the strap or across it. The spine is half its way along x and y.
fn spine(mark: &Mark) -> ([Length; 2], Length) {
    let none = Length::ZERO;
    match mark.shape {
        Shape::Round { diameter } => ([none, none], diameter / 2),
        Shape::Slot { length, width } => {
            let half = (length - width) / 2;
            ([half.max(none), (-half).max(none)], length.min(width) / 2)
        }
        Shape::Across | Shape::Point => ([none, none], none),
    }
}

/// The ends of a mark's spine.
fn ends(mark: &Mark) -> [Point<Strap>; 2] {
    let ([x, y], _) = spine(mark);
    [Point::new(mark.at.x - x, mark.at.y - y), Point::new(mark.at.x + x, mark.at.y + y)]
}

/// How wide a mark is at its narrowest, as its punch is.
pub(super) fn breadth(mark: &Mark) -> Length {
    spine(mark).1 * 2
}

/// Clear leather between two marks, rim to rim; negative where they overlap.
pub(super) fn web(a: &Mark, b: &Mark) -> Length {
    let (([ax, ay], radius_a), ([bx, by], radius_b)) = (spine(a), spine(b));
    let apart = ((a.at.x - b.at.x).abs() - ax - bx).max(Length::ZERO);
    let across = ((a.at.y - b.at.y).abs() - ay - by).max(Length::ZERO);
    Vector::<Strap>::new(apart, across).norm() - radius_a - radius_b
}

/// Clear leather between a mark's rim and the nearest edge of the outline; negative as far as
/// the mark reaches beyond it.
pub(super) fn margin(mark: &Mark, outline: &[Segment<Strap>]) -> Length {
    let deep = ends(mark).map(|end| depth(outline, end));
    deep.into_iter().min().unwrap_or_default() - spine(mark).1
}

/// Clear leather in words: `3 mm (~1/8 in) of clear leather`, or how far a mark reaches beyond
/// the edge.
pub(super) fn clear_leather(margin: Length) -> String {
    if margin < Length::ZERO {
        format!("{} of it beyond the edge", (-margin).both())
    } else {
        format!("{} of clear leather", margin.both())
    }
}

/// From a mark's rim to the edge of an outline, on whichever side of it the mark lies;
/// negative where the edge runs through it.
pub(super) fn clear_of_edge(mark: &Mark, outline: &[Segment<Strap>]) -> Length {
    let radius = spine(mark).1;
    let [a, b] = ends(mark).map(|end| depth(outline, end));
    let crossed = (a < Length::ZERO) != (b < Length::ZERO);
    if crossed { -radius } else { a.abs().min(b.abs()) - radius }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Path;
    use crate::job::FeatureId;
    use crate::layout::{MarkKind, MarkRole};

    fn hole(x: i64, y: i64, diameter: i64) -> Mark {
        Mark {
            feature: FeatureId(0),
            role: MarkRole::Only,
            size: None,
            kind: MarkKind::Hole,
            shape: Shape::Round { diameter: Length::from_mm(diameter) },
            at: Point::new(Length::from_mm(x), Length::from_mm(y)),
            span: None,
        }
    }

    #[test]
    fn webs_are_rim_to_rim() {
        // 3-4-5 triangle: centres 5 mm apart, radii 1 mm and 1 mm.
        assert_eq!(web(&hole(0, 0, 2), &hole(3, 4, 2)), Length::from_mm(3));
        let mut slot = hole(0, 0, 2);
        slot.shape =
            Shape::Slot { length: Length::from_mm(20), width: Length::from_mm(4) };
        // The slot's end is 10 mm from its middle; the hole's rim begins at 14 mm.
        assert_eq!(web(&slot, &hole(15, 0, 2)), Length::from_mm(4));
        assert_eq!(web(&slot, &hole(3, 0, 2)), Length::from_mm(-3));
        // The same slot across the strap.
        slot.shape =
            Shape::Slot { length: Length::from_mm(4), width: Length::from_mm(20) };
        assert_eq!(web(&slot, &hole(0, 15, 2)), Length::from_mm(4));
        assert_eq!(web(&slot, &hole(7, 6, 2)), Length::from_mm(4));
        assert_eq!(breadth(&slot), Length::from_mm(4));
    }

    #[test]
    fn edges_may_be_lines_or_arcs() {
        let corner = |x, y| Point::new(Length::from_mm(x), Length::from_mm(y));
        let box_ = Path::rectangle(corner(-50, -10), corner(50, 10));
        assert_eq!(margin(&hole(0, 3, 4), &box_.segments()), Length::from_mm(5));
        let ring = Path::circle(corner(0, 0), Length::from_mm(30));
        assert_eq!(margin(&hole(12, 16, 4), &ring.segments()), Length::from_mm(8));
        // Off the leather, and half off it.
        assert_eq!(margin(&hole(0, 30, 4), &box_.segments()), Length::from_mm(-22));
        assert_eq!(margin(&hole(49, 0, 4), &box_.segments()), Length::from_mm(-1));
        assert_eq!(clear_of_edge(&hole(60, 0, 4), &box_.segments()), Length::from_mm(8));
    }
}
