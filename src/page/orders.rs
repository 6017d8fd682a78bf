//! A table of orders: which are ready, what is wrong in which cell, and one PDF of all that are
//! ready. The table is in the form itself: nothing is kept between two requests.

use super::assets::hash;
use super::print::Setup;
use super::{Answer, Workshop, frame};
use crate::batch::{
    Column, HardwareTotals, ORDER, Order, Row, Table, lay_out_order, read,
};
use crate::diagnostic::{Finding, Severity, counted, forbids_print};
use crate::disk::template_loader::{FileLoader, is_path};
use crate::export::csv;
use crate::export::pdf::Merger;
use crate::paginate::SheetSet;
use crate::print::draw_pdf;
use crate::template::{Missing, TemplateLoader, Text};
use crate::ticket::hardware;
use crate::words::Wording;
use maud::{Markup, html};
use std::fmt::Display;
use std::iter;

/// Most orders of a table that the page takes; `batch` takes more.
const MOST_ORDERS: usize = 300;

/// Templates by their names alone: a table that somebody sent names no file.
struct Named<'a>(&'a FileLoader);

impl TemplateLoader for Named<'_> {
    fn find(&self, name: &str, by: Option<&Text>) -> Result<Text, Missing> {
        let is_sent = by.is_none() && is_path(name);
        if is_sent { Err(Missing::Unknown) } else { self.0.find(name, by) }
    }

    fn profiles(&self) -> &[Text] {
        self.0.profiles()
    }

    fn names(&self) -> Vec<String> {
        self.0.names()
    }
}

/// What a form sends.
#[derive(Default)]
struct Sent {
    table: String,
    /// The hash of the table to which the corrections belong.
    seen: String,
    /// Cells that were corrected: row and column, from 0.
    cells: Vec<(usize, usize, String)>,
    deed: String,
}

impl Sent {
    fn read(sent: &str) -> Self {
        let mut all = Self::default();
        for (key, value) in form_urlencoded::parse(sent.as_bytes()) {
            match key.as_ref() {
                // A browser sends the lines of a text with other ends than it was given.
                "table" => all.table = value.replace("\r\n", "\n"),
                "seen" => all.seen = value.into_owned(),
                "do" => all.deed = value.into_owned(),
                key => {
                    let cell = key.strip_prefix("cell-").and_then(|k| k.split_once('-'));
                    let cell =
                        cell.and_then(|(r, c)| Some((r.parse().ok()?, c.parse().ok()?)));
                    all.cells.extend(
                        cell.map(|(row, column)| (row, column, value.into_owned())),
                    );
                }
            }
        }
        all
    }
}

/// An order with its row, and its sheets where nothing forbids them.
struct Laid {
    row: Row,
    order: Order,
    set: Option<SheetSet>,
}

impl Laid {
    fn new(table: &Table, row: Row, loader: &Named<'_>, setup: &Setup) -> Self {
        let mut order = lay_out_order(table, &row, None, loader, "");
        let laid = order.laid.as_ref().filter(|_| !forbids_print(&order.findings));
        let set = laid.map(|laid| setup.sheets(laid)).transpose();
        let set = set.unwrap_or_else(|findings| {
            let placed = findings.into_iter().map(|f| order.place(f, table));
            let placed: Vec<Finding> = placed.collect();
            order.findings.extend(placed);
            None
        });
        Self { row, order, set }
    }

    fn is_ready(&self) -> bool {
        self.set.is_some()
    }
}

/// The view for what was sent, or what is to be saved of it.
pub(super) fn answer(workshop: &Workshop, sent: Option<&str>) -> Answer {
    let Sent { table: text, seen, cells, deed } =
        sent.map(Sent::read).unwrap_or_default();
    let setup = Setup::read(workshop, |_| None);
    let again = |text: &str, findings: &[Finding]| {
        Answer::Page(frame::page("Orders", "/orders", &begin(text, findings)))
    };
    if sent.is_none() || forbids_print(&setup.findings) {
        return again(&text, &setup.findings);
    }
    let read = |text: &str| {
        let parsed = read("orders", text.as_bytes().to_vec(), &workshop.profile.orders);
        parsed.table.ok_or(parsed.findings)
    };
    let mut table = match read(&text) {
        Ok(table) => table,
        Err(findings) => return again(&text, &findings),
    };
    if !cells.is_empty() {
        if hash(&text_of(&table, &[])) != seen {
            let why = "The table was changed, and single cells were corrected too: the page \
                       cannot tell which cells are meant. Go back and read the table first; \
                       then correct its cells.";
            return Answer::Refused(frame::nothing("Two corrections at once", why));
        }
        let text = text_of(&table, &cells);
        table = match read(&text) {
            Ok(table) => table,
            Err(findings) => return again(&text, &findings),
        };
    }
    let loader = Named(&workshop.loader);
    if table.rows().count() > MOST_ORDERS {
        let why = format!(
            "The page takes {MOST_ORDERS} orders at once. Send fewer, or use the command \
             strapwright batch."
        );
        return Answer::Refused(frame::nothing("This is too much", &why));
    }
    let all = table.rows().map(|row| Laid::new(&table, row, &loader, &setup));
    let all: Vec<Laid> = all.collect();
    let (name, kind, bytes) = match deed.as_str() {
        "pdf" => match merged(&all) {
            Ok(bytes) => ("orders.pdf", "application/pdf", bytes),
            Err(why) => return Answer::Refused(frame::nothing("No drawing", &why)),
        },
        "hardware" => {
            let list = totals(&all, setup.print.wording).into_bytes();
            ("hardware.txt", "text/plain; charset=utf-8", list)
        }
        "table" => {
            let text = text_of(&table, &[]).into_bytes();
            ("orders.csv", "text/csv; charset=utf-8", text)
        }
        _ => {
            let body = view(&table, &all, &setup);
            return Answer::Page(frame::page("Orders", "/orders", &body));
        }
    };
    Answer::File(Some(name.to_owned()), kind, bytes)
}

/// The table as CSV, with corrected cells.
fn text_of(table: &Table, cells: &[(usize, usize, String)]) -> String {
    let header = table.columns.iter().map(|c| c.name.clone()).collect();
    let rows = table.rows().enumerate().map(|(n, row)| {
        let mut values: Vec<String> = row.cells.into_iter().map(|c| c.value).collect();
        for (_, column, value) in cells.iter().filter(|(row, ..)| *row == n) {
            if let Some(own) = values.get_mut(*column) {
                own.clone_from(value);
            }
        }
        values
    });
    csv(iter::once(header).chain(rows))
}

/// One PDF of all orders that are ready, with a bookmark for each; else why there is none.
fn merged(all: &[Laid]) -> Result<Vec<u8>, String> {
    let mut merger = Merger::default();
    for Laid { order, set, .. } in all {
        if let (Some((_, _, layout)), Some(set)) = (&order.laid, set) {
            let of = |why: &dyn Display| format!("Order {}: {why}.", order.name);
            let (bytes, _) = draw_pdf(set, layout, &[]).map_err(|why| of(&why))?;
            merger.add(&order.name, &bytes).map_err(|why| of(&why))?;
        }
    }
    let mut file = Vec::new();
    merger.finish("orders", &mut file).map_err(|why| format!("{why}."))?;
    Ok(file)
}

/// The hardware of all orders that are ready, as text.
fn totals(all: &[Laid], wording: Wording) -> String {
    let mut totals = HardwareTotals::default();
    for Laid { order, .. } in all.iter().filter(|one| one.is_ready()) {
        if let Some((job, _, layout)) = &order.laid {
            totals.add(&hardware(job, layout));
        }
    }
    totals.to_text(wording)
}

fn begin(table: &str, findings: &[Finding]) -> Markup {
    html! {
        h1 { "Orders of the day" }
        div role="alert" { (frame::findings(findings)) }
        form method="post" action="/orders" {
            (paste(table))
            p .row { button .black type="submit" { "Look at these orders" } }
        }
        p .how { "One order a row. The column “order” names it; every other column is a key of a "
            "job: template, title, wearer, measure.value, strap.width and so on. An empty cell is "
            "the template's value." }
    }
}

/// Where a table is pasted, or read from a file where there is a script.
fn paste(table: &str) -> Markup {
    html! {
        div .field {
            div {
                label for="table" { "The table"
                    span .how { "Copy it from a spreadsheet with its first row, or from a CSV file." } }
                textarea id="table" name="table" rows="10" spellcheck="false" data-file {
                    (table)
                }
            }
        }
    }
}

fn view(table: &Table, all: &[Laid], setup: &Setup) -> Markup {
    let text = text_of(table, &[]);
    let ready = all.iter().filter(|one| one.is_ready()).count();
    let wrong = all.len() - ready;
    html! {
        h1 { "Orders of the day" }
        section .status role="status" {
            h2 {
                (frame::sign((wrong > 0).then_some(Severity::Error), 26))
                (ready) " " (if ready == 1 { "is" } else { "are" }) " ready"
                @if wrong > 0 { ", " (wrong) " " (if wrong == 1 { "needs" } else { "need" }) " you" }
            }
        }
        (frame::findings(&setup.findings))
        form .orders method="post" action="/orders" {
            input type="hidden" name="seen" value=(hash(&text));
            @for (n, one) in all.iter().enumerate().filter(|(_, one)| !one.is_ready()) {
                (order(table, n, one))
            }
            p .row {
                @if wrong > 0 { button type="submit" name="do" value="read" { "Read again" } }
                @if ready > 0 {
                    button .black type="submit" name="do" value="pdf" {
                        "One PDF of " (counted(ready, "order"))
                    }
                    button type="submit" name="do" value="hardware" { "Hardware list" }
                }
                button type="submit" name="do" value="table" { "The table as it is now" }
            }
            @if ready > 0 {
                table {
                    caption { "Ready" }
                    thead { tr { th scope="col" { "order" } th scope="col" { "strap" } th scope="col" { "for" } } }
                    tbody {
                        @for one in all.iter().filter(|one| one.is_ready()) {
                            @if let Some((job, ..)) = &one.order.laid {
                                tr { th scope="row" { (one.order.name) } td { (job.title.value) } td { (job.wearer.value) } }
                            }
                        }
                    }
                }
            }
            details .fold {
                summary { strong { "The whole table" } }
                (paste(&text))
            }
        }
    }
}

/// An order that needs somebody: its cells with what is wrong in them.
fn order(table: &Table, n: usize, Laid { row, order, .. }: &Laid) -> Markup {
    let column = |f: &Finding| {
        let key = order.column_key(f, table)?;
        table.columns.iter().position(|c| c.key() == key)
    };
    let errors = || order.findings.iter().filter(|f| f.severity == Severity::Error);
    html! {
        section .panel {
            h2 { (frame::sign(Some(Severity::Error), 22)) " " (order.name) }
            @for finding in errors().filter(|f| column(f).is_none()) { (frame::finding(finding, &html! {})) }
            @for (i, cell) in row.cells.iter().enumerate() {
                @let own: Vec<&Finding> = errors().filter(|f| column(f) == Some(i)).collect();
                @let id = format!("cell-{n}-{i}");
                @match table.columns.get(i).map(Column::key) {
                    Some(key) if !own.is_empty() => div .field {
                        div {
                            label for=(id) { (key) }
                            input type="text" id=(id) name=(id) value=(cell.value) autocomplete="off"
                                aria-invalid="true" aria-describedby={ "about-" (id) };
                        }
                        div .about id={ "about-" (id) } { @for f in &own { (frame::finding(f, &html! {})) } }
                    },
                    Some(key) if key != ORDER && !cell.value.is_empty() => {
                        p { span .quiet { (key) ": " } (cell.value) }
                    }
                    _ => {}
                }
            }
        }
    }
}
