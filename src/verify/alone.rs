//! Without a job: what the sheets show by themselves, and whether they agree.

use super::against::TOLERANCE;
use super::read::plane::Spot;
use super::report::{ANEW, FoundMark, error};
use super::sheet::{Form, Sheet};
use super::strap::{Piece, Strap};
use crate::diagnostic::Finding;

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

fn of_piece(
    name: &str,
    piece: &Piece,
    strap: &Strap,
    sheets: &[Sheet],
) -> (Vec<FoundMark>, Vec<Finding>) {
    let zero = Spot::new(piece.bounds.low.x, piece.bounds.middle().y);
    let (mut marks, mut findings) = (Vec::new(), Vec::new());
    let mut kept: Vec<(usize, Spot, Form)> = Vec::new();
    let number = |tile: usize| sheets[strap.tiles[tile].sheet].title.number;
    for (tile, way, form) in piece.forms(strap, sheets) {
        let at = way.place(form.centre) - zero;
        let same = kept.iter().find(|(other, there, f)| {
            *other != tile && there.far(at) < SAME && f.size.far(form.size) < SAME
        });
        if let Some((other, there, _)) = same {
            let off = there.far(at);
            if off > TOLERANCE {
                let (one, two) = (number(*other), number(tile));
                let message =
                    format!("a mark is not at one place on sheet {one} and sheet {two}");
                findings.push(
                    error("marks-disagree", message)
                        .held(
                            format!("{off:.3} mm apart"),
                            format!("at most {TOLERANCE} mm"),
                        )
                        .remedy(ANEW),
                );
            }
            continue;
        }
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
