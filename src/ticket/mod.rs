//! The ticket: what is made, for whom, with what and in which order. It is printed before
//! the sheets and on the terminal.

mod hardware;
mod marks;
mod nested;
mod supplies;
mod text;
mod tools;
mod work;

pub use hardware::{Hardware, Kind, hardware};
#[cfg(feature = "page")]
pub(crate) use marks::entry;
pub use nested::nested;
pub use text::text;
pub(crate) use text::write_table;
pub use work::{assumed, computed_for};

use crate::fit::Fit;
use crate::geom::Length;
use crate::job::{Job, MeasureMethod};
use crate::layout::{Copies, Layout, Mark, MarkKind};
use crate::words::{Units, Word, Wording};

/// A part of the ticket: a heading and what is below it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// The heading; may be empty.
    pub heading: String,
    /// What is below it.
    pub body: Body,
}

impl Part {
    fn new(input: &TicketInput<'_>, heading: Word, body: Body) -> Self {
        Self { heading: input.wording.say(heading).to_owned(), body }
    }
}

/// What is below a heading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Body {
    /// One line after another.
    Lines(Vec<String>),
    /// Steps, numbered from 1.
    Steps(Vec<String>),
    /// Boxes to tick.
    Checks(Vec<String>),
    /// A table.
    Table(Table),
    /// A table of marks, each with a box to tick.
    Marks(Table),
}

/// A table; every row has as many cells as the head.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Table {
    /// The names of the columns.
    pub head: Vec<String>,
    /// The rows.
    pub rows: Vec<Vec<String>>,
}

impl Table {
    pub(crate) fn new<'a>(
        head: impl IntoIterator<Item = &'a str>,
        rows: Vec<Vec<String>>,
    ) -> Self {
        Self { head: head.into_iter().map(ToOwned::to_owned).collect(), rows }
    }

    /// The head, then the rows.
    pub fn lines(&self) -> impl Iterator<Item = &[String]> {
        std::iter::once(self.head.as_slice()).chain(self.rows.iter().map(Vec::as_slice))
    }

    /// Whether the cells of a column are numbers, which are aligned to the right. The first
    /// column names the rows and never is.
    pub fn is_numeric(&self, column: usize) -> bool {
        if column == 0 {
            return false;
        }
        let starts = |cell: &String| {
            cell.starts_with(|c: char| c.is_ascii_digit() || "+-−~".contains(c))
        };
        let mut cells = self.rows.iter().filter_map(|row| row.get(column));
        cells.clone().any(starts) && cells.all(|c| c.is_empty() || starts(c))
    }
}

/// A whole ticket.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ticket {
    /// The word for a ticket.
    pub name: String,
    /// What is made.
    pub title: String,
    /// Whom it is for, as a phrase; may be empty.
    pub wearer: String,
    /// Its parts, in reading order.
    pub parts: Vec<Part>,
    /// The units and the language.
    pub wording: Wording,
}

/// What a ticket is written from.
#[derive(Clone, Copy, Debug)]
pub struct TicketInput<'a> {
    /// The job.
    pub job: &'a Job,
    /// The fit, for a strap that closes round a body.
    pub fit: Option<&'a Fit>,
    /// The pieces with their marks.
    pub layout: &'a Layout,
    /// The units and the language.
    pub wording: Wording,
}

/// Writes the ticket of a job.
///
/// ```
/// use strapwright::ticket::{TicketInput, text, ticket};
/// use strapwright::words::Wording;
///
/// let belt = "template = \"belt\"\nmeasure.value = \"34 in\"\n";
/// let laid = strapwright::prepare("belt.toml", belt, &[]).laid;
/// let (job, fit, layout) = laid.expect("no mistakes");
/// let wording = Wording::default();
/// let (fit, layout) = (fit.as_ref(), &layout);
/// let ticket = ticket(&TicketInput { job: &job, fit, layout, wording });
/// assert!(text(&ticket).contains("buckle"));
/// ```
pub fn ticket(input: &TicketInput<'_>) -> Ticket {
    let TicketInput { job, wording, .. } = *input;
    let wearer = job.wearer.value.trim();
    let wearer = if wearer.is_empty() {
        String::new()
    } else {
        wording.fill(Word::For, &[("wearer", &wearer)])
    };
    let parts = [measure(input), Some(pieces(input)), served(input), on_blank(input)]
        .into_iter()
        .flatten()
        .chain([work::checks(input)])
        .chain(marks::parts(input))
        .chain(closing_parts(input, false));
    Ticket {
        name: wording.say(Word::Ticket).to_owned(),
        title: wording.name(&job.name(&job.title)).to_owned(),
        wearer,
        parts: parts.collect(),
        wording,
    }
}

/// The parts after the tape readings.
fn closing_parts(input: &TicketInput<'_>, is_nested: bool) -> impl Iterator<Item = Part> {
    let steps = work::steps(input, is_nested);
    let work = [steps, work::cautions(input)];
    let bought = [hardware::part(input), supplies::part(input)].into_iter().flatten();
    [tools::part(input)].into_iter().chain(bought).chain(work)
}

fn measure(input: &TicketInput<'_>) -> Option<Part> {
    let TicketInput { job, wording, .. } = *input;
    let measure = &job.worn.as_ref()?.measure;
    let taken = wording.say(match measure.taken.value {
        MeasureMethod::Tape => Word::TakenTape,
        MeasureMethod::TapeWithFingers => Word::TakenFingers,
        MeasureMethod::BendToHole => Word::TakenBend,
        MeasureMethod::BarToHole => Word::TakenBar,
        MeasureMethod::BarToTip => Word::TakenTip,
        MeasureMethod::SizingStrap => Word::TakenSizing,
        MeasureMethod::FrameToHole => Word::TakenFrame,
        MeasureMethod::Trousers => Word::TakenTrousers,
    });
    let mut line = wording.labelled(taken, &wording.length(measure.value.value, 1));
    if let Some(hole) = &measure.hole {
        line = line + ", " + &wording.fill(Word::SizingHole, &[("hole", &hole.value)]);
    }
    if measure.ease.value != Length::ZERO {
        let ease = wording.length(measure.ease.value, 1);
        line = line + ", " + &wording.fill(Word::Ease, &[("ease", &ease)]);
    }
    let size = job.stock.as_ref().and_then(|s| s.size());
    let size = size.map(|size| wording.fill(Word::OneSize, &[("size", &size.label)]));
    let lines = [line].into_iter().chain(size).collect();
    Some(Part::new(input, Word::Measure, Body::Lines(lines)))
}

/// `2 × front, 1 mirrored`.
fn copies_name(copies: &Copies<'_>, wording: Wording) -> String {
    let name = wording.name(copies.name);
    let times = match copies.pieces.len() {
        1 => String::new(),
        n => format!("{n} × "),
    };
    let mirrored = match copies.mirrored() {
        0 => String::new(),
        n => format!(", {n} {}", wording.say(Word::Mirrored)),
    };
    format!("{times}{name}{mirrored}")
}

fn pieces(input: &TicketInput<'_>) -> Part {
    let table = pieces_table(input);
    Part::new(input, Word::Pieces, Body::Table(table))
}

fn pieces_table(input: &TicketInput<'_>) -> Table {
    let TicketInput { layout, wording, .. } = *input;
    // Both units in one row would make the table too wide: inches get a row of their own.
    let all_units: &[Units] = match wording.units {
        Units::Both => &[Units::Millimetres, Units::Inches],
        Units::Millimetres => &[Units::Millimetres],
        Units::Inches => &[Units::Inches],
    };
    let mut rows = Vec::new();
    for copies in layout.copies() {
        let piece = &copies.pieces[0];
        let mut name = copies_name(&copies, wording);
        for &units in all_units {
            let wording = Wording { units, ..wording };
            let [length, width] =
                [piece.extent.length(), piece.width].map(|l| wording.length(l, 1));
            let thickness = wording.thickness(piece.thickness);
            rows.push(vec![std::mem::take(&mut name), length, width, thickness]);
        }
    }
    let names = [Word::CutLength, Word::Width, Word::Thickness];
    let names = names.map(|w| wording.say(w).to_owned());
    Table { head: [String::new()].into_iter().chain(names).collect(), rows }
}

/// The girths that the strap serves at the tightest hole, the size hole and the loosest
/// hole; `None` without such a hole, or where the strap closes round no body.
pub fn girths(fit: Option<&Fit>, layout: &Layout) -> [Option<Length>; 3] {
    let holes = || layout.size_holes().map(|m| m.at.x);
    [holes().min(), layout.size_hole(), holes().max()].map(|x| Some(fit?.girth_at(x?)))
}

/// The girths at the tightest hole, the size hole and the loosest, or else the lengths that
/// the strap serves.
fn served(input: &TicketInput<'_>) -> Option<Part> {
    let TicketInput { job, fit, layout, wording } = *input;
    let words = [Word::Tightest, Word::SizeHole, Word::Loosest];
    let lines: Vec<String> = words
        .into_iter()
        .zip(girths(fit, layout))
        .filter_map(|(word, girth)| {
            Some(wording.labelled(wording.say(word), &wording.girth(girth?)))
        })
        .collect();
    if !lines.is_empty() {
        return Some(Part::new(input, Word::Serves, Body::Lines(lines)));
    }
    let range = length_range(layout.serves(job, fit)?, wording);
    let name = job.name(&job.serves.as_ref()?.what);
    let lines = vec![wording.labelled(wording.name(&name), &range)];
    Some(Part::new(input, Word::ServesLengths, Body::Lines(lines)))
}

/// What a ready-cut blank has already, as it reads flat from its buckle end.
fn on_blank(input: &TicketInput<'_>) -> Option<Part> {
    let TicketInput { layout, wording, .. } = *input;
    let piece = layout.strap()?;
    let line = |mark: &Mark| {
        let label = layout.label(mark, wording);
        let name = wording.name(layout.feature(mark));
        let name =
            if label.is_empty() { name.to_owned() } else { format!("{name} {label}") };
        wording.labelled(&name, &wording.length(mark.at.x - piece.extent.from, 1))
    };
    let targets = piece.marks.iter().filter(|m| m.kind == MarkKind::Target);
    let lines: Vec<String> = targets.map(line).collect();
    (!lines.is_empty()).then(|| Part::new(input, Word::BlankHas, Body::Lines(lines)))
}

/// `826 mm – 928 mm`, or one length if both are equal.
fn length_range((least, most): (Length, Length), wording: Wording) -> String {
    let [least, most] = [least, most].map(|l| wording.girth(l));
    if least == most { least } else { format!("{least} – {most}") }
}

#[cfg(test)]
mod tests;
