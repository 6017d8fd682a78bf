//! The exact judge: whether a file shows its sheets, and whether the sheets show the strap.
//!
//! `file` holds every drawing of the file against the sheet model, item by item: nothing is
//! missing, nothing is there besides, nothing hides another. `sheets` holds the sheet model
//! against the layout, in whole nanometres. Both together prove the file. Nothing is
//! recognised, so no word of a job can mislead them.

mod drawn;
mod file;
mod sheets;

use super::Unreadable;
#[cfg(feature = "ink")]
pub(super) use drawn::{Wanted, wanted};

use super::record::{open, record};
use crate::diagnostic::{Finding, counted};
use crate::layout::{Layout, Mark, NestedSize};
use crate::paginate::{SheetSet, Tile};
use std::fmt;

/// What to do about a mistake of the program.
const REPORT: &str = "please report it with the job; do not cut or punch by a file of it";

/// What a print was found to show.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadBack {
    /// How many holes, slots, slits and targets lie whole on the sheets of the file, each once.
    pub marks: usize,
    /// On how many sheets.
    pub sheets: usize,
    /// How many pages are the ticket's.
    pub ticket: usize,
    /// How far the worst line of the file is from its place, in mm.
    pub worst_mm: f64,
    /// What is wrong; any of these is a mistake of the program.
    pub findings: Vec<Finding>,
}

impl fmt::Display for ReadBack {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (marks, sheets) =
            (counted(self.marks, "mark"), counted(self.sheets, "sheet"));
        write!(f, "{marks} on {sheets}, worst {:.3} mm off", self.worst_mm)?;
        f.write_str(if self.ticket > 0 { ", and the ticket" } else { "" })
    }
}

/// Reads a file that was drawn from `set` and holds it against the set, and the set against
/// the layout; `rows` are the sizes of a nested print.
///
/// # Errors
/// [`Unreadable`] when the bytes are no PDF that can be read.
pub fn exact(
    bytes: &[u8],
    set: &SheetSet,
    layout: &Layout,
    rows: &[NestedSize],
) -> Result<ReadBack, Unreadable> {
    let pages = open(bytes).and_then(|pdf| record(&pdf)).map_err(Unreadable)?;
    let (worst_mm, mut findings) = file::file(pages, set);
    findings.extend(sheets::sheets(set, layout, rows));
    let findings = findings.into_iter().map(|f| f.remedy(REPORT)).collect();
    let tiles = || set.sheets.iter().flat_map(|sheet| &sheet.tiles);
    let marks = layout.pieces.iter().enumerate().map(|(index, piece)| {
        let own: Vec<&Tile> = tiles().filter(|tile| tile.piece == index).collect();
        let is_shown = |m: &&Mark| own.iter().any(|tile| tile.holds(m));
        piece.marks.iter().filter(|m| m.path().is_some()).filter(is_shown).count()
    });
    Ok(ReadBack {
        marks: marks.sum(),
        sheets: set.sheets.len(),
        ticket: set.ticket.len(),
        worst_mm,
        findings,
    })
}
