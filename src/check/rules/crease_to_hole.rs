use super::prelude::*;
use crate::geom::{Path, Segment, Strap};
use crate::layout::GuideShape;

pub(super) const RULE: RuleId = RuleId::new("crease-to-hole");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for piece in input.one_of_each() {
        for guide in &piece.guides {
            let GuideShape::Crease(path) = &guide.shape else { continue };
            let Some(mark) = met(piece, path) else { continue };
            let feature = input.job.feature(guide.feature);
            Finding::warning(
                RULE,
                format!("{} lies on the crease `{}`", input.named(mark), feature.name),
            )
            .at(feature.kind.facts().place[1].or(feature.span.as_ref()).cloned())
            .expected("a crease through an opening", "creases beside what is punched")
            .remedy("move the crease nearer to the edge, or let it end before")
            .to(findings);
        }
    }
}

/// The first opening that a line runs through.
fn met<'p>(piece: &'p Piece, path: &Path<Strap>) -> Option<&'p Mark> {
    let segments: Vec<Segment<Strap>> = path.segments().into_iter().collect();
    piece.marks.iter().filter(|m| m.is_opening()).find(|mark| {
        let (x, y) = (mark.x_extent(), mark.y_extent());
        let half = x.length().min(y.length()) / 2;
        let (long_x, long_y) = (x.length() / 2 - half, y.length() / 2 - half);
        [-1, 0, 1].into_iter().any(|way| {
            let at = Point::new(mark.at.x + long_x * way, mark.at.y + long_y * way);
            segments.iter().any(|s| s.distance(at) < half.max(Length::from_nm(1)))
        })
    })
}
