//! What became of an order, in a row.

use super::{Order, Table};
use crate::Laid;
use crate::diagnostic::{Finding, Severity};
use crate::export::cell;
use crate::geom::Length;
use crate::paginate::SheetSet;
use serde::Serialize;

/// How an order ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Status {
    /// Its drawing is there.
    Drawn,
    /// Findings forbid the print.
    Refused,
    /// A file that was not made from it is where its own belongs.
    InTheWay,
    /// The program could not draw it.
    Failed,
}

impl Status {
    /// The word for it in tables.
    pub fn word(self) -> &'static str {
        match self {
            Self::Drawn => "drawn",
            Self::Refused => "refused",
            Self::InTheWay => "in-the-way",
            Self::Failed => "failed",
        }
    }
}

/// The columns of the table of all orders.
pub const COLUMNS: [&str; 20] = [
    "row",
    "order",
    "file",
    "page",
    "status",
    "title",
    "wearer",
    "sheets",
    "print",
    "serves",
    "least_mm",
    "at_size_hole_mm",
    "most_mm",
    "pieces",
    "longest_piece_mm",
    "errors",
    "warnings",
    "notes",
    "findings",
    "line",
];

/// A row of that table. Lengths in mm to the tenth; what an order does not have is empty.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Summary {
    /// The number of its row.
    pub row: usize,
    /// The number of its line.
    pub line: usize,
    /// Its name.
    pub order: String,
    /// The file that it is in; empty where it is in none.
    pub file: String,
    /// On which page of that file it begins, where it shares the file.
    pub page: Option<usize>,
    /// How it ended.
    pub status: Status,
    /// What is made.
    pub title: String,
    /// For whom.
    pub wearer: String,
    /// How many sheets it has, without the ticket.
    pub sheets: Option<usize>,
    /// Short name of the print.
    pub print: String,
    /// What it serves: `girth`, or another length.
    pub serves: String,
    /// The least of it.
    pub least: Option<Length>,
    /// What the size hole serves.
    pub at_size_hole: Option<Length>,
    /// The most of it.
    pub most: Option<Length>,
    /// How many pieces there are to cut.
    pub pieces: usize,
    /// The length of the longest of them.
    pub longest: Option<Length>,
    /// How many errors, warnings and notes.
    pub counts: [usize; 3],
    /// What was found, in words.
    pub findings: String,
}

impl Summary {
    /// What is known of an order with `findings` and, if it could be laid on paper, its
    /// sheets.
    pub fn of(
        order: &Order,
        table: &Table,
        findings: &[Finding],
        set: Option<&SheetSet>,
    ) -> Self {
        let count = |s| findings.iter().filter(|f| f.severity == s).count();
        let said = findings.iter().map(|f| said(f, order.key_of(f, table)));
        let mut summary = Self {
            row: order.row,
            line: order.line,
            order: order.name.clone(),
            file: String::new(),
            page: None,
            status: Status::Refused,
            title: String::new(),
            wearer: String::new(),
            sheets: set.map(|s| s.sheets.len()),
            print: set.map(|s| s.fingerprint.clone()).unwrap_or_default(),
            serves: String::new(),
            least: None,
            at_size_hole: None,
            most: None,
            pieces: 0,
            longest: None,
            counts: [Severity::Error, Severity::Warning, Severity::Note].map(count),
            findings: said.collect::<Vec<_>>().join("; "),
        };
        if let Some(laid) = &order.laid {
            summary.lay(laid);
        }
        summary
    }

    fn lay(&mut self, (job, fit, layout): &Laid) {
        job.title.value.trim().clone_into(&mut self.title);
        job.wearer.value.trim().clone_into(&mut self.wearer);
        self.pieces = layout.pieces.len();
        self.longest = layout.pieces.iter().map(|p| p.extent.length()).max();
        if let Some(fit) = fit {
            let holes = || layout.size_holes().map(|m| fit.girth_at(m.at.x));
            self.at_size_hole = layout.size_hole().map(|x| fit.girth_at(x));
            (self.least, self.most) = (holes().min(), holes().max());
            if self.least.is_some() {
                "girth".clone_into(&mut self.serves);
            }
        } else if let (Some(serves), Some((least, most))) =
            (&job.serves, layout.serves(job))
        {
            (self.least, self.most) = (Some(least), Some(most));
            serves.what.value.trim().clone_into(&mut self.serves);
        }
    }

    /// Its cells, one for each of [`COLUMNS`]; what somebody wrote is a [`cell`].
    pub fn cells(&self) -> [String; COLUMNS.len()] {
        let mm = |l: Option<Length>| l.map_or_else(String::new, |l| l.mm(1));
        let number = |n: Option<usize>| n.map_or_else(String::new, |n| n.to_string());
        let own = |text: &str| cell(text).into_owned();
        let [errors, warnings, notes] = self.counts.map(|n| n.to_string());
        [
            self.row.to_string(),
            own(&self.order),
            self.file.clone(),
            number(self.page),
            self.status.word().to_owned(),
            own(&self.title),
            own(&self.wearer),
            number(self.sheets),
            self.print.clone(),
            own(&self.serves),
            mm(self.least),
            mm(self.at_size_hole),
            mm(self.most),
            self.pieces.to_string(),
            mm(self.longest),
            errors,
            warnings,
            notes,
            self.findings.clone(),
            self.line.to_string(),
        ]
    }
}

/// A finding in a line, with the column that it is about: `error bad-length (strap.width): this
/// is not a length, found 38`.
pub fn said(finding: &Finding, key: Option<&str>) -> String {
    let weight = match finding.severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Note => "note",
    };
    let key = key.map_or_else(String::new, |key| format!(" ({key})"));
    let Finding { rule, message, found, .. } = finding;
    format!("{weight} {rule}{key}: {message}, found {found}")
}
