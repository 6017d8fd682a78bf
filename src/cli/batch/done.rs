//! One order from its row to its file.

use super::super::Failure;
use super::super::loader::FileLoader;
use super::folder::{Folder, Put, Standing};
use crate::batch::{self, Base, Key, Order, Row, Status, Summary, Table};
use crate::cutting::{self, Cut};
use crate::diagnostic::{Finding, Severity, forbids_print};
use crate::paginate::{Scaling, SheetSet};
use crate::print::{PrintOptions, draw_pdf, paginate_job};
use crate::ticket::{Hardware, hardware};
use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind};

/// What all orders have in common.
pub(super) struct Day<'a> {
    pub(super) table: &'a Table,
    pub(super) base: Option<Base<'a>>,
    pub(super) loader: &'a FileLoader,
    pub(super) options: PrintOptions<'a>,
    /// All of that which decides what is drawn, in words.
    pub(super) with: String,
    pub(super) folder: &'a Folder,
    pub(super) force: bool,
    pub(super) into: Into,
    /// Whether the pieces are to be cut from a stock.
    pub(super) cuts: bool,
}

/// Where the drawings go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Into {
    /// Each into a file of its own.
    Files,
    /// Into one file, to which the bytes are handed on.
    One,
    /// Into one file that is there already.
    Kept,
}

/// An order as it comes to be done.
pub(super) struct Todo {
    pub(super) row: Row,
    /// The name of its own file, without an ending.
    pub(super) name: String,
    /// The number of an earlier row with the same name.
    pub(super) twice: Option<usize>,
}

/// An order that is done.
pub(super) struct Done {
    pub(super) order: Order,
    pub(super) findings: Vec<Finding>,
    pub(super) summary: Summary,
    /// Whether its drawing was there already.
    pub(super) kept: bool,
    /// What it takes; nothing where it cannot be drawn.
    pub(super) hardware: BTreeMap<Hardware, usize>,
    pub(super) cuts: Vec<Cut>,
    /// How many pages it has, its ticket too.
    pub(super) pages: usize,
    pub(super) scaling: Option<Scaling>,
    /// Its drawing, where that goes into one file with others.
    pub(super) bytes: Option<Vec<u8>>,
}

impl Day<'_> {
    /// Does an order. A mistake of the program costs that order alone too.
    ///
    /// # Errors
    /// When its file cannot be written.
    pub(super) fn order(&self, todo: &Todo) -> Result<Done, Failure> {
        catch_unwind(AssertUnwindSafe(|| self.drawn(todo))).unwrap_or_else(|_| {
            let order = Order::broken(self.table, &todo.row);
            Ok(self.failed(order, Vec::new(), None, "it stopped within the program"))
        })
    }

    /// The name of an order and what it would be drawn from.
    pub(super) fn key(&self, row: &Row) -> (String, Key) {
        let order = || batch::order(self.table, row, self.base, self.loader, &self.with);
        let order = catch_unwind(AssertUnwindSafe(order))
            .unwrap_or_else(|_| Order::broken(self.table, row));
        (order.name, order.key)
    }

    fn drawn(&self, todo: &Todo) -> Result<Done, Failure> {
        let Self { table, options, folder, .. } = *self;
        let order = batch::order(table, &todo.row, self.base, self.loader, &self.with);
        let mut findings = order.findings.clone();
        findings.extend(todo.twice.map(|row| order.twice(row, table)));
        let printable = order.laid.as_ref().filter(|_| !forbids_print(&findings));
        let set = match printable.map(|laid| paginate_job(laid, &options)) {
            Some(Ok(set)) => {
                findings
                    .extend(set.findings.iter().cloned().map(|f| order.placed(f, table)));
                Some(set)
            }
            Some(Err(finding)) => {
                findings.push(order.placed(*finding, table));
                None
            }
            None => None,
        };
        let name = format!("{}.pdf", todo.name);
        if self.into == Into::Files {
            folder.meet(&name);
        }
        let (Some(laid), Some(set)) = (printable, set) else {
            return Ok(self.end(order, findings, None));
        };
        let (job, _, layout) = laid;
        let hardware = hardware(job, layout);
        let cuts = if self.cuts {
            let own = cutting::cuts(&order.name, job, layout).into_iter();
            own.map(|cut| Cut { span: None, ..cut }).collect()
        } else {
            Vec::new()
        };
        let there = self.into == Into::Kept
            || self.into == Into::Files
                && !self.force
                && folder.standing(&name, order.key) == Standing::Same;
        let drawn = if there { None } else { Some(draw_pdf(&set, layout, &[])) };
        let (mut kept, mut in_the_way, mut bytes) = (there, false, None);
        match drawn {
            None => {}
            Some(Err(fault)) => {
                return Ok(self.failed(order, findings, Some(&set), &fault.to_string()));
            }
            Some(Ok(file)) if self.into == Into::One => bytes = Some(file.bytes),
            Some(Ok(file)) => match folder.put(&name, order.key, &file.bytes)? {
                Some(Put::New) => {}
                Some(Put::ThereAlready) => kept = true,
                None => in_the_way = true,
            },
        }
        if in_the_way {
            let path = folder.join(&name).display().to_string();
            findings.push(order.in_the_way(&path, table));
        }
        let mut done = self.end(order, findings, Some(&set));
        done.summary.status = if in_the_way { Status::InTheWay } else { Status::Drawn };
        if self.into == Into::Files && !in_the_way {
            done.summary.file = name;
        }
        Ok(Done { kept, hardware, cuts, bytes, ..done })
    }

    fn end(&self, order: Order, findings: Vec<Finding>, set: Option<&SheetSet>) -> Done {
        let summary = Summary::of(&order, self.table, &findings, set);
        let pages = set.map_or(0, |s| s.ticket.len() + s.sheets.len());
        let scaling = set.and_then(|s| s.correction.clone());
        let (hardware, cuts) = (BTreeMap::new(), Vec::new());
        let (kept, bytes) = (false, None);
        Done { order, findings, summary, kept, hardware, cuts, pages, scaling, bytes }
    }

    fn failed(
        &self,
        order: Order,
        mut findings: Vec<Finding>,
        set: Option<&SheetSet>,
        why: &str,
    ) -> Done {
        let what = "this order could not be drawn, though nothing is wrong with it";
        let finding = Finding::new(batch::rule::ORDER_FAILED, Severity::Error, what)
            .expected(why, "a drawing")
            .remedy("this is a mistake of the program: please report it with the order");
        findings.push(order.placed(finding, self.table));
        let mut done = self.end(order, findings, set);
        done.summary.status = Status::Failed;
        done
    }
}
