//! What could not be kept out of the joins, said mark by mark.

use super::joins::{Class, about};
use super::lanes::Plan;
use crate::diagnostic::{Finding, Severity, counted, numbered};
use crate::geom::Length;
use crate::layout::{Layout, Mark, Piece};
use crate::words::Wording;

const RULE: &str = "mark-in-join";

/// A finding for every mark in a join, and one for every seam that joins run through.
pub(super) fn findings(layout: &Layout, plan: &Plan) -> Vec<Finding> {
    let mut all = Vec::new();
    let along = plan.joins.iter().map(|(p, x)| (*p, Line { at: *x, axis: "x" }));
    let across = plan.across.iter().map(|(p, y)| (*p, Line { at: *y, axis: "y" }));
    let joins: Vec<(usize, Line)> = along.chain(across).collect();
    for (index, piece) in layout.pieces.iter().enumerate() {
        let mut seams: Vec<(&Mark, Vec<usize>, usize)> = Vec::new();
        let reach = piece.marks.iter().map(|m| m.x_extent().length()).max();
        let reach = reach.unwrap_or_default();
        for (i, line) in joins.iter().enumerate().filter(|(_, (p, _))| *p == index) {
            let (number, line) = (i + 1, line.1);
            for mark in line.near(piece, reach).iter().filter(|m| line.has(m)) {
                match Class::of(mark) {
                    Some(Class::Mark) => all.push(one(layout, piece, mark, number, line)),
                    Some(Class::Prick) => add(&mut seams, mark, number),
                    Some(Class::Curve) | None => {}
                }
            }
        }
        all.extend(seams.into_iter().map(|seam| through(layout, piece, seam)));
    }
    all
}

/// A match line.
#[derive(Clone, Copy)]
struct Line {
    at: Length,
    axis: &'static str,
}

impl Line {
    /// The marks that may lie in its join, of which none is longer than `reach`.
    fn near(self, piece: &Piece, reach: Length) -> &[Mark] {
        if self.axis == "x" {
            piece.marks_between(about(self.at).grown(reach))
        } else {
            &piece.marks
        }
    }

    /// Whether a mark lies in its join. A line across the strap lies in every join along it.
    fn has(self, mark: &Mark) -> bool {
        let extent = match self.axis {
            "x" => mark.x_extent(),
            _ if mark.path().is_none() => return false,
            _ => mark.y_extent(),
        };
        extent.overlaps(about(self.at))
    }
}

fn required(line: Length) -> String {
    format!("nothing within {} of a match line", about(line).length() / 2)
}

fn one(
    layout: &Layout,
    piece: &Piece,
    mark: &Mark,
    number: usize,
    line: Line,
) -> Finding {
    let label = layout.label(mark, Wording::default());
    let label = if label.is_empty() { mark.kind.word() } else { &label };
    let feature = layout.feature(mark);
    let message = format!("`{feature}` {label} lies in join {number}");
    let (x, at, name) = (mark.at.x.mm(1), line.at.mm(1), piece.key());
    let found =
        format!("x = {x} mm on `{name}`, the match line at {} = {at} mm", line.axis);
    Finding::new(RULE, Severity::Warning, message)
        .at(mark.span.clone())
        .expected(found, required(line.at))
        .remedy(
            "choose a longer paper, --paper a3 or roll; or join with care, and measure to \
             its neighbours before you punch",
        )
}

/// Counts a prick of a seam in a join.
fn add<'a>(
    seams: &mut Vec<(&'a Mark, Vec<usize>, usize)>,
    mark: &'a Mark,
    number: usize,
) {
    let known = seams.iter_mut().find(|(first, ..)| first.feature == mark.feature);
    let Some((_, joins, pricks)) = known else {
        seams.push((mark, vec![number], 1));
        return;
    };
    if joins.last() != Some(&number) {
        joins.push(number);
    }
    *pricks += 1;
}

fn through(
    layout: &Layout,
    piece: &Piece,
    (first, joins, pricks): (&Mark, Vec<usize>, usize),
) -> Finding {
    let joins = numbered("join", joins);
    let message = format!("seam `{}` runs through {joins}", layout.feature(first));
    let (x, name) = (first.at.x.mm(1), piece.key());
    let holes = counted(pricks, "hole");
    let found = format!("{holes} of it, the first at x = {x} mm on `{name}`");
    Finding::new(RULE, Severity::Note, message)
        .at(first.span.clone())
        .expected(found, required(Length::ZERO))
        .remedy("lay these joins with care, so that the pitch goes on over them")
}
