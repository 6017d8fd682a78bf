//! `batch`: a day's orders.

mod done;
mod end;
mod folder;
mod lists;
mod one;
mod tell;

use super::cut::AllowanceArgs;
use super::loader::{FileLoader, TemplateArgs};
use super::onto::{Onto, OntoArgs};
use super::{Failure, Outcome, files};
use crate::batch::{self, Base, Key, Names, Rows, Table, Tally};
use crate::cutting::{self, Cut};
use crate::diagnostic::{Finding, Sources, forbids_print};
use crate::paginate::Scaling;
use clap::Args;
use done::{Day, Done, Into, Todo};
use folder::Folder;
use one::One;
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::ffi::OsString;
use std::path::PathBuf;
use tell::{Counts, Format, Teller};

/// Orders that are at work at a time: memory is for so many, however long the day.
const AT_A_TIME: usize = 128;
/// Largest table of orders, one byte more than is read.
const LARGEST: u64 = (1 << 25) + 1;

#[derive(Args, Debug)]
#[command(after_help = "\
The orders are a table: CSV in UTF-8 with , ; or tabs between the cells. The column
`order` names each order. Every other column is a key of a job: template, title,
wearer, measure.value, strap.width and so on. An empty cell leaves the value of --base
or of the template.

The folder gets a PDF for each order, summary.csv, the hardware of all orders
(hardware.txt, hardware.csv), and with --stock a cutting plan. Run the command again
after a change or an interruption: files that are right are kept, and the others are
drawn.

A mistake in a row stops that row alone. The exit code is then 1.")]
#[expect(clippy::struct_excessive_bools, reason = "each is a flag of the command line")]
pub(super) struct Batch {
    /// The table of orders (CSV); `-` reads it from standard input
    #[arg(value_name = "ORDERS")]
    orders: OsString,
    /// The folder to write to; it is made if it does not exist
    #[arg(short, long, value_name = "FOLDER")]
    output: PathBuf,
    /// The job that every order is laid over
    #[arg(long, value_name = "JOB")]
    base: Option<OsString>,
    #[command(flatten)]
    loader: TemplateArgs,
    /// Write one PDF of all orders with a bookmark for each, not a PDF for each order
    #[arg(long)]
    merge: bool,
    #[command(flatten)]
    onto: OntoArgs,
    /// Leave out the tickets, the pages of words before the sheets
    #[arg(long)]
    no_ticket: bool,
    /// The list of your strips (CSV or TOML); plans from which strip each piece is cut
    #[arg(long, value_name = "FILE")]
    stock: Option<OsString>,
    #[command(flatten)]
    allowances: AllowanceArgs,
    /// Draw everything again, and replace files that the batch did not make
    #[arg(long)]
    force: bool,
    /// Say only what is wrong
    #[arg(short, long)]
    quiet: bool,
    /// Text for people, or JSON for scripts: one object a line, on standard output
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

pub(super) fn run(args: &Batch) -> Result<Outcome, Failure> {
    let inputs = [Some(&args.orders), args.base.as_ref(), args.stock.as_ref()];
    if inputs.into_iter().flatten().filter(|path| *path == "-").count() > 1 {
        return Err(Failure::Usage(
            "only one input can come from standard input: give files for the others"
                .to_owned(),
        ));
    }
    let mut teller = Teller::new(args.format, args.quiet);
    let Some(ready) = Ready::read(args, &teller)? else {
        teller.say("nothing was drawn");
        return Ok(Outcome::Forbidden);
    };
    let folder = Folder::open(&args.output, args.force)?;
    teller.start(ready.table.rows().count(), &args.output)?;
    Run::new(args, &ready, &folder, &mut teller)?.go()?.end(args, &folder, &teller)
}

/// Everything that is read before the first order.
struct Ready {
    table: Table,
    base: Option<files::Text>,
    loader: FileLoader,
    stock: Option<cutting::ParsedStock>,
    onto: Onto,
}

impl Ready {
    /// Reads it; `None` where mistakes, which are shown, forbid the whole day.
    fn read(args: &Batch, teller: &Teller) -> Result<Option<Self>, Failure> {
        let mut forbidden = false;
        let mut tell = |findings: &[Finding], sources: &Sources| {
            forbidden |= forbids_print(findings);
            if findings.is_empty() { Ok(()) } else { teller.refuse(findings, sources) }
        };
        let (name, bytes) = files::bytes(&args.orders, LARGEST)?;
        let reading = batch::read(&name, bytes);
        tell(&reading.findings, &reading.sources)?;
        let base = args.base.as_ref().map(|path| files::read(path)).transpose()?;
        // What the rows name lies beside the base, or else beside the table.
        let loader =
            args.loader.open(Some(args.base.as_ref().unwrap_or(&args.orders)))?;
        let stock = match &args.stock {
            None => None,
            Some(path) => {
                let files::Text { name, text } = files::read(path)?;
                let stock = cutting::read(&name, &text);
                tell(&stock.findings, &stock.sources)?;
                Some(stock)
            }
        };
        let (mut sources, mut findings) = (Sources::default(), Vec::new());
        let onto = args.onto.read(&mut sources, &mut findings)?;
        tell(&findings, &sources)?;
        let table = reading.table.filter(|_| !forbidden);
        Ok(table.map(|table| Self { table, base, loader, stock, onto }))
    }
}

/// A day at work.
struct Run<'a, 'r> {
    ready: &'r Ready,
    day: Day<'a>,
    teller: &'a mut Teller,
    one: Option<One>,
    names: Names,
    /// The row of each name of an order, by the key of the name, which takes no more room
    /// for a long one.
    seen: BTreeMap<Key, usize>,
    sums: Sums,
    table: lists::Table,
}

/// What a day comes to.
#[derive(Default)]
struct Sums {
    counts: Counts,
    tally: Tally,
    cuts: Vec<Cut>,
    scaling: Option<Scaling>,
    pages: usize,
}

impl<'a, 'r: 'a> Run<'a, 'r> {
    fn new(
        args: &'a Batch,
        ready: &'r Ready,
        folder: &'a Folder,
        teller: &'a mut Teller,
    ) -> Result<Self, Failure> {
        let base = ready.base.as_ref().map(|b| Base { name: &b.name, text: &b.text });
        let options = ready.onto.print_options(!args.no_ticket);
        let mut day = Day {
            table: &ready.table,
            base,
            loader: &ready.loader,
            options,
            with: format!("{options:?}"),
            folder,
            force: args.force,
            into: Into::Files,
            cuts: ready.stock.is_some(),
        };
        let mut one = None;
        if args.merge {
            let new = One::new(&args.orders, &day)?;
            day.into = if new.is_there() { Into::Kept } else { Into::One };
            one = Some(new);
        }
        let table = lists::Table::new(folder)?;
        let (names, seen, sums) = Default::default();
        Ok(Self { ready, day, teller, one, names, seen, sums, table })
    }

    /// Does all orders, so many at a time, and tells of them in their order.
    fn go(mut self) -> Result<Finished<'r>, Failure> {
        let ready = self.ready;
        let mut rows = ready.table.rows();
        loop {
            let todo = self.next(&mut rows);
            if todo.is_empty() {
                break;
            }
            let (day, bar) = (&self.day, &self.teller.bar);
            let done: Vec<Result<Done, Failure>> = todo
                .par_iter()
                .map(|todo| {
                    let done = day.order(todo);
                    bar.inc(1);
                    done
                })
                .collect();
            let mut stopped = None;
            for done in done {
                match done {
                    Ok(done) => self.add(done)?,
                    Err(failure) => stopped = stopped.or(Some(failure)),
                }
            }
            if let Some(failure) = stopped {
                return Err(self.stopped(&failure));
            }
        }
        let Self { ready, sums, one, table, .. } = self;
        Ok(Finished { ready, sums, one, table })
    }

    fn next(&mut self, rows: &mut Rows<'_>) -> Vec<Todo> {
        let order = self.day.table.order_column();
        let todo = |row: batch::Row| {
            let called = row.cells.get(order).map_or("", |c| c.value.as_str());
            let name = self.names.give(called);
            let first = *self.seen.entry(Key::of([called])).or_insert(row.number);
            let twice = Some(first).filter(|&r| r != row.number && !called.is_empty());
            Todo { row, name, twice }
        };
        rows.take(AT_A_TIME).map(todo).collect()
    }

    fn add(&mut self, mut done: Done) -> Result<(), Failure> {
        let sums = &mut self.sums;
        if let (Some(one), batch::Status::Drawn) = (&mut self.one, done.summary.status) {
            one.add(&done)?;
            one.name.clone_into(&mut done.summary.file);
            done.summary.page = Some(sums.pages + 1);
            sums.pages += done.pages;
        }
        if let Some(one) = &mut self.one {
            one.count(&done.order, done.summary.status);
        }
        sums.counts.add(&done.summary, done.kept);
        sums.tally.add(&done.hardware);
        sums.cuts.append(&mut done.cuts);
        if sums.scaling.is_none() {
            sums.scaling.clone_from(&done.scaling);
        }
        self.table.add(&done.summary)?;
        self.teller.order(&done, self.day.table)
    }

    /// What to say when the machine failed: what is written is whole.
    fn stopped(&self, failure: &Failure) -> Failure {
        let Counts { orders, drawn, .. } = self.sums.counts;
        self.teller.bar.finish_and_clear();
        Failure::Machine(format!(
            "{failure}; stopped after {orders} orders. The {drawn} that are drawn are whole: \
             when this is mended, run the same command again and it goes on from there"
        ))
    }
}

/// A day whose orders are all done.
struct Finished<'a> {
    ready: &'a Ready,
    sums: Sums,
    one: Option<One>,
    table: lists::Table,
}
