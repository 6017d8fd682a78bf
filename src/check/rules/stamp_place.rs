use super::prelude::*;
use crate::geom::Vector;
use crate::layout::GuideShape;

pub(super) const RULE: RuleId = RuleId::new("stamp-place");

pub(super) fn check(input: &CheckInput<'_>, findings: &mut Vec<Finding>) {
    for piece in input.one_of_each() {
        let outline = piece.outline.segments();
        for guide in &piece.guides {
            if matches!(guide.shape, GuideShape::Crease(_)) {
                continue;
            }
            let Some(x) = guide.whole() else { continue };
            let y = guide.y_extent();
            let feature = input.job.feature(guide.feature);
            let [place, breadth] = feature.kind.facts().place;
            let is_broad =
                piece.edges(x).is_some_and(|edges| edges.length() < y.length());
            let at = if is_broad { breadth } else { place }.or(feature.span.as_ref());
            let corners =
                [(x.from, y.from), (x.from, y.to), (x.to, y.from), (x.to, y.to)];
            let deep = corners.map(|(x, y)| depth(&outline, Point::new(x, y)));
            let least = deep.into_iter().min().unwrap_or_default();
            if least < Length::ZERO {
                Finding::error(RULE, format!("`{}` runs off the leather", feature.name))
                    .at(at.cloned())
                    .expected(
                        format!("a corner {} beyond the edge", (-least).both()),
                        format!(
                            "a box of {} by {} wholly on the leather",
                            x.length().both(),
                            y.length().both()
                        ),
                    )
                    .remedy("move it inward, or make it smaller")
                    .to(findings);
                continue;
            }
            let opening = piece.marks.iter().find(|m| m.is_opening() && meets(m, x, y));
            if let Some(mark) = opening {
                Finding::warning(
                    RULE,
                    format!("{} lies in `{}`", input.named(mark), feature.name),
                )
                .at(at.cloned())
                .expected(
                    format!("its middle at {} along the strap", mark.at.x.both()),
                    format!("nothing from {} to {}", x.from.both(), x.to.both()),
                )
                .remedy("move the stamp to where nothing is punched")
                .to(findings);
            } else if let Some(axis) = bent(piece, x) {
                Finding::warning(
                    RULE,
                    format!("`{}` lies in the bend of a fold", feature.name),
                )
                .at(at.cloned())
                .expected(
                    format!("from {}", x.both()),
                    format!("clear of the fold at {}", axis.both()),
                )
                .remedy("move it past the bend")
                .to(findings);
            }
        }
    }
}

/// Whether a mark's opening reaches into the box.
fn meets(mark: &Mark, x: Extent, y: Extent) -> bool {
    let (long, high) = (mark.x_extent(), mark.y_extent());
    let radius = long.length().min(high.length()) / 2;
    // From the mark's spine to the box.
    let spine = long.grown(-radius);
    let apart =
        |a: Extent, b: Extent| (a.from - b.to).max(b.from - a.to).max(Length::ZERO);
    let away = Vector::<crate::geom::Strap>::new(
        apart(spine, x),
        apart(Extent::at(mark.at.y), y),
    );
    away.norm() < radius
}

/// The fold in whose bend a stretch lies.
fn bent(piece: &Piece, x: Extent) -> Option<Length> {
    let bend = |axis| Extent::at(axis);
    let fold =
        piece.folds.iter().find(|f| bend(f.at).grown(f.bend.take_up / 2).overlaps(x));
    fold.map(|f| f.at)
}
