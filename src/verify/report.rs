//! What comes of reading a file back.

use crate::diagnostic::{Finding, counted};
use serde::Serialize;

/// What would do, for a file that is not what it should be.
pub(super) const ANEW: &str = "draw the job anew, and do not cut or punch by this file";

/// A mark that was measured. Places are mm in strap coordinates: x from the middle of the bend
/// toward the tip, y from the centre line.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FoundMark {
    /// Number of the sheet.
    pub sheet: usize,
    /// Its piece.
    pub piece: String,
    /// The feature that it belongs to.
    pub feature: String,
    /// What stands beside it.
    pub label: String,
    /// What it is: a word of the table of marks.
    pub kind: String,
    /// Its middle.
    pub found_mm: [f64; 2],
    /// From edge to edge along x and y.
    pub size_mm: [f64; 2],
    /// Where it should be.
    pub expected_mm: [f64; 2],
    /// From there to where it is.
    pub error_mm: f64,
}

/// What a file holds, and what is wrong with it.
#[derive(Clone, Debug, PartialEq)]
pub struct Report {
    /// The short name of the print; empty where no page says it.
    pub print: String,
    /// The printer that it is corrected for; empty for none, and without a job.
    pub printer: String,
    /// How many sheets of it there are.
    pub sheets: usize,
    /// How many pages are those of its ticket.
    pub ticket_pages: usize,
    /// How many pages are neither.
    pub other_pages: usize,
    /// Every mark that was measured, each once; none without a job.
    pub marks: Vec<FoundMark>,
    /// What is wrong.
    pub findings: Vec<Finding>,
}

impl Report {
    /// How far the worst mark is off, in mm; zero without a job or a mark.
    pub fn worst_mm(&self) -> f64 {
        self.marks.iter().map(|m| m.error_mm).fold(0.0, f64::max)
    }

    /// In a line: `17 marks on 2 sheets, worst 0.000 mm off`.
    pub fn summary(&self) -> String {
        let sheets = counted(self.sheets, "sheet");
        let mut parts = if self.marks.is_empty() {
            vec![format!("no mark measured on {sheets}")]
        } else {
            let marks = counted(self.marks.len(), "mark");
            let worst = format!("worst {:.3} mm off", self.worst_mm());
            vec![format!("{marks} on {sheets}"), worst]
        };
        if self.ticket_pages > 0 {
            parts.push("and the ticket".to_owned());
        }
        if self.other_pages > 0 {
            parts.push(format!("and {}", counted(self.other_pages, "other page")));
        }
        parts.join(", ")
    }
}
