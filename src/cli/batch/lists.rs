//! What a day comes to beside its drawings: the table of all orders, the hardware, the
//! cutting plan.

use super::super::Failure;
use super::super::files::Draft;
use super::folder::Folder;
use super::tell::Teller;
use crate::batch::{COLUMNS, Key, Summary, Tally};
use crate::cutting::{self, Allowances, Cut, Plan};
use crate::diagnostic::{Finding, forbids_print};
use crate::export;
use crate::words::Wording;

pub(super) const SUMMARY: &str = "summary.csv";
const HARDWARE: [&str; 2] = ["hardware.txt", "hardware.csv"];
const PLAN: [&str; 2] = ["cutting-plan.txt", "cutting-plan.csv"];

/// The table of all orders, written row by row.
pub(super) struct Table {
    rows: csv::Writer<Draft>,
}

impl Table {
    pub(super) fn new(folder: &Folder) -> Result<Self, Failure> {
        let mut table = Self { rows: csv::Writer::from_writer(folder.draft(SUMMARY)?) };
        table.write(&COLUMNS.map(ToOwned::to_owned))?;
        Ok(table)
    }

    pub(super) fn add(&mut self, summary: &Summary) -> Result<(), Failure> {
        self.write(&summary.cells())
    }

    fn write(&mut self, cells: &[String]) -> Result<(), Failure> {
        self.rows.write_record(cells).map_err(|e| match e.into_kind() {
            csv::ErrorKind::Io(why) => self.rows.get_ref().failed(&why),
            why => Failure::Machine(format!("no {SUMMARY}: {why:?}")),
        })
    }

    pub(super) fn close(mut self) -> Result<Draft, Failure> {
        self.rows.flush().map_err(|why| self.rows.get_ref().failed(&why))?;
        self.rows.into_inner().map_err(|e| {
            Failure::Machine(format!("cannot write {SUMMARY}: {}", e.error().kind()))
        })
    }
}

/// Files that were put in the folder, and those that could not be.
#[derive(Default)]
pub(super) struct Written {
    pub(super) files: Vec<String>,
    pub(super) in_the_way: Vec<String>,
}

impl Written {
    pub(super) fn put(
        &mut self,
        folder: &Folder,
        name: &str,
        bytes: &[u8],
    ) -> Result<(), Failure> {
        let put = folder.put(name, list_key(name), bytes)?;
        self.note(name, put.is_some());
        Ok(())
    }

    pub(super) fn note(&mut self, name: &str, is_there: bool) {
        if is_there { &mut self.files } else { &mut self.in_the_way }
            .push(name.to_owned());
    }

    pub(super) fn settle(
        &mut self,
        folder: &Folder,
        name: &str,
        draft: Draft,
    ) -> Result<(), Failure> {
        let put = folder.settle(name, list_key(name), draft)?;
        self.note(name, put.is_some());
        Ok(())
    }

    pub(super) fn hardware(
        &mut self,
        folder: &Folder,
        tally: &Tally,
        wording: Wording,
    ) -> Result<(), Failure> {
        let csv = tally.csv().map_err(|e| Failure::Machine(format!("no table: {e}")))?;
        self.put(folder, HARDWARE[0], tally.text(wording).as_bytes())?;
        self.put(folder, HARDWARE[1], csv.as_bytes())
    }

    /// Plans the cutting and writes the plan, what lacks leather too. Whether leather is
    /// lacking.
    pub(super) fn plan(
        &mut self,
        folder: &Folder,
        cuts: &[Cut],
        stock: &cutting::ParsedStock,
        allowances: &Allowances,
        teller: &Teller,
    ) -> Result<bool, Failure> {
        let plan = match cutting::plan(cuts, &stock.stock, allowances) {
            Ok(plan) => plan,
            Err(findings) => return no_plan(cuts, &findings, stock, teller),
        };
        let Plan { strips, lacking, findings, .. } = &plan;
        let counts = [cuts.len(), strips.len(), lacking.len()];
        teller.plan(counts, findings, &stock.sources)?;
        let csv = export::cuts_csv::cuts(&plan, cuts)
            .map_err(|e| Failure::Machine(format!("no table: {e}")))?;
        self.put(folder, PLAN[0], cutting::text(&plan, cuts).as_bytes())?;
        self.put(folder, PLAN[1], csv.as_bytes())?;
        Ok(forbids_print(findings))
    }
}

fn no_plan(
    cuts: &[Cut],
    findings: &[Finding],
    stock: &cutting::ParsedStock,
    teller: &Teller,
) -> Result<bool, Failure> {
    teller.plan([cuts.len(), 0, cuts.len()], findings, &stock.sources)?;
    teller.say("no cutting plan was written");
    Ok(true)
}

/// Lists are made anew in every run, whatever they were made from before.
fn list_key(name: &str) -> Key {
    Key::of([name])
}
