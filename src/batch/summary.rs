//! What became of each order: the rows of `summary.csv`.

use super::{Order, Table};
use crate::Laid;
use crate::diagnostic::{Finding, Severity};
use crate::export::cell;
use crate::geom::Length;
use crate::paginate::SheetSet;
use crate::ticket::girths;
use serde::{Serialize, Serializer};

/// How an order ended.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Status {
    /// It is drawn.
    Drawn,
    /// Findings forbid the print.
    #[default]
    Refused,
    /// Another file has the name of its drawing.
    InTheWay,
    /// The program could not draw it.
    Failed,
}

/// A row of `summary.csv`; its fields are the columns. Lengths are in mm, rounded to a
/// tenth; what an order does not have is empty. Texts of the user are written as a [`cell`].
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Summary {
    /// The number of its row.
    pub row: usize,
    /// The name of the order.
    #[serde(serialize_with = "as_cell")]
    pub order: String,
    /// The name of the file that it is in; empty without one.
    pub file: String,
    /// Its first page, if other orders are in the file too.
    pub page: Option<usize>,
    /// How it ended.
    pub status: Status,
    /// The title of the job.
    #[serde(serialize_with = "as_cell")]
    pub title: String,
    /// The wearer.
    #[serde(serialize_with = "as_cell")]
    pub wearer: String,
    /// The number of sheets, without the ticket.
    pub sheets: Option<usize>,
    /// The name of the print.
    pub print: String,
    /// What the lengths below are: `girth`, or another length.
    #[serde(serialize_with = "as_cell")]
    pub serves: String,
    /// The least length that the strap serves.
    #[serde(rename = "least_mm", serialize_with = "as_mm")]
    pub least: Option<Length>,
    /// The length at the size hole.
    #[serde(rename = "at_size_hole_mm", serialize_with = "as_mm")]
    pub at_size_hole: Option<Length>,
    /// The greatest length that the strap serves.
    #[serde(rename = "most_mm", serialize_with = "as_mm")]
    pub most: Option<Length>,
    /// The number of pieces to cut.
    pub pieces: usize,
    /// The length of the longest piece.
    #[serde(rename = "longest_piece_mm", serialize_with = "as_mm")]
    pub longest_piece: Option<Length>,
    /// The measures of hardware that it leaves to its template.
    #[serde(serialize_with = "as_cell")]
    pub assumed: String,
    /// The number of errors.
    pub errors: usize,
    /// The number of warnings.
    pub warnings: usize,
    /// The number of notes.
    pub notes: usize,
    /// The findings, as [`finding_line`]s.
    #[serde(serialize_with = "as_cell")]
    pub findings: String,
    /// The number of its line in the file.
    pub line: usize,
}

fn as_cell<S: Serializer>(text: &str, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(&cell(text))
}

#[expect(clippy::ref_option, reason = "serde passes the field by reference")]
fn as_mm<S: Serializer>(
    length: &Option<Length>,
    serializer: S,
) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(&length.map(|l| l.mm(1)).unwrap_or_default())
}

impl Summary {
    /// The row of an order with its `findings`. `set` is its sheets, if it could be
    /// paginated.
    pub fn new(
        order: &Order,
        table: &Table,
        findings: &[Finding],
        set: Option<&SheetSet>,
    ) -> Self {
        let count = |s| findings.iter().filter(|f| f.severity == s).count();
        let lines = findings.iter().map(|f| finding_line(f, order.column_key(f, table)));
        let mut summary = Self {
            row: order.row,
            line: order.line,
            order: order.name.clone(),
            sheets: set.map(|s| s.sheets.len()),
            print: set.map(|s| s.fingerprint.clone()).unwrap_or_default(),
            errors: count(Severity::Error),
            warnings: count(Severity::Warning),
            notes: count(Severity::Note),
            findings: lines.collect::<Vec<_>>().join("; "),
            ..Self::default()
        };
        if let Some(laid) = &order.laid {
            summary.add_layout(laid);
        }
        summary
    }

    fn add_layout(&mut self, (job, fit, layout): &Laid) {
        job.title.value.trim().clone_into(&mut self.title);
        job.wearer.value.trim().clone_into(&mut self.wearer);
        let assumed = job.assumed.iter().map(|one| format!("{} {}", one.key, one.value));
        self.assumed = assumed.collect::<Vec<_>>().join(", ");
        self.pieces = layout.pieces.len();
        self.longest_piece = layout.pieces.iter().map(|p| p.extent.length()).max();
        let fit = fit.as_ref();
        [self.least, self.at_size_hole, self.most] = girths(fit, layout);
        if self.least.is_some() {
            "girth".clone_into(&mut self.serves);
        } else if let (Some(serves), Some((least, most))) =
            (&job.serves, layout.serves(job, fit))
        {
            (self.least, self.most) = (Some(least), Some(most));
            serves.what.value.trim().clone_into(&mut self.serves);
        }
    }
}

/// A finding as one line, with the column that it is about: `error bad-length (strap.width):
/// this is not a length, found 38`.
pub fn finding_line(finding: &Finding, key: Option<&str>) -> String {
    let severity = match finding.severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Note => "note",
    };
    let key = key.map_or_else(String::new, |key| format!(" ({key})"));
    let Finding { rule, message, found, .. } = finding;
    format!("{severity} {rule}{key}: {message}, found {found}")
}
