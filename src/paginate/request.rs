//! What is to be printed, and on what.

use super::correction::{Correction, Factor};
use super::page::Page;
use super::paper::Paper;
use super::sheet::{ReusedSheet, SheetSet};
use crate::fit::{Fit, MeasurementUncertainty};
use crate::geom::Length;
use crate::job::Job;
use crate::layout::{Layout, NestedSize};
use crate::ticket::{self, Ticket};
use crate::words::{Word, Wording};
use serde::Serialize;

/// The stock sizes that a print is for.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub enum PrintedSizes {
    /// None: the print is for one wearer.
    #[default]
    None,
    /// One size, by its label.
    One(String),
    /// A range of sizes, which have these sheets in common.
    Common(String),
    /// A range of sizes, drawn into each other on one strap.
    Nested(String),
}

impl PrintedSizes {
    /// The label of the one size; empty where it is not one.
    pub fn one(&self) -> &str {
        if let Self::One(label) = self { label } else { "" }
    }

    /// The words on the sheets; empty without a size.
    pub fn words(&self, wording: Wording) -> String {
        match self {
            Self::None => String::new(),
            Self::One(label) => wording.fill(Word::OneSize, &[("size", label)]),
            Self::Common(range) => wording.fill(Word::CommonToSizes, &[("sizes", range)]),
            Self::Nested(range) => wording.fill(Word::NestedSizes, &[("sizes", range)]),
        }
    }
}

/// What stands in the header of every sheet.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Heading {
    /// What is made.
    pub title: String,
    /// Who it is for; may be empty.
    pub wearer: String,
    /// The girths or lengths that the strap serves, in a few words; may be empty.
    pub serves: String,
    /// What its holes were computed for and what was only assumed, a sentence each, for the
    /// first sheet.
    pub note: Vec<String>,
    /// The stock sizes that it is for.
    pub sizes: PrintedSizes,
    /// Sheets of earlier prints that complete this one.
    #[serde(skip)]
    pub reused: Vec<ReusedSheet>,
    /// How words and numbers are written on the sheets.
    pub wording: Wording,
}

impl Heading {
    /// The heading of a job in English and millimetres.
    pub fn new(job: &Job, fit: Option<&Fit>, layout: &Layout) -> Self {
        Self::with_wording(job, fit, layout, Wording::default())
    }

    /// The heading of a job.
    pub fn with_wording(
        job: &Job,
        fit: Option<&Fit>,
        layout: &Layout,
        wording: Wording,
    ) -> Self {
        let shown = |l: Length| wording.girth(l);
        let girth = |x| fit.map(|f| shown(f.girth_at(x)));
        let holes = || layout.size_holes().map(|m| m.at.x);
        let ends = (holes().min().and_then(girth), holes().max().and_then(girth));
        let serves = match (ends, layout.serves(job, fit), &job.serves) {
            ((Some(least), Some(most)), _, _) => {
                wording.fill(Word::GirthRange, &[("least", &least), ("most", &most)])
            }
            (_, Some((least, most)), Some(serves)) => {
                let what = job.name(&serves.what);
                let what = wording.name(&what);
                let to = format!(" – {}", shown(most));
                let to = if least == most { "" } else { &to };
                format!("{what} {}{to}", shown(least))
            }
            _ => String::new(),
        };
        let size = job.stock.as_ref().and_then(|s| s.size());
        Self {
            title: wording.name(&job.name(&job.title)).to_owned(),
            wearer: job.wearer.value.clone(),
            serves,
            note: ticket::computed_for(job, layout, wording),
            sizes: size
                .map_or(PrintedSizes::None, |s| PrintedSizes::One(s.label.clone())),
            reused: Vec::new(),
            wording,
        }
    }
}

/// What is to be printed, and on what.
#[derive(Clone, Copy, Debug)]
pub struct Request<'a> {
    /// The pieces.
    pub layout: &'a Layout,
    /// What stands in the header of every sheet.
    pub heading: &'a Heading,
    /// The paper.
    pub paper: &'a Paper,
    /// The correction of the printer; `None` for a printer without error.
    pub correction: Option<&'a Correction>,
    /// How the joined pieces will be measured.
    pub measuring: MeasurementUncertainty,
    /// The ticket to print before the sheets, if any.
    pub ticket: Option<&'a Ticket>,
    /// An earlier print. Its joins and its sheets are used again, from the buckle end on, as
    /// far as that takes no more sheets and no join through a mark.
    pub reuse: Option<&'a SheetSet>,
    /// The rows of nested sizes.
    pub rows: &'a [NestedSize],
}

impl<'a> Request<'a> {
    /// All of `layout` on `paper`, for a printer without error and an ordinary ruler.
    pub fn new(layout: &'a Layout, heading: &'a Heading, paper: &'a Paper) -> Self {
        Self {
            layout,
            heading,
            paper,
            correction: None,
            measuring: MeasurementUncertainty::default(),
            ticket: None,
            reuse: None,
            rows: &[],
        }
    }

    /// The factors of a page, along its width and its height.
    pub(super) fn scaling(&self, page: Page) -> Option<[Factor; 2]> {
        self.correction.map(|c| c.on(self.paper.form(), page.width, page.height))
    }

    /// The same, using joins and sheets of `set` again as far as that costs nothing.
    #[must_use]
    pub fn reusing(self, set: &'a SheetSet) -> Self {
        Self { reuse: Some(set), ..self }
    }
}
