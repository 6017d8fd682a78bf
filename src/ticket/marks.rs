//! Every mark as a tape reads it, so that the strap can be laid out without the print.

use super::{Body, Part, Subject, Table};
use crate::geom::Length;
use crate::layout::{Mark, MarkKind, Piece, Shape};
use crate::words::{Word, Wording};

/// One table a piece.
pub(super) fn parts(subject: &Subject<'_>) -> Vec<Part> {
    let wording = subject.wording;
    let several = subject.layout.pieces.len() > 1;
    let part = |piece: &Piece| {
        let from = if piece.bend.is_some() { Word::FromBend } else { Word::FromZero };
        let name = if several { format!("{}: ", piece.name) } else { String::new() };
        let title = wording.say(Word::MarksByTape);
        let heading = format!("{name}{title}, {}", wording.say(from));
        let off_centre = piece.marks.iter().any(|m| m.at.y != Length::ZERO);
        let mut head = vec![
            wording.say(Word::Mark).to_owned(),
            "mm".to_owned(),
            wording.say(Word::Nearest32).to_owned(),
            wording.say(Word::Rest).to_owned(),
            wording.say(Word::Form).to_owned(),
        ];
        if off_centre {
            head.push(wording.say(Word::Across).to_owned());
        }
        let single = |m: &&Mark| !matches!(m.kind, MarkKind::Bend | MarkKind::Stitch);
        let mut rows: Vec<Vec<String>> = piece
            .marks
            .iter()
            .filter(single)
            .map(|m| row(piece, m, off_centre, wording))
            .collect();
        rows.extend(seams(piece, off_centre, wording));
        Part { heading, body: Body::Table(Table { head, rows }) }
    };
    subject.layout.pieces.iter().filter(|p| !p.marks.is_empty()).map(part).collect()
}

fn row(piece: &Piece, mark: &Mark, off_centre: bool, wording: Wording) -> Vec<String> {
    let reading = piece.from_bend(mark.at.x);
    let side = if mark.at.x < Length::ZERO { "−" } else { "" };
    let tape = reading.tape_32();
    let mut cells = vec![
        name(mark, wording),
        format!("{side}{}", wording.number(reading, 1)),
        format!("{side}{tape}"),
        signed(tape.rest, wording),
        form(mark, wording),
    ];
    if off_centre {
        cells.push(signed(mark.at.y, wording));
    }
    cells
}

/// One row a seam: how many holes, and between which readings; the paper has each of them.
fn seams(piece: &Piece, off_centre: bool, wording: Wording) -> Vec<Vec<String>> {
    let stitches = || piece.marks.iter().filter(|m| m.kind == MarkKind::Stitch);
    let mut names: Vec<&str> = stitches().map(|m| m.feature.as_str()).collect();
    names.sort_unstable();
    names.dedup();
    let seam = |name: &str| {
        let own = || stitches().filter(|m| m.feature == name);
        let (first, last) = (own().next()?, own().next_back()?);
        let ends = [first, last].map(|m| row(piece, m, off_centre, wording));
        let kind = wording.say(Word::Stitch);
        let mut cells = vec![format!("{} × {kind}", own().count())];
        cells.extend([1, 2].map(|i| format!("{} … {}", ends[0][i], ends[1][i])));
        cells.extend([String::new(), form(first, wording)]);
        cells.extend(off_centre.then(String::new));
        Some(cells)
    };
    names.into_iter().filter_map(seam).collect()
}

/// What is left over, `+0.3 mm`.
fn signed(length: Length, wording: Wording) -> String {
    let shown = wording.number(length.abs(), 1);
    if shown == wording.number(Length::ZERO, 1) {
        return "0".to_owned();
    }
    let sign = if length < Length::ZERO { "−" } else { "+" };
    format!("{sign}{shown} mm")
}

fn name(mark: &Mark, wording: Wording) -> String {
    let kind = wording.say(match mark.kind {
        MarkKind::End => Word::End,
        MarkKind::Bend => Word::Bend,
        MarkKind::Slot => Word::Slot,
        MarkKind::Fastener => Word::Fastener,
        MarkKind::Hole => Word::Hole,
        MarkKind::Fitting => Word::Fitting,
        MarkKind::Eyelet => Word::Eyelet,
        MarkKind::Snap => Word::Snap,
        MarkKind::Stitch => Word::Stitch,
        MarkKind::Slit => Word::Slit,
        MarkKind::Target => Word::OnBlank,
        MarkKind::Tip => Word::Tip,
    });
    let is_named = !matches!(mark.kind, MarkKind::End | MarkKind::Bend | MarkKind::Tip);
    if is_named && !mark.label.is_empty() && mark.label != mark.kind.word() {
        format!("{kind} {}", wording.label(&mark.label))
    } else {
        kind.to_owned()
    }
}

fn form(mark: &Mark, wording: Wording) -> String {
    match mark.shape {
        Shape::Round { diameter } => format!("Ø {} mm", wording.plain(diameter)),
        Shape::Slot { length, width } => {
            format!("{} × {} mm", wording.plain(length), wording.plain(width))
        }
        Shape::Across | Shape::Point => String::new(),
    }
}
