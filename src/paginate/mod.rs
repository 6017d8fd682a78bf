//! From the strap to the sheets: which stretch lies where, how the sheets are joined, and
//! everything that is drawn on them.

mod arrange;
mod canvas;
mod clip;
mod cut;
mod fingerprint;
mod furniture;
mod in_joins;
mod joins;
mod lanes;
mod pack;
mod paper;
mod sheet;
#[cfg(test)]
mod tests;
#[cfg(test)]
mod wide_tests;

pub use paper::{Form, Paper, Standard};
pub use sheet::{Anchor, Cross, Item, Layer, Pen, ScaleBar, Sheet, SheetSet, Tile, Tone};

use crate::diagnostic::{Finding, Severity};
use crate::fit::Fit;
use crate::geom::Length;
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
    /// Which girths the strap serves, in a few words; may be empty.
    pub serves: String,
}

impl Heading {
    /// What the sheets of this job say at their head.
    pub fn of(job: &Job, fit: Option<&Fit>, layout: &Layout) -> Self {
        let girth = |x| fit.map(|f| f.girth_at(x).mm(0));
        let holes = || layout.size_holes(job).map(|m| m.at.x);
        let ends = (holes().min().and_then(girth), holes().max().and_then(girth));
        let serves = match ends {
            (Some(least), Some(most)) => format!("girth {least} to {most} mm"),
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
    /// Match lines to keep, from the buckle end on, where that is clear and costs no sheet:
    /// piece and place along x.
    pub keep: &'a [(usize, Length)],
    /// A print of which as many sheets as can be are to be used again: tiles that are the
    /// same lie on the same sheets where that costs none.
    pub like: Option<&'a SheetSet>,
}

impl<'a> Request<'a> {
    /// All of `layout` on `paper`.
    pub fn new(layout: &'a Layout, heading: &'a Heading, paper: &'a Paper) -> Self {
        Self { layout, heading, paper, keep: &[], like: None }
    }

    /// The same with joins and tiles where they are in `set`, as far as that costs nothing.
    #[must_use]
    pub fn keeping(self, set: &'a SheetSet) -> Self {
        Self { keep: &set.joins, like: Some(set), ..self }
    }
}

/// Lays a layout on sheets of paper at full scale.
///
/// All sheets lie the same way round; they are numbered along the strap and fill from the
/// top. Every mark is whole on some sheet, and joins keep off the marks wherever that can
/// be: a join or a sheet more is better than a mark that is cut. Then come the fewest
/// sheets, the fewest joins, and joins at even distances.
///
/// # Errors
/// When the paper is too small for a mark or a join, or the strap too long for it.
pub fn paginate(request: &Request<'_>) -> Result<SheetSet, PaginateError> {
    let &Request { layout, heading, paper, .. } = request;
    let plan = lanes::plan(request)?;
    let fingerprint = fingerprint::of(layout, heading, paper, &plan);
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
        findings: in_joins::findings(layout, &plan),
        joins: plan.joins,
        across: plan.across,
    })
}

/// Why a strap cannot be laid on a paper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PaginateError {
    /// A sheet is too small to go on from join to join, or for one of the marks.
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
    ("mark-in-join", "a mark, a curve or a seam lies where two sheets are joined"),
    ("paper-too-small", "a sheet is too small to go on from join to join"),
    ("too-many-sheets", "more sheets than anybody tapes together"),
];

impl PaginateError {
    /// The same as a finding that forbids the print.
    pub fn finding(&self) -> Finding {
        let new = |rule, message| Finding::new(rule, Severity::Error, message);
        match self {
            Self::PaperTooSmall { paper } => {
                new("paper-too-small", format!("paper `{paper}` is too small"))
                    .held(
                        "lanes shorter than an overlap and the longest mark",
                        "room to go on from join to join",
                    )
                    .remedy("choose a larger paper: --paper a4, letter or roll")
            }
            Self::TooManySheets { paper, sheets, most } => {
                new("too-many-sheets", "the job takes too many sheets".to_owned())
                    .held(
                        format!("at least {sheets} sheets of `{paper}`"),
                        format!("at most {most} sheets"),
                    )
                    .remedy("look at the measure and its unit, or choose a larger paper: --paper roll")
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
