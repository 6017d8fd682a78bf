//! Every mark as a tape reads it, so that the strap can be laid out without the print.

use super::{Body, Part, Table, TicketInput, called};
use crate::geom::Length;
use crate::job::FeatureId;
use crate::layout::{Layout, Mark, MarkKind, Piece, Shape};
use crate::words::{Units, Word, Wording};
use std::collections::BTreeMap;

/// One table a piece; copies that read the same share one.
pub(super) fn parts(input: &TicketInput<'_>) -> Vec<Part> {
    let TicketInput { layout, wording, .. } = *input;
    let several = layout.pieces.len() > 1;
    let part = |name: String, piece: &Piece, table: Table| {
        let from = match piece.bend {
            Some(_) => Word::FromBend,
            None if piece.extent.from == Length::ZERO => Word::FromZero,
            None => Word::FromMark,
        };
        let title = format!("{}, {}", wording.say(Word::MarksByTape), wording.say(from));
        let heading = if several { wording.said(&name, &title) } else { title };
        Part { heading, body: Body::Table(table) }
    };
    let mut parts = Vec::new();
    for copies in layout.copies() {
        let marked = copies.pieces.iter().filter(|p| !p.marks.is_empty());
        let tables: Vec<(&Piece, Table)> =
            marked.map(|p| (p, table(layout, p, wording))).collect();
        match tables.as_slice() {
            [] => {}
            [(piece, first), others @ ..] if others.iter().all(|(_, t)| t == first) => {
                parts.push(part(called(&copies, wording), piece, first.clone()));
            }
            all => {
                let apart = all.iter();
                parts.extend(apart.map(|(p, t)| part(p.label(wording), p, t.clone())));
            }
        }
    }
    parts
}

/// More equal holes than this, evenly apart, are laid out with dividers and not by the tape:
/// they have one entry.
const SINGLES: usize = 12;
/// Even steps differ by no more than their roundings.
const EVEN: Length = Length::from_um(2);

/// Equal holes of a feature in a line along the strap.
type Key = (FeatureId, MarkKind, Shape, Length);

fn table(layout: &Layout, piece: &Piece, wording: Wording) -> Table {
    let mut lines: BTreeMap<Key, Vec<&Mark>> = BTreeMap::new();
    let told = |m: &&Mark| !matches!(m.kind, MarkKind::Bend | MarkKind::Stitch);
    for mark in piece.marks.iter().filter(told) {
        lines.entry(key(mark)).or_default().push(mark);
    }
    let many = lines.iter().filter(|(_, line)| line.len() > SINGLES);
    let runs: BTreeMap<Key, (&[&Mark], Length)> = many
        .filter_map(|(key, line)| Some((*key, (line.as_slice(), step(line)?))))
        .collect();
    let off_centre = lines.keys().any(|(.., y)| *y != Length::ZERO);
    let readings = match wording.units {
        Units::Inches => [Some(Word::Nearest32), Some(Word::Rest), None],
        Units::Millimetres | Units::Both => {
            [None, Some(Word::Nearest32), Some(Word::Rest)]
        }
    };
    let mut head = vec![wording.say(Word::Mark).to_owned()];
    head.extend(readings.map(|w| w.map_or("mm", |w| wording.say(w)).to_owned()));
    head.push(wording.say(Word::Form).to_owned());
    if off_centre {
        head.push(wording.say(Word::Across).to_owned());
    }
    let mut rows: Vec<Vec<String>> = Vec::new();
    for mark in piece.marks.iter().filter(told) {
        match runs.get(&key(mark)) {
            None => {
                let name = name(layout, mark, wording);
                rows.push(row(piece, mark, name, off_centre, wording));
            }
            Some((line, step)) if line.first() == Some(&mark) => {
                rows.extend(run(piece, line, Some(*step), off_centre, wording));
            }
            Some(_) => {}
        }
    }
    rows.extend(seams(piece, off_centre, wording));
    Table { head, rows }
}

fn key(mark: &Mark) -> Key {
    (mark.feature, mark.kind, mark.shape, mark.at.y)
}

/// From one to the next, where they are evenly apart.
fn step(line: &[&Mark]) -> Option<Length> {
    let (first, last) = (line.first()?, line.last()?);
    let steps = i64::try_from(line.len()).ok()? - 1;
    let even = (last.at.x - first.at.x).times(1, steps.max(1));
    let is_even = |pair: &[&Mark]| (pair[1].at.x - pair[0].at.x - even).abs() <= EVEN;
    (steps > 0 && even > Length::ZERO && line.windows(2).all(is_even)).then_some(even)
}

fn row(
    piece: &Piece,
    mark: &Mark,
    name: String,
    off_centre: bool,
    wording: Wording,
) -> Vec<String> {
    let mut cells = vec![name];
    cells.extend(readings(piece, mark, wording));
    cells.push(form(mark, wording));
    if off_centre {
        cells.push(aside(mark.at.y, wording));
    }
    cells
}

/// The reading in millimetres, in inches, and what is left over; inches first where they are
/// the unit.
fn readings(piece: &Piece, mark: &Mark, wording: Wording) -> [String; 3] {
    let reading = piece.from_bend(mark.at.x);
    let side = if mark.at.x < Length::ZERO { "−" } else { "" };
    let tape = reading.tape_32();
    let mm = format!("{side}{}", wording.number(reading, 1));
    let inches = format!("{side}{tape}");
    // On the turn-back both readings are negative, and so is what is left over.
    let rest = if mark.at.x < Length::ZERO { -tape.rest } else { tape.rest };
    let rest = signed(rest, wording);
    match wording.units {
        Units::Inches => [inches, rest, mm],
        Units::Millimetres | Units::Both => [mm, inches, rest],
    }
}

/// Many holes as one entry: how many and the first of them, then the last and how far they
/// are apart.
fn run(
    piece: &Piece,
    line: &[&Mark],
    step: Option<Length>,
    off_centre: bool,
    wording: Wording,
) -> Vec<Vec<String>> {
    let (Some(first), Some(last)) = (line.first(), line.last()) else {
        return Vec::new();
    };
    let pitch = step.map(|s| wording.fill(Word::Pitch, &[&wording.size(s)]));
    let level = line.iter().all(|m| m.at.y == first.at.y);
    let ends = [
        (
            first,
            format!("{} × {}", line.len(), kind(first, wording)),
            form(first, wording),
        ),
        (last, "…".to_owned(), pitch.unwrap_or_default()),
    ];
    let row = |(mark, name, form): (&&Mark, String, String)| {
        let mut cells = vec![name];
        cells.extend(readings(piece, mark, wording));
        cells.push(form);
        let across = if level { aside(first.at.y, wording) } else { String::new() };
        cells.extend(off_centre.then_some(across));
        cells
    };
    ends.map(row).to_vec()
}

/// One entry a seam; the paper has each of its holes.
fn seams(piece: &Piece, off_centre: bool, wording: Wording) -> Vec<Vec<String>> {
    let mut all: BTreeMap<FeatureId, Vec<&Mark>> = BTreeMap::new();
    for mark in piece.marks.iter().filter(|m| m.kind == MarkKind::Stitch) {
        all.entry(mark.feature).or_default().push(mark);
    }
    let row = |seam: &Vec<&Mark>| run(piece, seam, pitch(seam), off_centre, wording);
    all.values().flat_map(row).collect()
}

/// From stitch to stitch, where all lines along the strap agree; curves and lines across
/// have no say.
fn pitch(seam: &[&Mark]) -> Option<Length> {
    let mut lines: BTreeMap<Length, Vec<&Mark>> = BTreeMap::new();
    for &mark in seam {
        lines.entry(mark.at.y).or_default().push(mark);
    }
    let mut steps = lines.values().filter(|l| l.len() > 2).map(|l| step(l));
    let first = steps.next().flatten()?;
    let agrees = |s: Option<Length>| s.is_some_and(|s| (s - first).abs() <= EVEN);
    steps.all(agrees).then_some(first)
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

/// How far off the centre line, of inches to the nearest 1/64.
fn aside(y: Length, wording: Wording) -> String {
    if wording.units != Units::Inches || y == Length::ZERO {
        return signed(y, wording);
    }
    let sign = if y < Length::ZERO { "−" } else { "+" };
    format!("{sign}{}", y.abs().tape())
}

fn kind(mark: &Mark, wording: Wording) -> &'static str {
    wording.say(match mark.kind {
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
    })
}

fn name(layout: &Layout, mark: &Mark, wording: Wording) -> String {
    let kind = kind(mark, wording);
    let is_named = !matches!(mark.kind, MarkKind::End | MarkKind::Bend | MarkKind::Tip);
    let label = layout.label(mark, wording);
    if is_named && !label.is_empty() {
        // `ring-fastener` says what it is.
        if label.contains(kind) { label } else { format!("{kind} {label}") }
    } else {
        kind.to_owned()
    }
}

/// In one unit: the list of tools has both.
fn form(mark: &Mark, wording: Wording) -> String {
    match mark.shape {
        Shape::Round { diameter } => format!("Ø {}", wording.near(diameter)),
        // A slit is a cut of the knife: its width is that of the line on paper.
        Shape::Slot { length, .. } if mark.kind == MarkKind::Slit => wording.near(length),
        Shape::Slot { length, width } => wording.near_oblong(length, width),
        Shape::Across | Shape::Point => String::new(),
    }
}
