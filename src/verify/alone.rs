//! Without a job: what the sheets show by themselves, and whether they agree.

use super::against::TOLERANCE;
use super::read::plane::Spot;
use super::report::{ANEW, FoundMark, error};
use super::sheet::{Form, Sheet};
use super::strap::{Piece, Strap};
use crate::diagnostic::Finding;
use crate::verify::rule;
use std::collections::BTreeMap;

/// Two marks of neighbouring tiles this near are the same, in mm.
const SAME: f64 = 1.0;

/// The marks of all pieces, each once, and those of which two tiles disagree.
pub(super) fn marks(strap: &Strap, sheets: &[Sheet]) -> (Vec<FoundMark>, Vec<Finding>) {
    let (mut all, mut findings) = (Vec::new(), Vec::new());
    let pieces = strap.pieces.iter().filter(|p| p.forms(strap, sheets).next().is_some());
    for (number, piece) in (1..).zip(pieces) {
        let name = format!("piece {number}");
        let (marks, wrong) = of_piece(&name, piece, strap, sheets);
        all.extend(marks);
        findings.extend(wrong);
    }
    (all, findings)
}

#[expect(clippy::cast_possible_truncation, reason = "a page is read up to a size")]
fn step(at: Spot) -> i64 {
    (at.x / SAME).floor() as i64
}

fn of_piece(
    name: &str,
    piece: &Piece,
    strap: &Strap,
    sheets: &[Sheet],
) -> (Vec<FoundMark>, Vec<Finding>) {
    let zero = Spot::new(piece.bounds.low.x, piece.bounds.middle().y);
    let (mut marks, mut findings) = (Vec::new(), Vec::new());
    let mut kept: Vec<(usize, Spot, Form)> = Vec::new();
    // Those kept, by the step of `SAME` along the piece that they lie in.
    let mut steps: BTreeMap<i64, Vec<usize>> = BTreeMap::new();
    let number = |tile: usize| sheets[strap.tiles[tile].sheet].title.number;
    for (tile, way, form) in piece.forms(strap, sheets) {
        let at = way.place(form.centre) - zero;
        let step = step(at);
        let near = steps.range(step - 1..=step + 1).flat_map(|(_, own)| own);
        let same = near.copied().filter(|i| {
            let (other, there, f) = &kept[*i];
            *other != tile && there.far(at) < SAME && f.size.far(form.size) < SAME
        });
        if let Some((other, there, _)) = same.min().map(|first| &kept[first]) {
            let off = there.far(at);
            if off > TOLERANCE {
                let (one, two) = (number(*other), number(tile));
                let message =
                    format!("a mark is not at one place on sheet {one} and sheet {two}");
                findings.push(
                    error(rule::MARKS_DISAGREE, message)
                        .expected(
                            format!("{off:.3} mm apart"),
                            format!("at most {TOLERANCE} mm"),
                        )
                        .remedy(ANEW),
                );
            }
            continue;
        }
        steps.entry(step).or_default().push(kept.len());
        kept.push((tile, at, *form));
        let size = way.way(form.size);
        let kind = match (form.dashed, form.axis) {
            (true, _) => "target",
            (false, None) => "ring",
            (false, Some(_)) => "slot",
        };
        marks.push(FoundMark {
            sheet: number(tile),
            piece: name.to_owned(),
            feature: String::new(),
            label: String::new(),
            kind: kind.to_owned(),
            found_mm: [at.x, at.y],
            size_mm: [size.x.abs(), size.y.abs()],
            expected_mm: None,
            error_mm: None,
        });
    }
    marks.sort_by(|a, b| a.found_mm[0].total_cmp(&b.found_mm[0]));
    (marks, findings)
}
