//! Findings about marks and seams that lie in joins.

use super::joins::{ObstacleKind, zone_around};
use super::plan::Plan;
use crate::diagnostic::{Finding, Severity, counted};
use crate::geom::Length;
use crate::layout::{Layout, Mark, Piece};
use crate::paginate::rule;
use crate::words::Wording;

/// Finds every mark in a join, and every seam that joins run through.
pub(super) fn find(layout: &Layout, plan: &Plan<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    let joins = plan.joins.iter().map(|join| (join, true));
    let lengthwise = plan.lengthwise_joins.iter().map(|join| (join, false));
    let line = |(&(piece, at), along_x): (&(usize, Length), bool)| {
        let own = plan.tiles().filter(|t| t.span.index == piece);
        let joins = own.filter_map(|t| if along_x { t.span.right } else { t.span.below });
        let names = joins.filter(|join| join.line == at).map(|join| join.to_string());
        let name = names.collect::<Vec<_>>().join(", ");
        (piece, MatchLine { name, at, along_x })
    };
    let lines: Vec<(usize, MatchLine)> = joins.chain(lengthwise).map(line).collect();
    for (index, piece) in layout.pieces.iter().enumerate() {
        let mut seams: Vec<Seam<'_>> = Vec::new();
        let longest = piece.marks.iter().map(|m| m.x_extent().length()).max();
        for (_, line) in lines.iter().filter(|(p, _)| *p == index) {
            for mark in line.marks(piece, longest.unwrap_or_default()) {
                match ObstacleKind::from_mark(mark) {
                    Some(ObstacleKind::Mark) => {
                        findings.push(mark_in_join(layout, piece, mark, line));
                    }
                    Some(ObstacleKind::Prick) => count(&mut seams, mark, &line.name),
                    Some(ObstacleKind::Curve) | None => {}
                }
            }
        }
        findings.extend(seams.iter().map(|seam| seam_in_joins(layout, piece, seam)));
    }
    findings
}

struct MatchLine {
    /// The strips that it joins: `1 + 2`.
    name: String,
    at: Length,
    /// Whether `at` is along x.
    along_x: bool,
}

impl MatchLine {
    /// The marks in its join; none of the piece's marks is longer than `longest`. A line
    /// across the strap does not count as being in a join along it.
    fn marks<'p>(
        &self,
        piece: &'p Piece,
        longest: Length,
    ) -> impl Iterator<Item = &'p Mark> {
        let (zone, along_x) = (zone_around(self.at), self.along_x);
        let near =
            if along_x { piece.marks_between(zone.grown(longest)) } else { &piece.marks };
        near.iter().filter(move |mark| {
            if along_x {
                mark.x_extent().overlaps(zone)
            } else {
                mark.path().is_some() && mark.y_extent().overlaps(zone)
            }
        })
    }
}

fn required() -> String {
    let reach = zone_around(Length::ZERO).to;
    format!("nothing within {reach} of a match line")
}

fn mark_in_join(
    layout: &Layout,
    piece: &Piece,
    mark: &Mark,
    line: &MatchLine,
) -> Finding {
    let label = layout.label(mark, Wording::default());
    let label = if label.is_empty() { mark.kind.word() } else { &label };
    let feature = layout.feature(mark);
    let message = format!("`{feature}` {label} lies in join {}", line.name);
    let (x, at, name) = (mark.at.x.mm(1), line.at.mm(1), piece.key());
    let axis = if line.along_x { "x" } else { "y" };
    let found = format!("x = {x} mm on `{name}`, the match line at {axis} = {at} mm");
    Finding::warning(rule::MARK_IN_JOIN, message)
        .at(mark.span.clone())
        .expected(found, required())
        .remedy(
            "choose a longer paper, a3 or roll; or join with care, and measure to its \
             neighbours before you punch",
        )
        .flag("--paper a3")
}

/// The holes of a seam that lie in joins.
struct Seam<'a> {
    first: &'a Mark,
    joins: Vec<String>,
    holes: usize,
}

fn count<'a>(seams: &mut Vec<Seam<'a>>, mark: &'a Mark, join: &str) {
    let known = seams.iter_mut().find(|s| s.first.feature == mark.feature);
    let Some(seam) = known else {
        seams.push(Seam { first: mark, joins: vec![join.to_owned()], holes: 1 });
        return;
    };
    if seam.joins.last().is_none_or(|last| last != join) {
        seam.joins.push(join.to_owned());
    }
    seam.holes += 1;
}

fn seam_in_joins(layout: &Layout, piece: &Piece, seam: &Seam<'_>) -> Finding {
    let many = if seam.joins.len() > 1 { "s" } else { "" };
    let joins = format!("join{many} {}", seam.joins.join(", "));
    let message = format!("seam `{}` runs through {joins}", layout.feature(seam.first));
    let (x, name) = (seam.first.at.x.mm(1), piece.key());
    let holes = counted(seam.holes, "hole");
    let found = format!("{holes} of it, the first at x = {x} mm on `{name}`");
    Finding::new(rule::MARK_IN_JOIN, Severity::Note, message)
        .at(seam.first.span.clone())
        .expected(found, required())
        .remedy("lay these joins with care, so that the pitch goes on over them")
}
