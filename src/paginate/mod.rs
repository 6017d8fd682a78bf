//! From the strap to the sheets: which stretch lies where, how the sheets are joined, and
//! everything that is drawn on them.

mod canvas;
mod fingerprint;
mod furniture;
mod joins;
mod lanes;
mod paper;
mod sheet;
#[cfg(test)]
mod tests;

pub use paper::{Form, Paper, Standard};
pub use sheet::{Anchor, Cross, Item, Layer, Pen, ScaleBar, Sheet, SheetSet, Tile, Tone};

use crate::diagnostic::{Finding, Severity};
use crate::fit::Fit;
use crate::geom::{Length, clip};
use crate::job::Job;
use crate::layout::Layout;
use std::fmt;

/// What is written at the head of every sheet.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Heading {
    /// What is made.
    pub title: String,
    /// For whom; may be empty.
    pub wearer: String,
    /// Which girths or lengths the strap serves, in a few words; may be empty.
    pub serves: String,
}

impl Heading {
    /// What the sheets of this job say at their head.
    pub fn of(job: &Job, fit: Option<&Fit>, layout: &Layout) -> Self {
        let girth = |x| fit.map(|f| f.girth_at(x).mm(0));
        let holes = || layout.size_holes(job).map(|m| m.at.x);
        let ends = (holes().min().and_then(girth), holes().max().and_then(girth));
        let serves = match (ends, layout.serves(job), &job.serves) {
            ((Some(least), Some(most)), _, _) => format!("girth {least} to {most} mm"),
            (_, Some((least, most)), Some(serves)) if least == most => {
                format!("{} {} mm", serves.what.value, least.mm(0))
            }
            (_, Some((least, most)), Some(serves)) => {
                format!("{} {} to {} mm", serves.what.value, least.mm(0), most.mm(0))
            }
            _ => String::new(),
        };
        let (title, wearer) = (job.title.value.clone(), job.wearer.value.clone());
        Self { title, wearer, serves }
    }
}

/// What is to be laid on which paper.
#[derive(Clone, Copy, Debug)]
pub struct Request<'a> {
    /// The pieces.
    pub layout: &'a Layout,
    /// What stands at the head of every sheet.
    pub heading: &'a Heading,
    /// What it is printed on.
    pub paper: &'a Paper,
}

impl<'a> Request<'a> {
    /// All of `layout` on `paper`.
    pub fn new(layout: &'a Layout, heading: &'a Heading, paper: &'a Paper) -> Self {
        Self { layout, heading, paper }
    }
}

/// Lays a layout on sheets of paper at full scale.
///
/// Sheets are numbered along the strap and their lanes fill from the top. Every mark is
/// whole on some sheet, and match lines keep off the marks where that can be.
///
/// # Errors
/// When the paper cannot take the strap.
pub fn paginate(request: &Request<'_>) -> Result<SheetSet, PaginateError> {
    let &Request { layout, heading, paper } = request;
    let plan = lanes::plan(layout, paper)?;
    let fingerprint = fingerprint::of(layout, heading, paper, &plan.joins);
    let scene = furniture::Scene {
        layout,
        heading,
        paper: paper.name(),
        fingerprint: &fingerprint,
        plan: &plan,
    };
    let sheets = (0..plan.sheets.len()).map(|i| furniture::draw(&scene, i)).collect();
    Ok(SheetSet {
        title: heading.title.clone(),
        wearer: heading.wearer.clone(),
        fingerprint,
        paper: paper.name().to_owned(),
        sheets,
        joins: plan.joins,
    })
}

/// Why a strap cannot be laid on a paper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PaginateError {
    /// A piece is wider than a sheet has room for.
    PieceTooWide {
        /// Name of the piece.
        piece: String,
        /// Its width.
        width: Length,
        /// The widest piece that would go on.
        room: Length,
    },
    /// A lane of the paper is too short to go on from join to join.
    PaperTooSmall {
        /// Name of the paper.
        paper: String,
    },
    /// More sheets than anybody tapes together.
    TooManySheets {
        /// Name of the paper.
        paper: String,
        /// How many it would take at least.
        sheets: usize,
        /// How many there may be.
        most: usize,
    },
}

/// The rules that this stage can find broken, each with what it means.
pub const RULES: &[(&str, &str)] = &[
    ("wider-than-paper", "a piece is wider than a sheet has room for"),
    ("paper-too-small", "a sheet is too small to go on from join to join"),
    ("too-many-sheets", "more sheets than anybody tapes together"),
];

impl PaginateError {
    /// The same as a finding that forbids the print.
    pub fn finding(&self) -> Finding {
        let new = |rule, message| Finding::new(rule, Severity::Error, message);
        match self {
            Self::PieceTooWide { piece, width, room } => new(
                "wider-than-paper",
                format!("piece `{piece}` is wider than the paper"),
            )
            .held(width.both(), format!("at most {} on this paper", room.both()))
            .remedy("choose a wider paper: --paper a3, tabloid or roll"),
            Self::PaperTooSmall { paper } => {
                new("paper-too-small", format!("paper `{paper}` is too small"))
                    .held(
                        "lanes shorter than an overlap and the longest mark",
                        "room to go on from join to join",
                    )
                    .remedy("choose a larger paper: --paper a4, letter or roll")
            }
            Self::TooManySheets { paper, sheets, most } => {
                new("too-many-sheets", "the strap takes too many sheets".to_owned())
                    .held(
                        format!("{sheets} sheets of `{paper}` or more"),
                        format!("at most {most} sheets"),
                    )
                    .remedy("choose a larger paper: --paper a3, tabloid or roll")
            }
        }
    }
}

impl fmt::Display for PaginateError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let finding = self.finding();
        write!(
            f,
            "{}: found {}, required {}; {}",
            finding.message, finding.found, finding.required, finding.remedy
        )
    }
}

impl std::error::Error for PaginateError {}
