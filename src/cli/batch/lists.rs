//! The lists of a batch: the table of all orders, the hardware, the cutting plan.

use super::super::draft::Draft;
use super::super::{Failure, Result};
use super::folder::OutputFolder;
use super::report::Reporter;
use crate::batch::{CacheKey, HardwareTotals, Mistake};
use crate::cutting::{self, Allowances, Cut, ParsedStock, Plan};
use crate::diagnostic::{forbids_print, shown_lines};
use crate::export;
use crate::words::{Units, Wording};
use serde::Serialize;

/// A list that is written row by row.
pub(super) struct RowList {
    name: &'static str,
    rows: csv::Writer<Draft>,
}

impl RowList {
    /// What became of every order.
    pub(super) fn summary(folder: &OutputFolder) -> Result<Self> {
        Self::new(folder, "summary.csv", true)
    }

    /// What is wrong, cell by cell: to be corrected in the table.
    pub(super) fn mistakes(folder: &OutputFolder) -> Result<Self> {
        let mut list = Self::new(folder, "mistakes.csv", false)?;
        list.add(&Mistake::HEADER)?;
        Ok(list)
    }

    fn new(folder: &OutputFolder, name: &'static str, has_headers: bool) -> Result<Self> {
        let mut writer = csv::WriterBuilder::new();
        let rows = writer.has_headers(has_headers).from_writer(folder.create(name)?);
        Ok(Self { name, rows })
    }

    pub(super) fn add(&mut self, row: &impl Serialize) -> Result {
        self.rows.serialize(row).map_err(|e| match e.into_kind() {
            csv::ErrorKind::Io(error) => self.rows.get_ref().failure(&error),
            other => Failure::System(format!("no table: {other:?}")),
        })
    }
}

/// Writes the lists, and keeps which files were written.
pub(super) struct Lists<'a> {
    pub(super) folder: &'a OutputFolder,
    pub(super) written: Vec<String>,
    /// The files that were not written because another file has their path.
    pub(super) in_the_way: Vec<String>,
}

impl<'a> Lists<'a> {
    pub(super) fn new(folder: &'a OutputFolder) -> Self {
        Self { folder, written: Vec::new(), in_the_way: Vec::new() }
    }

    pub(super) fn note(&mut self, name: &str, is_written: bool) {
        let names = if is_written { &mut self.written } else { &mut self.in_the_way };
        names.push(name.to_owned());
    }

    fn write(&mut self, name: &str, text: &str) -> Result {
        let written =
            self.folder.write(name, list_key(name), shown_lines(text).as_bytes())?;
        self.note(name, written.is_some());
        Ok(())
    }

    pub(super) fn finish(&mut self, list: RowList) -> Result {
        let RowList { name, mut rows } = list;
        rows.flush().map_err(|e| rows.get_ref().failure(&e))?;
        let file = rows.into_inner().map_err(|e| {
            Failure::System(format!("cannot write {name}: {}", e.error().kind()))
        })?;
        let written = self.folder.persist(name, list_key(name), file)?;
        self.note(name, written.is_some());
        Ok(())
    }

    pub(super) fn write_hardware(
        &mut self,
        totals: &HardwareTotals,
        wording: Wording,
    ) -> Result {
        self.write("hardware.txt", &totals.to_text(wording))?;
        self.write("hardware.csv", &totals.to_csv())
    }

    /// Plans the cutting and writes the plan. Returns whether there was leather for all
    /// pieces.
    ///
    /// # Errors
    /// When the plan cannot be written.
    pub(super) fn write_plan(
        &mut self,
        cuts: &[Cut],
        stock: &ParsedStock,
        allowances: &Allowances,
        units: Units,
        reporter: &Reporter,
    ) -> Result<bool> {
        let plan = match cutting::plan(cuts, &stock.stock, allowances) {
            Ok(plan) => plan,
            Err(findings) => {
                let counts = [cuts.len(), 0, cuts.len()];
                reporter.plan(counts, &findings, &stock.sources)?;
                reporter.message("no cutting plan was written");
                return Ok(false);
            }
        };
        let Plan { strips, lacking, findings, .. } = &plan;
        let counts = [cuts.len(), strips.len(), lacking.len()];
        reporter.plan(counts, findings, &stock.sources)?;
        let english = Wording { units, ..Wording::default() };
        let csv = export::cuts_csv::cuts(&plan, cuts);
        self.write("cutting-plan.txt", &cutting::text(&plan, cuts, english))?;
        self.write("cutting-plan.csv", &csv)?;
        Ok(!forbids_print(findings))
    }
}

/// Every run makes the lists again, so their key says nothing of what they were made from.
fn list_key(name: &str) -> CacheKey {
    CacheKey::new([name])
}
