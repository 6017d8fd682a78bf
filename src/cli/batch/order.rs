//! One order, from its row to its file.

use super::super::Result;
use super::super::template_loader::FileLoader;
use super::folder::{Existing, OutputFolder, Written};
use crate::batch::{self, Base, CacheKey, Order, Row, Status, Summary, Table};
use crate::cutting::{self, Cut};
use crate::diagnostic::{Finding, forbids_print, shown_path};
use crate::layout::Layout;
use crate::paginate::SheetSet;
use crate::print::{PrintError, PrintOptions, draw_pdf, paginate_job};
use crate::ticket::{Hardware, hardware};
use crate::verify::exact;
use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;

/// What all orders of a batch share.
pub(super) struct Shared<'a> {
    pub(super) table: &'a Table,
    pub(super) base: Option<Base<'a>>,
    pub(super) loader: &'a FileLoader,
    pub(super) options: PrintOptions<'a>,
    /// `options` as a text, for the keys.
    pub(super) setup: String,
    pub(super) folder: &'a OutputFolder,
    pub(super) force: bool,
    /// Whether files that are kept are read back too.
    pub(super) check_kept: bool,
    pub(super) sink: Sink,
    /// Whether the pieces are planned on a stock of strips.
    pub(super) has_stock: bool,
}

/// Where the drawings go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sink {
    /// A file for each order.
    Files,
    /// One file for all orders; its writer needs the bytes.
    Merged,
    /// One file that exists and is up to date, so that nothing is drawn.
    MergedExists,
}

/// An order that is not drawn yet.
pub(super) struct PendingOrder {
    pub(super) row: Row,
    /// The name of its file without the ending.
    pub(super) file_stem: String,
    /// The number of an earlier row with the same name.
    pub(super) duplicate_of: Option<usize>,
}

/// What became of an order.
pub(super) struct OrderResult {
    pub(super) order: Order,
    pub(super) findings: Vec<Finding>,
    pub(super) summary: Summary,
    /// Whether its drawing existed already.
    pub(super) kept: bool,
    /// Its hardware, and its pieces for the cutting plan; empty if it cannot be drawn.
    pub(super) hardware: BTreeMap<Hardware, usize>,
    pub(super) cuts: Vec<Cut>,
    /// The number of its pages, with the ticket.
    pub(super) pages: usize,
    /// Its drawing, for [`Sink::Merged`].
    pub(super) bytes: Option<Vec<u8>>,
}

impl Shared<'_> {
    /// Draws an order. If the program panics, only this order fails.
    ///
    /// # Errors
    /// When its file cannot be written.
    pub(super) fn draw(&self, pending: &PendingOrder) -> Result<OrderResult> {
        let drawn = catch_unwind(AssertUnwindSafe(|| self.try_draw(pending)));
        drawn.unwrap_or_else(|_| {
            let order = Order::failed(self.table, &pending.row);
            Ok(self.failed(
                order,
                Vec::new(),
                None,
                "the program stopped while it drew it",
            ))
        })
    }

    /// The name of an order, and the key of what it would be drawn from.
    pub(super) fn key(&self, row: &Row) -> (String, CacheKey) {
        let order = catch_unwind(AssertUnwindSafe(|| self.lay_out(row)))
            .unwrap_or_else(|_| Order::failed(self.table, row));
        (order.name, order.key)
    }

    fn lay_out(&self, row: &Row) -> Order {
        batch::lay_out_order(self.table, row, self.base, self.loader, &self.setup)
    }

    fn try_draw(&self, pending: &PendingOrder) -> Result<OrderResult> {
        let Self { table, folder, .. } = *self;
        let order = self.lay_out(&pending.row);
        let mut findings = order.findings.clone();
        findings.extend(pending.duplicate_of.map(|row| order.duplicate_name(row, table)));
        let name = format!("{}.pdf", pending.file_stem);
        if self.sink == Sink::Files {
            folder.claim(&name);
        }
        let laid = order.laid.as_ref().filter(|_| !forbids_print(&findings));
        let set = laid.and_then(|laid| match paginate_job(laid, &self.options) {
            Ok(set) => {
                let found = set.findings.iter().cloned();
                findings.extend(found.map(|f| order.place(f, table)));
                Some(set)
            }
            Err(finding) => {
                findings.push(order.place(*finding, table));
                None
            }
        });
        let (Some(laid), Some(set)) = (laid, set) else {
            return Ok(self.result(order, findings, None));
        };
        let (job, _, layout) = laid;
        let hardware = hardware(job, layout);
        let mut cuts = Vec::new();
        if self.has_stock {
            let own = cutting::cuts(&order.name, job, layout).into_iter();
            cuts.extend(own.map(|cut| Cut { span: None, ..cut }));
        }
        let mut bytes = None;
        let is_up_to_date = self.sink == Sink::MergedExists
            || self.sink == Sink::Files
                && !self.force
                && folder.existing(&name, order.key) == Existing::UpToDate
                && (!self.check_kept || reads_back(&folder.join(&name), &set, layout));
        let written = if is_up_to_date {
            Some(Written::Kept)
        } else {
            match draw_pdf(&set, layout, &[]) {
                Err(error) => {
                    let why = error.to_string();
                    if let PrintError::Differs(found) = error {
                        findings.extend(found.into_iter().map(|f| order.place(f, table)));
                    }
                    return Ok(self.failed(order, findings, Some(&set), &why));
                }
                Ok((pdf, _)) if self.sink == Sink::Merged => {
                    bytes = Some(pdf);
                    Some(Written::New)
                }
                Ok((pdf, _)) => folder.write(&name, order.key, &pdf)?,
            }
        };
        if written.is_none() {
            let path = shown_path(&folder.join(&name));
            findings.push(order.in_the_way(&path, table));
        }
        let mut result = self.result(order, findings, Some(&set));
        result.summary.status =
            if written.is_some() { Status::Drawn } else { Status::InTheWay };
        if self.sink == Sink::Files && written.is_some() {
            result.summary.file = name;
        }
        let kept = written == Some(Written::Kept);
        Ok(OrderResult { kept, hardware, cuts, bytes, ..result })
    }

    /// The result of an order that is not drawn, or not yet.
    fn result(
        &self,
        order: Order,
        findings: Vec<Finding>,
        set: Option<&SheetSet>,
    ) -> OrderResult {
        OrderResult {
            summary: Summary::new(&order, self.table, &findings, set),
            order,
            findings,
            kept: false,
            hardware: BTreeMap::new(),
            cuts: Vec::new(),
            pages: set.map_or(0, |s| s.ticket.len() + s.sheets.len()),
            bytes: None,
        }
    }

    fn failed(
        &self,
        order: Order,
        mut findings: Vec<Finding>,
        set: Option<&SheetSet>,
        why: &str,
    ) -> OrderResult {
        findings.push(order.not_drawn(why, self.table));
        let mut result = self.result(order, findings, set);
        result.summary.status = Status::Failed;
        result
    }
}

/// Whether a file shows what its layout asks for.
fn reads_back(path: &Path, set: &SheetSet, layout: &Layout) -> bool {
    let bytes = std::fs::read(path).ok();
    let read_back = bytes.and_then(|bytes| exact(&bytes, set, layout, &[]).ok());
    read_back.is_some_and(|report| !forbids_print(&report.findings))
}
