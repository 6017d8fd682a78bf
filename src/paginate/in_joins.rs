//! What could not be kept out of the joins, said mark by mark.

use super::joins::{Class, about};
use super::lanes::Plan;
use crate::diagnostic::{Finding, Severity};
use crate::geom::{Extent, Length};
use crate::layout::{Layout, Mark, Piece};

const RULE: &str = "mark-in-join";
const REMEDY: &str = "choose a longer paper, --paper a3 or roll; or lay this join with care, \
                      and hold its holes against their neighbours before you punch";

/// A finding for every mark in a join, and one for each seam in each join.
pub(super) fn findings(layout: &Layout, plan: &Plan) -> Vec<Finding> {
    let mut all = Vec::new();
    let along = plan.joins.iter().map(|(p, x)| (*p, *x, Mark::x_extent as Side));
    let across = plan.across.iter().map(|(p, y)| (*p, *y, Mark::y_extent as Side));
    for (i, (piece, line, side)) in along.chain(across).enumerate() {
        let is_across = i >= plan.joins.len();
        join(&mut all, &layout.pieces[piece], (i + 1, line, is_across), side);
    }
    all
}

type Side = fn(&Mark) -> Extent;

fn join(
    all: &mut Vec<Finding>,
    piece: &Piece,
    (number, line, is_across): (usize, Length, bool),
    side: Side,
) {
    let way = if is_across { "y" } else { "x" };
    let asked = format!("nothing within {} of its match line", about(line).length() / 2);
    let mut seams: Vec<(&str, Vec<&Mark>)> = Vec::new();
    for mark in &piece.marks {
        if !side(mark).overlaps(about(line)) || is_across && mark.path().is_none() {
            continue;
        }
        match Class::of(mark) {
            None | Some(Class::Curve) => {}
            Some(Class::Mark) => all.push(
                Finding::new(
                    RULE,
                    Severity::Warning,
                    format!("{} lies in join {number}", name(mark)),
                )
                .at(mark.place.clone())
                .held(
                    format!(
                        "the mark at x = {}, the match line at {way} = {line} of `{}`",
                        mark.at.x, piece.name
                    ),
                    asked.clone(),
                )
                .remedy(REMEDY),
            ),
            Some(Class::Prick) => {
                match seams.iter_mut().find(|(feature, _)| *feature == mark.feature) {
                    Some((_, pricks)) => pricks.push(mark),
                    None => seams.push((&mark.feature, vec![mark])),
                }
            }
        }
    }
    for (feature, pricks) in seams {
        let xs = || pricks.iter().map(|m| m.at.x);
        let (Some(from), Some(to)) = (xs().min(), xs().max()) else { continue };
        let holes = if pricks.len() == 1 { "hole" } else { "holes" };
        all.push(
            Finding::new(
                RULE,
                Severity::Note,
                format!("the seam `{feature}` runs through join {number}"),
            )
            .at(pricks.first().and_then(|m| m.place.clone()))
            .held(
                format!(
                    "{} {holes} from x = {from} to {to}, the match line at {way} = {line} \
                     of `{}`",
                    pricks.len(),
                    piece.name
                ),
                asked.clone(),
            )
            .remedy(
                "lay this join with care: at it the holes must keep their distance from \
                 each other",
            ),
        );
    }
}

/// `turn-back r1`, or what it is where it has no label.
fn name(mark: &Mark) -> String {
    let label = if mark.label.is_empty() { mark.kind.word() } else { &mark.label };
    format!("`{}` {label}", mark.feature)
}
