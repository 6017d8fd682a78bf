//! Every mark as a tape reads it, so that the strap can be laid out without the print.

use super::{Body, Part, Subject, Table, called};
use crate::geom::Length;
use crate::layout::{Mark, MarkKind, Piece, Shape};
use crate::words::{Word, Wording};

/// One table a piece; copies that read the same share one.
pub(super) fn parts(subject: &Subject<'_>) -> Vec<Part> {
    let Subject { layout, wording, .. } = *subject;
    let several = layout.pieces.len() > 1;
    let part = |name: String, piece: &Piece, table: Table| {
        let from = match piece.bend {
            Some(_) => Word::FromBend,
            None if piece.extent.from == Length::ZERO => Word::FromZero,
            None => Word::FromMark,
        };
        let name = if several { format!("{name}: ") } else { String::new() };
        let title = wording.say(Word::MarksByTape);
        let heading = format!("{name}{title}, {}", wording.say(from));
        Part { heading, body: Body::Table(table) }
    };
    let mut parts = Vec::new();
    for copies in layout.copies() {
        let marked = copies.pieces.iter().filter(|p| !p.marks.is_empty());
        let tables: Vec<(&Piece, Table)> =
            marked.map(|p| (p, table(p, wording))).collect();
        match tables.as_slice() {
            [] => {}
            [(piece, first), others @ ..] if others.iter().all(|(_, t)| t == first) => {
                parts.push(part(called(&copies, wording), piece, first.clone()));
            }
            all => {
                let apart = all.iter();
                parts.extend(
                    apart.map(|(p, t)| part(wording.piece(&p.name), p, t.clone())),
                );
            }
        }
    }
    parts
}

fn table(piece: &Piece, wording: Wording) -> Table {
    let singles = || {
        let single = |m: &&Mark| !matches!(m.kind, MarkKind::Bend | MarkKind::Stitch);
        piece.marks.iter().filter(single)
    };
    let off_centre = singles().any(|m| m.at.y != Length::ZERO);
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
    let mut rows: Vec<Vec<String>> =
        singles().map(|m| row(piece, m, off_centre, wording)).collect();
    rows.extend(seams(piece, off_centre, wording));
    Table { head, rows }
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
