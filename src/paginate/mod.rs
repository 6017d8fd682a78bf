//! From the strap to the sheets: which stretch lies where, how the sheets are joined, and
//! everything that is drawn on them.

mod annotations;
mod arrange;
mod canvas;
mod checks;
mod compare;
mod correction;
mod cut;
mod fingerprint;
mod in_joins;
mod joins;
mod lanes;
mod pack;
mod paper;
mod sheet;
#[cfg(test)]
mod tests;
mod ticket;
#[cfg(test)]
mod wide_tests;

pub use checks::{LastHole, StripCheck};
pub use compare::{Group, Swap, swap, together};
pub use correction::{Correction, Factor, Scaling};
pub use fingerprint::PrintSettings;
pub use paper::{Form, MARGIN, Paper, Standard};
pub use sheet::{
    Anchor, Cross, Item, Kept, Layer, Pen, ScaleBar, Sheet, SheetSet, TickRow, Tile, Tone,
};

use crate::diagnostic::{Finding, Severity};
use crate::fit::{Fit, MeasurementUncertainty};
use crate::geom::{Length, Point, clip};
use crate::job::Job;
use crate::layout::{Layout, NestedSize};
use crate::ticket::Ticket;
use crate::words::{Word, Wording};
use std::fmt;

/// Which sizes of a stock a print is for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Stocked {
    /// None: for one wearer.
    #[default]
    Not,
    /// One size, by its label.
    One(String),
    /// All of a span of sizes, which have these sheets in common.
    Common(String),
    /// All of a span of sizes, drawn into each other on one strap.
    Nested(String),
}

impl Stocked {
    /// The label of the one size; empty where it is not for one.
    pub fn one(&self) -> &str {
        if let Self::One(label) = self { label } else { "" }
    }

    /// As the sheets say it; empty where there is nothing to say.
    pub fn words(&self, wording: Wording) -> String {
        match self {
            Self::Not => String::new(),
            Self::One(label) => wording.fill(Word::OneSize, &[label]),
            Self::Common(range) => wording.fill(Word::CommonToSizes, &[range]),
            Self::Nested(range) => wording.fill(Word::NestedSizes, &[range]),
        }
    }
}

/// What is written at the head of every sheet.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Heading {
    /// What is made.
    pub title: String,
    /// For whom; may be empty.
    pub wearer: String,
    /// Which girths or lengths the strap serves, in a few words; may be empty.
    pub serves: String,
    /// Which sizes of a stock it is for.
    pub stocked: Stocked,
    /// Sheets of other prints that complete this one.
    pub kept: Vec<Kept>,
    /// How words and numbers are written on the sheets.
    pub wording: Wording,
}

impl Heading {
    /// What the sheets of this job say at their head, in English and millimetres.
    pub fn of(job: &Job, fit: Option<&Fit>, layout: &Layout) -> Self {
        Self::worded(job, fit, layout, Wording::default())
    }

    /// The same as it is to be written.
    pub fn worded(
        job: &Job,
        fit: Option<&Fit>,
        layout: &Layout,
        wording: Wording,
    ) -> Self {
        let shown = |l: Length| wording.length(l, 0);
        let girth = |x| fit.map(|f| shown(f.girth_at(x)));
        let holes = || layout.size_holes().map(|m| m.at.x);
        let ends = (holes().min().and_then(girth), holes().max().and_then(girth));
        let serves = match (ends, layout.serves(job), &job.serves) {
            ((Some(least), Some(most)), _, _) => {
                wording.fill(Word::GirthRange, &[&least, &most])
            }
            (_, Some((least, most)), Some(serves)) if least == most => {
                format!("{} {}", wording.name(&job.name(&serves.what)), shown(least))
            }
            (_, Some((least, most)), Some(serves)) => {
                let what = job.name(&serves.what);
                let what = wording.name(&what);
                format!("{what} {} – {}", shown(least), shown(most))
            }
            _ => String::new(),
        };
        let title = wording.name(&job.name(&job.title)).to_owned();
        let wearer = job.wearer.value.clone();
        let size = job.stock.as_ref().and_then(|s| s.size());
        let stocked = size.map_or(Stocked::Not, |s| Stocked::One(s.label.clone()));
        Self { title, wearer, serves, stocked, kept: Vec::new(), wording }
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
    /// What undoes the printer's error; `None` for a printer that is taken to be true.
    pub correction: Option<&'a Correction>,
    /// With what the joined strip will be measured.
    pub measuring: MeasurementUncertainty,
    /// The ticket that goes before the strap's sheets, if one is wanted.
    pub ticket: Option<&'a Ticket>,
    /// Match lines to keep, from the buckle end on, where that is clear and costs no sheet:
    /// piece and place along x.
    pub keep: &'a [(usize, Length)],
    /// A print of which as many sheets as can be are to be used again: tiles that are the
    /// same lie on the same sheets where that costs none.
    pub like: Option<&'a SheetSet>,
    /// The rows of nested sizes.
    pub rows: &'a [NestedSize],
}

impl<'a> Request<'a> {
    /// All of `layout` on `paper`, by a true printer and an ordinary ruler.
    pub fn new(layout: &'a Layout, heading: &'a Heading, paper: &'a Paper) -> Self {
        Self {
            layout,
            heading,
            paper,
            correction: None,
            measuring: MeasurementUncertainty::default(),
            ticket: None,
            keep: &[],
            like: None,
            rows: &[],
        }
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
    let &Request { layout, heading, paper, correction, measuring, ticket, rows, .. } =
        request;
    let plan = lanes::plan(request)?;
    let page = plan.page;
    let scaling = correction.map(|c| c.on(paper.form(), page.width, page.height));
    let fingerprint = fingerprint::of(request, &plan);
    let checks = checks::of(layout, &plan, scaling.as_ref(), measuring);
    let punches = annotations::punches(layout, heading.wording);
    let scene = annotations::Scene {
        layout,
        rows,
        heading,
        paper: paper.name(),
        fingerprint: &fingerprint,
        plan: &plan,
        punches: punches.as_deref(),
        checks: &checks,
        scaling: scaling.as_ref(),
        measuring,
    };
    let ticket = ticket.map(|ticket| {
        ticket::draw(&ticket::Scene {
            ticket,
            request,
            checks: &checks,
            print: &fingerprint,
        })
    });
    let sheets = (0..plan.sheets.len()).map(|i| annotations::draw(&scene, i)).collect();
    let frame = page.printable();
    Ok(SheetSet {
        title: heading.title.clone(),
        wearer: heading.wearer.clone(),
        fingerprint,
        terms: PrintSettings::of(request),
        paper: paper.name().to_owned(),
        size: heading.stocked.one().to_owned(),
        kept: heading.kept.clone(),
        ticket: ticket.unwrap_or_default(),
        sheets,
        left_out: Vec::new(),
        corners: [
            Point::new(frame.x.from, frame.y.from),
            Point::new(frame.x.to, frame.y.to),
        ],
        findings: in_joins::findings(layout, &plan),
        joins: plan.joins,
        across: plan.across,
        checks,
        correction: scaling,
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
    /// Pieces that are longer together than anybody draws at full scale, on however few
    /// sheets.
    TooLong {
        /// Their lengths together.
        length: Length,
        /// How long they may be.
        most: Length,
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
                    .expected(
                        "lanes shorter than an overlap and the longest mark",
                        "room to go on from join to join",
                    )
                    .remedy("choose a larger paper: --paper a4, letter or roll")
            }
            Self::TooManySheets { paper, sheets, most } => {
                new("too-many-sheets", "the job takes too many sheets".to_owned())
                    .expected(
                        format!("at least {sheets} sheets of `{paper}`"),
                        format!("at most {most} sheets"),
                    )
                    .remedy("look at the measure and its unit, or choose a larger paper: --paper roll")
            }
            Self::TooLong { length, most } => {
                new("too-many-sheets", "the job is too long to be drawn".to_owned())
                    .expected(
                        format!("{} of strap", length.both()),
                        format!("at most {} in one drawing", most.both()),
                    )
                    .remedy("look at the lengths, their units and the counts of pieces")
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
