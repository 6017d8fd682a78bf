//! The files of a table of orders: what `batch` writes into its folder, in one ZIP or one PDF.

use super::super::say::say_with;
use super::sent::Sent;
use super::{Shared, Shown};
use crate::batch::{HardwareTotals, Mistake, Order, Status, Summary, Table};
use crate::cutting::{self, Allowances, Cut, Plan};
use crate::diagnostic::{Finding, forbids_print, shown_lines};
use crate::export::cuts_csv;
use crate::export::pdf::Merger;
use crate::layout::Layout;
use crate::paginate::SheetSet;
use crate::print::draw_pdf;
use crate::ticket::hardware;
use crate::words::Wording;
use serde::Serialize;
use std::io::{Cursor, Write};
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

/// The most bytes of drawings that the page makes of a table.
pub(super) const MOST_BYTES: usize = 16 << 20;

/// A file to be saved: its name, its media type, its bytes.
type File = (&'static str, &'static str, Vec<u8>);

/// The drawings of the orders that are ready, as they are asked for.
#[derive(Default)]
pub(super) enum Files {
    /// None, for the page itself.
    #[default]
    View,
    /// None, for the list of hardware.
    Hardware,
    /// None, for the cutting plan.
    Plan,
    /// One PDF with a bookmark for each, and how many bytes they were alone.
    Merged(Box<Merger>, usize),
    /// A PDF each, and how many bytes they are.
    Zip(Box<ZipWriter<Cursor<Vec<u8>>>>, usize),
}

impl Files {
    pub(super) fn new(deed: &str) -> Self {
        match deed {
            "pdf" => Self::Merged(Box::default(), 0),
            "zip" => Self::Zip(Box::new(ZipWriter::new(Cursor::default())), 0),
            "hardware" => Self::Hardware,
            "plan" => Self::Plan,
            _ => Self::View,
        }
    }

    pub(super) fn is_view(&self) -> bool {
        matches!(self, Self::View)
    }

    /// How many bytes were drawn.
    pub(super) fn bytes(&self) -> usize {
        match self {
            Self::Merged(_, bytes) | Self::Zip(_, bytes) => *bytes,
            Self::View | Self::Hardware | Self::Plan => 0,
        }
    }

    /// Draws an order where drawings are asked for. Returns the name of the file it is in.
    ///
    /// # Errors
    /// In words, when it cannot be drawn.
    pub(super) fn add(
        &mut self,
        order: &str,
        set: &SheetSet,
        layout: &Layout,
        stem: &str,
    ) -> Result<String, String> {
        let draw = || draw_pdf(set, layout, &[]).map_err(|why| why.to_string());
        let name = format!("{stem}.pdf");
        match self {
            Self::View | Self::Hardware | Self::Plan => {}
            Self::Merged(merger, bytes) => {
                let (pdf, _) = draw()?;
                merger.add(order, &pdf).map_err(|why| why.to_string())?;
                *bytes += pdf.len();
            }
            Self::Zip(zip, bytes) => {
                let (pdf, _) = draw()?;
                put(zip, &name, &pdf)?;
                *bytes += pdf.len();
            }
        }
        Ok(name)
    }
}

/// Puts a file into a ZIP. It is not packed: what a PDF has is packed already.
fn put(
    zip: &mut ZipWriter<Cursor<Vec<u8>>>,
    name: &str,
    bytes: &[u8],
) -> Result<(), String> {
    let options =
        SimpleFileOptions::default().compression_method(zip::CompressionMethod::Stored);
    let begun = zip.start_file(name, options).map_err(|why| why.to_string());
    begun.and_then(|()| zip.write_all(bytes).map_err(|why| why.to_string()))
}

/// What was made of a table.
#[derive(Default)]
pub(super) struct Made {
    pub(super) all: Vec<Shown>,
    pub(super) files: Files,
    hardware: HardwareTotals,
    cuts: Vec<Cut>,
    summary: Vec<Summary>,
    mistakes: Vec<Mistake>,
    /// The cutting plan, where strips were given.
    plan: Option<Plan>,
    /// What is wrong with the strips, or lacking.
    pub(super) plan_findings: Vec<Finding>,
}

impl Made {
    /// How many orders are ready.
    pub(super) fn ready(&self) -> usize {
        self.all.iter().filter(|one| one.ready.is_some()).count()
    }

    pub(super) fn has_plan(&self) -> bool {
        self.plan.is_some()
    }

    /// Adds an order to the lists: its sheets, whether it is ready, and the file it is in.
    pub(super) fn note(
        &mut self,
        table: &Table,
        order: &Order,
        findings: &[Finding],
        (set, is_ready, file): (Option<&SheetSet>, bool, String),
    ) {
        let mut summary = Summary::new(order, table, findings, set);
        if let (Some((job, _, layout)), true) = (&order.laid, is_ready) {
            self.hardware.add(&hardware(job, layout));
            let cuts = cutting::cuts(&order.name, job, layout).into_iter();
            self.cuts.extend(cuts.map(|cut| Cut { span: None, ..cut }));
            summary.status = Status::Drawn;
            summary.file = file;
        } else if set.is_some() {
            summary.status = Status::Failed;
        }
        self.summary.push(summary);
        self.mistakes.extend(Mistake::all(order, findings, table));
    }

    /// Plans the cutting, where strips were given.
    pub(super) fn plan(&mut self, sent: &Sent) {
        if sent.strips.trim().is_empty() {
            return;
        }
        let stock = cutting::read("strips", &sent.strips);
        self.plan_findings.extend(stock.findings);
        if forbids_print(&self.plan_findings) {
            return;
        }
        let allowances = Allowances { rip: sent.may_rip, ..Allowances::default() };
        match cutting::plan(&self.cuts, &stock.stock, &allowances) {
            Ok(plan) => {
                self.plan_findings.extend(plan.findings.iter().cloned());
                self.plan = Some(plan);
            }
            Err(findings) => self.plan_findings.extend(findings),
        }
    }

    /// The file that was asked for; `None` where that is the page itself.
    pub(super) fn file(&mut self, shared: &Shared<'_>) -> Option<Result<File, String>> {
        const PLAIN: &str = "text/plain; charset=utf-8";
        let wording = shared.setup.print.wording;
        Some(match std::mem::take(&mut self.files) {
            Files::View => return None,
            Files::Hardware => {
                let list = shown_lines(&self.hardware.to_text(wording)).into_owned();
                Ok(("hardware.txt", PLAIN, list.into_bytes()))
            }
            Files::Plan => {
                let text = self.plan_text(wording)?;
                Ok(("cutting-plan.txt", PLAIN, text.into_bytes()))
            }
            Files::Merged(merger, _) => self.refuse_failed().and_then(|()| {
                let mut pdf = Vec::new();
                merger.finish("orders", &mut pdf).map_err(|why| why.to_string())?;
                Ok(("orders.pdf", "application/pdf", pdf))
            }),
            // Without the plan that was asked for the ZIP would look whole.
            Files::Zip(..) if self.plan.is_none() && !self.plan_findings.is_empty() => {
                return None;
            }
            Files::Zip(zip, _) => {
                let bytes = self.finish(*zip, wording);
                bytes.map(|bytes| ("orders.zip", "application/zip", bytes))
            }
        })
    }

    /// A PDF has no place to say that an order is not in it.
    fn refuse_failed(&self) -> Result<(), String> {
        let failed = self.summary.iter().find(|one| one.status == Status::Failed);
        failed.map_or(Ok(()), |one| {
            Err(say_with(
                "Order { $order } could not be drawn; the ZIP has the others",
                &[("order", &one.order)],
            ))
        })
    }

    fn plan_text(&self, Wording { units, .. }: Wording) -> Option<String> {
        let english = Wording { units, ..Wording::default() };
        let text = cutting::text(self.plan.as_ref()?, &self.cuts, english);
        Some(shown_lines(&text).into_owned())
    }

    /// Adds the lists to the drawings.
    fn finish(
        &self,
        mut zip: ZipWriter<Cursor<Vec<u8>>>,
        wording: Wording,
    ) -> Result<Vec<u8>, String> {
        let mut list =
            |name: &str, text: &str| put(&mut zip, name, shown_lines(text).as_bytes());
        list("hardware.txt", &self.hardware.to_text(wording))?;
        list("hardware.csv", &self.hardware.to_csv())?;
        if let (Some(plan), Some(text)) = (&self.plan, self.plan_text(wording)) {
            list("cutting-plan.txt", &text)?;
            list("cutting-plan.csv", &cuts_csv::cuts(plan, &self.cuts))?;
        }
        put(&mut zip, "summary.csv", &rows(&self.summary)?)?;
        if !self.mistakes.is_empty() {
            put(&mut zip, "mistakes.csv", &rows(&self.mistakes)?)?;
        }
        let bytes = zip.finish().map_err(|why| why.to_string())?;
        Ok(bytes.into_inner())
    }
}

/// A CSV table of these rows.
fn rows(all: &[impl Serialize]) -> Result<Vec<u8>, String> {
    let mut table = csv::Writer::from_writer(Vec::new());
    for row in all {
        table.serialize(row).map_err(|why| why.to_string())?;
    }
    table.into_inner().map_err(|why| why.to_string())
}
