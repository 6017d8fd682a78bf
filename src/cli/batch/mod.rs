//! `batch`: draws all orders of a table.

mod ending;
mod finish;
mod folder;
mod lists;
mod merged_file;
mod order;
mod report;

use super::cut::AllowanceArgs;
use super::print_setup::{PrintSetupArgs, TicketArgs};
use super::terminal::OutputFormat;
use super::workshop::{Workshop, WorkshopArgs};
use super::{Failure, Result, files};
use crate::batch::{
    self, CacheKey, ColumnRules, FileNames, HardwareTotals, Mistake, NamedColumn, Rows,
    Status, Table,
};
use crate::cutting::{self, Cut, ParsedStock};
use crate::diagnostic::{Finding, Sources, counted, forbids_print};
use crate::print::PrintSetup;
use crate::profile::Profile;
use crate::template::Text;
use clap::{Args, ValueHint};
use folder::OutputFolder;
use lists::RowList;
use merged_file::MergedFile;
use order::{OrderResult, PendingOrder, Shared, Sink};
use rayon::prelude::*;
use report::{Counts, Reporter};
use std::collections::BTreeMap;
use std::ffi::OsString;
use std::path::PathBuf;

/// The number of orders that are drawn in parallel. It bounds the memory, however long the
/// table is.
const CHUNK: usize = 128;
/// The largest table of orders, in bytes.
const MAX_TABLE: u64 = 1 << 25;

#[derive(Args, Debug)]
#[command(after_help = "\
The orders are a table: CSV in UTF-8 with , ; or tabs between the cells, or a workbook
(.xlsx, .ods). The column `order` names each order. Every other column is a key of a job:
template, title, wearer, measure.value, strap.width and so on; has a name for one by
--column or your profile; or is ignored. An empty cell leaves the value of --base or of
the template.

The folder gets a PDF for each order, summary.csv, mistakes.csv, the hardware of all orders
(hardware.txt, hardware.csv), and with --stock a cutting plan. Run the command again
after a change or an interruption: files that are right are kept, and the others are
drawn. Ctrl-C, or the signal TERM, ends the batch after the orders at work; a second
one ends it at once.

A mistake in a row stops that row alone. The exit code is then 1.")]
#[expect(clippy::struct_excessive_bools, reason = "each is a flag of the command line")]
pub(super) struct Batch {
    /// The table of orders (CSV, .xlsx or .ods); `-` reads it from standard input
    #[arg(value_name = "ORDERS", value_hint = ValueHint::FilePath)]
    orders: OsString,
    /// The folder to write to; it is made if it does not exist
    #[arg(short, long, value_name = "FOLDER")]
    output: PathBuf,
    /// The job that every order is laid over
    #[arg(long, value_name = "JOB", value_hint = ValueHint::FilePath)]
    base: Option<OsString>,
    /// What a column of another name is, such as Waist=measure.value; can be given again
    #[arg(long = "column", value_name = "NAME=KEY", value_parser = named_column)]
    columns: Vec<NamedColumn>,
    /// A column that no order depends on, such as Due; can be given again
    #[arg(long = "ignore", value_name = "NAME")]
    ignored: Vec<String>,
    #[command(flatten)]
    workshop: WorkshopArgs,
    /// Write one PDF of all orders with a bookmark for each, not a PDF for each order
    #[arg(long)]
    merge: bool,
    #[command(flatten)]
    setup: PrintSetupArgs,
    #[command(flatten)]
    ticket: TicketArgs,
    /// The list of your strips (CSV or TOML); plans from which strip each piece is cut
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    stock: Option<OsString>,
    #[command(flatten)]
    allowances: AllowanceArgs,
    /// Draw everything again, and replace files that the batch did not make
    #[arg(long)]
    force: bool,
    /// Also read back the files that are kept, and draw anew what is wrong
    #[arg(long, conflicts_with = "merge")]
    check_kept: bool,
    /// Say only what is wrong
    #[arg(short, long)]
    quiet: bool,
    /// Text for people, or JSON for scripts: one object a line, on standard output
    #[arg(long, value_enum, default_value_t = OutputFormat::Text)]
    format: OutputFormat,
}

fn named_column(text: &str) -> std::result::Result<NamedColumn, String> {
    let (name, key) = text.rsplit_once('=').unwrap_or_default();
    let (name, key) = (name.trim().to_owned(), key.trim().to_owned());
    if name.is_empty() || key.is_empty() {
        return Err("give the name of a column and a key: Waist=measure.value".to_owned());
    }
    Ok(NamedColumn { name, key, ..NamedColumn::default() })
}

impl Batch {
    /// What the columns mean: flags come before the profile. A flag that gives a key leaves
    /// unit and words as they are in the profile.
    fn rules(&self, profile: &Profile) -> ColumnRules {
        let own = &profile.orders;
        let named = self.columns.iter().map(|column| {
            let of_profile = own.named.iter().find(|other| other.key == column.key);
            let (name, key) = (column.name.clone(), column.key.clone());
            NamedColumn { name, key, ..of_profile.cloned().unwrap_or_default() }
        });
        let is_ignored = |column: &&NamedColumn| {
            self.ignored.iter().any(|name| batch::is_same_name(name, &column.name))
        };
        let of_profile = own.named.iter().filter(|column| !is_ignored(column));
        let named = named.chain(of_profile.cloned());
        let ignored = self.ignored.iter().chain(&own.ignored).cloned();
        ColumnRules {
            sheet: own.sheet.clone(),
            named: named.collect(),
            ignored: ignored.collect(),
        }
    }
}

pub(super) fn run(args: &Batch) -> Result {
    let threads = rayon::ThreadPoolBuilder::new;
    // Where no further thread is to be had, this one draws all.
    let here = || threads().num_threads(1).use_current_thread().build();
    let pool = threads().build().or_else(|_| here());
    let pool = pool.map_err(|e| Failure::System(format!("cannot begin to draw: {e}")))?;
    let result = pool.install(|| draw_orders(args));
    if matches!(result, Ok(()) | Err(Failure::Forbidden)) {
        ending::end_if_asked();
    }
    result
}

fn draw_orders(args: &Batch) -> Result {
    let inputs = [Some(&args.orders), args.base.as_ref(), args.stock.as_ref()];
    files::check_one_stdin(inputs.into_iter().flatten())?;
    let mut reporter = Reporter::new(args.format, args.quiet);
    let inputs = Inputs::read(args, &reporter).inspect_err(|failure| {
        if matches!(failure, Failure::Forbidden) {
            reporter.message("nothing was drawn");
        }
    })?;
    let folder = OutputFolder::open(&args.output, args.force)?;
    reporter.start(inputs.table.rows().count(), &args.output)?;
    let _ = ending::listen();
    let mut run = Run::new(args, &inputs, &folder, &mut reporter)?;
    run.draw_all()?;
    run.finish(args)
}

/// Everything that is read before the first order is drawn.
struct Inputs {
    table: Table,
    base: Option<Text>,
    workshop: Workshop,
    stock: Option<ParsedStock>,
    setup: PrintSetup,
}

impl Inputs {
    /// Reads everything, and reports all findings.
    ///
    /// # Errors
    /// When a file cannot be read, or findings forbid the whole batch.
    fn read(args: &Batch, reporter: &Reporter) -> Result<Self> {
        let mut is_forbidden = false;
        let mut report = |findings: &[Finding], sources: &Sources| {
            is_forbidden |= forbids_print(findings);
            reporter.refuse(findings, sources)
        };
        let base = args.base.as_ref().map(|path| files::read(path)).transpose()?;
        // Paths in the rows begin in the folder of the base job, else of the table.
        let workshop =
            args.workshop.open(Some(args.base.as_ref().unwrap_or(&args.orders)))?;
        let (name, bytes) = files::read_bytes(&args.orders, MAX_TABLE)?;
        let parsed = batch::read(&name, bytes, &args.rules(&workshop.profile));
        report(&parsed.findings, &parsed.sources)?;
        let mut stock = None;
        if let Some(path) = &args.stock {
            let list = files::read(path)?;
            let parsed = stock.insert(cutting::read(&list.name, &list.text));
            report(&parsed.findings, &parsed.sources)?;
        }
        let (setup, findings, sources) = args.setup.read(&workshop)?;
        report(&findings, &sources)?;
        match parsed.table {
            Some(table) if !is_forbidden => {
                Ok(Self { table, base, workshop, stock, setup })
            }
            _ => Err(Failure::Forbidden),
        }
    }
}

/// A running batch.
struct Run<'a> {
    shared: Shared<'a>,
    reporter: &'a mut Reporter,
    merged: Option<MergedFile>,
    file_names: FileNames,
    /// The first row with each name. Names are hashed, so that long ones take no more memory.
    rows_by_name: BTreeMap<CacheKey, usize>,
    totals: Totals,
    summary: RowList,
    mistakes: RowList,
}

/// The sums over all orders.
#[derive(Default)]
struct Totals {
    counts: Counts,
    hardware: HardwareTotals,
    cuts: Vec<Cut>,
    pages: usize,
}

impl<'a> Run<'a> {
    fn new(
        args: &'a Batch,
        inputs: &'a Inputs,
        folder: &'a OutputFolder,
        reporter: &'a mut Reporter,
    ) -> Result<Self> {
        let with_ticket = args.ticket.is_wanted(&inputs.workshop.profile);
        let options = inputs.setup.print_options(with_ticket);
        let setup = format!("{} {options:?}", folder::build());
        let mut shared =
            Shared { args, inputs, options, setup, folder, sink: Sink::Files };
        let mut merged = None;
        if args.merge {
            let file = merged.insert(MergedFile::new(&args.orders, &shared)?);
            shared.sink =
                if file.is_up_to_date() { Sink::MergedExists } else { Sink::Merged };
        }
        let (summary, mistakes) = (RowList::summary(folder)?, RowList::mistakes(folder)?);
        let (file_names, rows_by_name, totals) = Default::default();
        Ok(Self {
            shared,
            reporter,
            merged,
            file_names,
            rows_by_name,
            totals,
            summary,
            mistakes,
        })
    }

    /// Draws all orders, a chunk at a time, and reports them in the order of the table.
    fn draw_all(&mut self) -> Result {
        let mut rows = self.shared.inputs.table.rows();
        loop {
            let chunk = self.next_chunk(&mut rows);
            if chunk.is_empty() || ending::is_asked() {
                return Ok(());
            }
            let (shared, bar) = (&self.shared, &self.reporter.bar);
            let draw = |pending| {
                if ending::is_asked() {
                    return None;
                }
                let result = shared.draw(pending);
                bar.inc(1);
                Some(result)
            };
            let results: Vec<Result<OrderResult>> =
                chunk.par_iter().filter_map(draw).collect();
            let mut failure = None;
            for result in results {
                match result {
                    Ok(result) => self.add(result)?,
                    Err(error) => failure = failure.or(Some(error)),
                }
            }
            if let Some(failure) = failure {
                return Err(self.stopped(&failure));
            }
        }
    }

    fn next_chunk(&mut self, rows: &mut Rows<'_>) -> Vec<PendingOrder> {
        let column = self.shared.inputs.table.order_column();
        let pending = |row: batch::Row| {
            let name = row.cells.get(column).map_or("", |c| c.value.as_str());
            let file_stem = self.file_names.assign(name);
            let key = CacheKey::new([name]);
            let first = *self.rows_by_name.entry(key).or_insert(row.number);
            let is_duplicate = first != row.number && !name.is_empty();
            let duplicate_of = is_duplicate.then_some(first);
            PendingOrder { row, file_stem, duplicate_of }
        };
        rows.take(CHUNK).map(pending).collect()
    }

    fn add(&mut self, mut result: OrderResult) -> Result {
        let (totals, table) = (&mut self.totals, &self.shared.inputs.table);
        if let Some(merged) = &mut self.merged {
            merged.add(&result)?;
            if result.summary.status == Status::Drawn {
                merged.name.clone_into(&mut result.summary.file);
                result.summary.page = Some(totals.pages + 1);
                totals.pages += result.pages;
            }
        }
        totals.counts.add(&result.summary, result.kept);
        totals.hardware.add(&result.hardware);
        totals.cuts.append(&mut result.cuts);
        self.summary.add(&result.summary)?;
        for mistake in Mistake::all(&result.order, &result.findings, table) {
            self.mistakes.add(&mistake)?;
        }
        self.reporter.order(&result, table)
    }

    /// The failure to report when a file cannot be written: what is written is whole.
    fn stopped(&self, failure: &Failure) -> Failure {
        let orders = counted(self.totals.counts.orders, "order");
        self.reporter.bar.finish_and_clear();
        Failure::System(format!(
            "{failure}; stopped after {orders}. Every drawing that is there is whole: correct \
             this and run the same command again, and it goes on from there"
        ))
    }
}
