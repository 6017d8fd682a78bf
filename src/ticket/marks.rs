//! The tape readings: every mark as a tape reads it, to lay out a strap without the print.

use super::{Body, Part, Table, TicketInput, copies_name};
use crate::geom::Length;
use crate::job::FeatureId;
use crate::layout::{Layout, Mark, MarkKind, Piece, Shape};
use crate::words::{Units, Word, Wording};
use std::collections::BTreeMap;

/// A table for each piece; copies with the same readings share one.
pub(super) fn parts(input: &TicketInput<'_>) -> Vec<Part> {
    let TicketInput { layout, wording, .. } = *input;
    let has_several = layout.pieces.len() > 1;
    let part = |name: &str, piece: &Piece, table: Table| {
        let from = match piece.bend {
            Some(_) => Word::FromBend,
            None if piece.extent.from == Length::ZERO => Word::FromZero,
            None => Word::FromMark,
        };
        let title = format!("{}, {}", wording.say(Word::MarksByTape), wording.say(from));
        let heading = if has_several { wording.labelled(name, &title) } else { title };
        Part { heading, body: Body::Marks(table) }
    };
    let mut parts = Vec::new();
    for copies in layout.copies() {
        let marked = copies.pieces.iter().filter(|p| !p.marks.is_empty());
        let tables: Vec<(&Piece, Table)> =
            marked.map(|p| (p, table(layout, p, wording))).collect();
        let is_shared = tables.windows(2).all(|pair| pair[0].1 == pair[1].1);
        for (piece, table) in tables {
            if is_shared {
                parts.push(part(&copies_name(&copies, wording), piece, table));
                break;
            }
            parts.push(part(&piece.label(wording), piece, table));
        }
    }
    parts
}

/// What the ticket says of one mark: its name, its reading, its form and how far it is off the
/// centre line.
#[cfg(feature = "page")]
pub(crate) fn entry(
    layout: &Layout,
    piece: &Piece,
    mark: &Mark,
    wording: Wording,
) -> [String; 4] {
    let [reading, ..] = readings(piece, mark, wording);
    let across = off_centre(mark.at.y, wording);
    [name(layout, mark, wording), reading, form(mark, wording), across]
}

/// More equal and evenly spaced holes than this are laid out with dividers, so they have one
/// entry.
const MAX_SINGLE: usize = 12;
/// Even spaces differ by their roundings only.
const TOLERANCE: Length = Length::from_um(2);

/// Equal holes of a feature, in a line along the strap.
type LineKey = (FeatureId, MarkKind, Shape, Length);

fn line_key(mark: &Mark) -> LineKey {
    (mark.feature, mark.kind, mark.shape, mark.at.y)
}

/// How the rows of a piece's table are written.
struct Rows<'a> {
    piece: &'a Piece,
    wording: Wording,
    /// Whether there is a column for places off the centre line.
    has_across: bool,
}

fn table(layout: &Layout, piece: &Piece, wording: Wording) -> Table {
    let is_single = |m: &&Mark| !matches!(m.kind, MarkKind::Bend | MarkKind::Stitch);
    let mut lines: BTreeMap<LineKey, Vec<&Mark>> = BTreeMap::new();
    for mark in piece.marks.iter().filter(is_single) {
        lines.entry(line_key(mark)).or_default().push(mark);
    }
    let has_across = lines.keys().any(|(.., y)| *y != Length::ZERO);
    // What is left are the lines with one entry each, and their spaces.
    let mut runs: BTreeMap<LineKey, (Vec<&Mark>, Length)> = BTreeMap::new();
    for (key, line) in lines.into_iter().filter(|(_, line)| line.len() > MAX_SINGLE) {
        if let Some(space) = even_space(&line) {
            runs.insert(key, (line, space));
        }
    }
    let readings = match wording.units {
        Units::Inches => [Some(Word::Nearest32), Some(Word::Rest), None],
        Units::Millimetres | Units::Both => {
            [None, Some(Word::Nearest32), Some(Word::Rest)]
        }
    };
    let mut head = vec![wording.say(Word::Mark).to_owned()];
    head.extend(readings.map(|w| w.map_or("mm", |w| wording.say(w)).to_owned()));
    head.push(wording.say(Word::Form).to_owned());
    if has_across {
        head.push(wording.say(Word::Across).to_owned());
    }
    let rows = Rows { piece, wording, has_across };
    let mut all: Vec<Vec<String>> = Vec::new();
    for mark in piece.marks.iter().filter(is_single) {
        match runs.get(&line_key(mark)) {
            None => {
                let form = form(mark, wording);
                all.push(rows.row(
                    mark,
                    name(layout, mark, wording),
                    form,
                    Some(mark.at.y),
                ));
            }
            Some((line, space)) if line[0] == mark => {
                all.extend(rows.run(line, Some(*space)));
            }
            Some(_) => {}
        }
    }
    all.extend(rows.seams());
    Table { head, rows: all }
}

impl Rows<'_> {
    /// `across` is the place off the centre line, if it is the same for all holes.
    fn row(
        &self,
        mark: &Mark,
        name: String,
        form: String,
        across: Option<Length>,
    ) -> Vec<String> {
        let mut cells = vec![name];
        cells.extend(readings(self.piece, mark, self.wording));
        cells.push(form);
        if self.has_across {
            let across = across.map(|y| off_centre(y, self.wording));
            cells.push(across.unwrap_or_default());
        }
        cells
    }

    /// Many holes as two rows: their number and the first, then the last and their space.
    fn run(&self, line: &[&Mark], space: Option<Length>) -> Vec<Vec<String>> {
        let (Some(first), Some(last)) = (line.first(), line.last()) else {
            return Vec::new();
        };
        let wording = self.wording;
        let across = Some(first.at.y).filter(|y| line.iter().all(|m| m.at.y == *y));
        let name = format!("{} × {}", line.len(), kind(first, wording));
        let pitch =
            space.map(|s| wording.fill(Word::Pitch, &[("length", &wording.size(s))]));
        vec![
            self.row(first, name, form(first, wording), across),
            self.row(last, "…".to_owned(), pitch.unwrap_or_default(), across),
        ]
    }

    /// One entry for each seam.
    fn seams(&self) -> Vec<Vec<String>> {
        let mut seams: BTreeMap<FeatureId, Vec<&Mark>> = BTreeMap::new();
        for mark in self.piece.marks.iter().filter(|m| m.kind == MarkKind::Stitch) {
            seams.entry(mark.feature).or_default().push(mark);
        }
        seams.values().flat_map(|seam| self.run(seam, stitch_space(seam))).collect()
    }
}

/// The space between marks; `None` if they are not evenly spaced.
fn even_space(line: &[&Mark]) -> Option<Length> {
    let (first, last) = (line.first()?, line.last()?);
    let spaces = i64::try_from(line.len()).ok()? - 1;
    let even = (last.at.x - first.at.x).times(1, spaces.max(1));
    let is_even =
        |pair: &[&Mark]| (pair[1].at.x - pair[0].at.x - even).abs() <= TOLERANCE;
    (spaces > 0 && even > Length::ZERO && line.windows(2).all(is_even)).then_some(even)
}

/// The reading in millimetres, to the nearest 1/32 in, and the rest. In inches, the
/// millimetres come last.
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

/// The space between stitches, if all lines along the strap have the same. Curves and lines
/// across do not count.
fn stitch_space(seam: &[&Mark]) -> Option<Length> {
    let mut lines: BTreeMap<Length, Vec<&Mark>> = BTreeMap::new();
    for &mark in seam {
        lines.entry(mark.at.y).or_default().push(mark);
    }
    let mut spaces = lines.values().filter(|l| l.len() > 2).map(|l| even_space(l));
    let first = spaces.next().flatten()?;
    let is_same = |s: Option<Length>| s.is_some_and(|s| (s - first).abs() <= TOLERANCE);
    spaces.all(is_same).then_some(first)
}

/// A length with its sign, such as `+0.3 mm`; zero is `0`.
fn signed(length: Length, wording: Wording) -> String {
    let shown = wording.number(length.abs(), 1);
    if shown == wording.number(Length::ZERO, 1) {
        return "0".to_owned();
    }
    let sign = if length < Length::ZERO { "−" } else { "+" };
    format!("{sign}{shown} mm")
}

/// The distance from the centre line; inches are rounded to 1/64.
fn off_centre(y: Length, wording: Wording) -> String {
    let tape = y.abs().tape();
    if wording.units != Units::Inches || tape.sixty_fourths == 0 {
        return signed(y, wording);
    }
    let sign = if y < Length::ZERO { "−" } else { "+" };
    format!("{sign}{tape}")
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
        // A label such as `ring-fastener` names the kind already.
        if label.contains(kind) { label } else { format!("{kind} {label}") }
    } else {
        kind.to_owned()
    }
}

/// The size of a mark in one unit; the list of tools has both.
fn form(mark: &Mark, wording: Wording) -> String {
    match mark.shape {
        Shape::Round { diameter } => format!("Ø {}", wording.near(diameter)),
        // A slit is cut with a knife: its width is that of the line on paper.
        Shape::Slot { length, .. } if mark.kind == MarkKind::Slit => wording.near(length),
        Shape::Slot { length, width } => wording.near_oblong(length, width),
        Shape::Across | Shape::Point => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_off_the_centre_is_not_shown_as_nothing() {
        let inches = Wording { units: Units::Inches, ..Wording::default() };
        for (um, shown) in
            [(0, "0"), (-100, "−0.1 mm"), (100, "+0.1 mm"), (-400, "−1/64 in")]
        {
            assert_eq!(off_centre(Length::from_um(um), inches), shown);
        }
    }
}
