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
        let rows = piece
            .marks
            .iter()
            .filter(|m| m.kind != MarkKind::Bend)
            .map(|m| row(piece, m, off_centre, wording))
            .collect();
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
        MarkKind::Target => Word::OnBlank,
        MarkKind::Tip => Word::Tip,
    });
    let is_named = matches!(
        mark.kind,
        MarkKind::Fastener | MarkKind::Hole | MarkKind::Fitting | MarkKind::Target
    );
    if is_named && !mark.label.is_empty() {
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
