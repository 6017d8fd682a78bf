//! The ticket: what is made, for whom, in which order and with what, in words alone. It is
//! set on the first sheet of a print and on the terminal.

mod hardware;
mod marks;
mod nested;
mod text;
mod tools;
mod work;

pub use hardware::{Hardware, Round, Through, hardware};
pub use nested::nested;
pub use text::text;
pub(crate) use text::write_table;

use crate::fit::Fit;
use crate::geom::Length;
use crate::job::{Job, MeasureMethod};
use crate::layout::{Copies, Layout};
use crate::words::{Units, Word, Wording};

/// A part of the ticket below one heading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// Its heading; may be empty.
    pub heading: String,
    /// What stands below.
    pub body: Body,
}

/// What stands below a heading.
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
}

/// Rows of as many cells as the head has.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Table {
    /// Names of the columns.
    pub head: Vec<String>,
    /// The rows.
    pub rows: Vec<Vec<String>>,
}

impl Table {
    /// The head, then the rows.
    pub fn lines(&self) -> impl Iterator<Item = &[String]> {
        std::iter::once(self.head.as_slice()).chain(self.rows.iter().map(Vec::as_slice))
    }

    /// Whether every cell of this column is a number, so that it is set at the right. The
    /// first column says what each row is of.
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
    /// The word for it.
    pub name: String,
    /// What is made.
    pub title: String,
    /// For whom, in words; may be empty.
    pub wearer: String,
    /// Its parts in reading order.
    pub parts: Vec<Part>,
    /// How numbers and words are written on it.
    pub wording: Wording,
}

/// What a ticket is written from.
#[derive(Clone, Copy, Debug)]
pub struct TicketInput<'a> {
    /// The strap as it was asked for.
    pub job: &'a Job,
    /// What follows from the body, for a strap that closes round one.
    pub fit: Option<&'a Fit>,
    /// The pieces with their marks.
    pub layout: &'a Layout,
    /// How it is written.
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
        wording.fill(Word::For, &[&wearer])
    };
    let parts = [
        measured(input),
        pieces(input),
        served(input),
        marks::parts(input),
        tools::tools(input),
        hardware::part(input),
        vec![work::checks(input), work::order(input, false), work::cautions(input)],
    ];
    Ticket {
        name: wording.say(Word::Ticket).to_owned(),
        title: wording.name(&job.name(&job.title)).to_owned(),
        wearer,
        parts: parts.into_iter().flatten().collect(),
        wording,
    }
}

fn measured(input: &TicketInput<'_>) -> Vec<Part> {
    let TicketInput { job, wording, .. } = *input;
    let Some(worn) = &job.worn else { return Vec::new() };
    let taken = wording.say(match worn.measure.taken.value {
        MeasureMethod::Tape => Word::TakenTape,
        MeasureMethod::TapeWithFingers => Word::TakenFingers,
        MeasureMethod::BendToHole => Word::TakenBend,
        MeasureMethod::BarToHole => Word::TakenBar,
        MeasureMethod::FrameToHole => Word::TakenFrame,
        MeasureMethod::Trousers => Word::TakenTrousers,
    });
    let value = wording.length(worn.measure.value.value, 1);
    let mut measure = vec![wording.said(taken, &value)];
    if worn.measure.ease.value != Length::ZERO {
        let ease = wording.length(worn.measure.ease.value, 1);
        measure.push(wording.fill(Word::Ease, &[&ease]));
    }
    let mut lines = vec![measure.join(", ")];
    if let Some(size) = job.stock.as_ref().and_then(|s| s.size()) {
        lines.push(wording.fill(Word::OneSize, &[&size.label]));
    }
    vec![Part {
        heading: wording.say(Word::Measure).to_owned(),
        body: Body::Lines(lines),
    }]
}

/// `2 × front, 1 mirrored`.
fn called(copies: &Copies<'_>, wording: Wording) -> String {
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

fn pieces(input: &TicketInput<'_>) -> Vec<Part> {
    let TicketInput { layout, wording, .. } = *input;
    // Both units side by side would make a wide table: inches stand below.
    let all_units: &[Units] = match wording.units {
        Units::Both => &[Units::Millimetres, Units::Inches],
        Units::Millimetres => &[Units::Millimetres],
        Units::Inches => &[Units::Inches],
    };
    let row = |copies: &Copies<'_>, units: Units| {
        let piece = &copies.pieces[0];
        let is_first = Some(&units) == all_units.first();
        let name = if is_first { called(copies, wording) } else { String::new() };
        let wording = Wording { units, ..wording };
        let mut cells = vec![name];
        cells.extend([piece.extent.length(), piece.width].map(|l| wording.length(l, 1)));
        cells.push(wording.thickness(piece.thickness));
        cells
    };
    let head = [Word::CutLength, Word::Width, Word::Thickness];
    let mut names = vec![String::new()];
    names.extend(head.map(|w| wording.say(w).to_owned()));
    vec![Part {
        heading: wording.say(Word::Pieces).to_owned(),
        body: Body::Table(Table {
            head: names,
            rows: layout
                .copies()
                .iter()
                .flat_map(|copies| all_units.iter().map(move |units| row(copies, *units)))
                .collect(),
        }),
    }]
}

/// The girths that the strap serves at the tightest hole, the size hole and the loosest
/// hole; `None` without such a hole, or where the strap closes round no body.
pub fn girths(fit: Option<&Fit>, layout: &Layout) -> [Option<Length>; 3] {
    let holes = || layout.size_holes().map(|m| m.at.x);
    [holes().min(), layout.size_hole(), holes().max()].map(|x| Some(fit?.girth_at(x?)))
}

/// The girths at the tightest hole, the size hole and the loosest, or the lengths that the
/// strap serves.
fn served(input: &TicketInput<'_>) -> Vec<Part> {
    let TicketInput { job, layout, wording, .. } = *input;
    let holes = || layout.size_holes().map(|m| m.at.x);
    let named = [
        (Word::Tightest, holes().min()),
        (Word::SizeHole, layout.size_hole()),
        (Word::Loosest, holes().max()),
    ];
    let line = |(word, x): (Word, Option<Length>)| {
        let girth = wording.length(input.fit?.girth_at(x?), 0);
        Some(wording.said(wording.say(word), &girth))
    };
    let girths: Vec<String> = named.into_iter().filter_map(line).collect();
    let part = |heading: Word, lines| Part {
        heading: wording.say(heading).to_owned(),
        body: Body::Lines(lines),
    };
    if !girths.is_empty() {
        return vec![part(Word::Serves, girths)];
    }
    let Some(((least, most), serves)) = layout.serves(job).zip(job.serves.as_ref())
    else {
        return Vec::new();
    };
    let [least, most] = [least, most].map(|l| wording.length(l, 0));
    let range = if least == most { least } else { format!("{least} – {most}") };
    let line = wording.said(wording.name(&job.name(&serves.what)), &range);
    vec![part(Word::ServesLengths, vec![line])]
}

#[cfg(test)]
mod tests;
