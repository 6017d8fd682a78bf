//! A table of orders: which are ready, what is wrong in which cell, and one PDF of all that are
//! ready. The table is in the form itself: nothing is kept between two requests.

use super::{Answer, Workshop, frame};
use crate::batch::{
    Column, HardwareTotals, ORDER, Order, ParsedTable, Row, Table, lay_out_order, read,
};
use crate::cli::template_loader::{FileLoader, is_path};
use crate::diagnostic::{Finding, Severity, counted, forbids_print};
use crate::export::pdf::Merger;
use crate::fit::MeasurementUncertainty;
use crate::paginate::Paper;
use crate::print::{PrintOptions, draw_pdf, paginate_job};
use crate::template::{Missing, TemplateLoader, Text};
use crate::ticket::hardware;
use crate::words::Wording;
use maud::{Markup, html};

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
struct Sent {
    table: String,
    /// Cells that were corrected: row and column, from 0.
    cells: Vec<(usize, usize, String)>,
    deed: String,
    paper: Paper,
}

impl Sent {
    fn read(sent: &str) -> Self {
        let mut all = Self {
            table: String::new(),
            cells: Vec::new(),
            deed: String::new(),
            paper: Paper::default(),
        };
        for (key, value) in form_urlencoded::parse(sent.as_bytes()) {
            match key.as_ref() {
                "table" => all.table = value.into_owned(),
                "do" => all.deed = value.into_owned(),
                "paper" => all.paper = Paper::parse(&value).unwrap_or_default(),
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

/// An order with its row.
struct Laid {
    row: Row,
    order: Order,
}

impl Laid {
    fn is_ready(&self) -> bool {
        self.order.laid.is_some() && !forbids_print(&self.order.findings)
    }
}

/// The view for what was sent, or what is to be saved of it.
pub(super) fn answer(workshop: &Workshop, sent: Option<&str>) -> Answer {
    let Some(sent) = sent.map(Sent::read) else {
        return Answer::Page(frame::page("Orders", "/orders", &begin("", &[])));
    };
    let bytes = sent.table.clone().into_bytes();
    let ParsedTable { table, findings, .. } =
        read("orders", bytes, &workshop.profile.orders);
    let Some(table) = table else {
        return Answer::Page(frame::page(
            "Orders",
            "/orders",
            &begin(&sent.table, &findings),
        ));
    };
    let table = match corrected(&table, &sent.cells) {
        Some(text) => read("orders", text.into_bytes(), &workshop.profile.orders)
            .table
            .unwrap_or(table),
        None => table,
    };
    let loader = Named(&workshop.loader);
    let all: Vec<Laid> = table
        .rows()
        .take(MOST_ORDERS + 1)
        .map(|row| Laid { order: lay_out_order(&table, &row, None, &loader, ""), row })
        .collect();
    if all.len() > MOST_ORDERS {
        let why = format!(
            "The page takes {MOST_ORDERS} orders at once. Send fewer, or use the command \
             strapwright batch."
        );
        return Answer::Refused(frame::nothing("This is too much", &why));
    }
    let file = match sent.deed.as_str() {
        "pdf" => merged(&all, &sent.paper)
            .map(|bytes| ("orders.pdf", "application/pdf", bytes)),
        "hardware" => Some(("hardware.txt", "text/plain; charset=utf-8", totals(&all))),
        "table" => Some((
            "orders.csv",
            "text/csv; charset=utf-8",
            text_of(&table, &[]).into_bytes(),
        )),
        _ => None,
    };
    match file {
        Some((name, kind, bytes)) => Answer::File(Some(name.to_owned()), kind, bytes),
        None => {
            Answer::Page(frame::page("Orders", "/orders", &view(&table, &all, &sent)))
        }
    }
}

/// The table with corrected cells; `None` where nothing was corrected.
fn corrected(table: &Table, cells: &[(usize, usize, String)]) -> Option<String> {
    (!cells.is_empty()).then(|| text_of(table, cells))
}

/// The table as CSV.
fn text_of(table: &Table, cells: &[(usize, usize, String)]) -> String {
    let mut text = csv::Writer::from_writer(Vec::new());
    let mut write = |record: &[String]| text.write_record(record).is_ok();
    write(&table.columns.iter().map(|c| c.name.clone()).collect::<Vec<_>>());
    for (n, row) in table.rows().enumerate() {
        let other = |column: usize| {
            let cell = cells.iter().find(|(r, c, _)| (*r, *c) == (n, column));
            cell.map(|(.., value)| value.clone())
        };
        let own = row.cells.iter().enumerate();
        write(
            &own.map(|(i, cell)| other(i).unwrap_or_else(|| cell.value.clone()))
                .collect::<Vec<_>>(),
        );
    }
    String::from_utf8(text.into_inner().unwrap_or_default()).unwrap_or_default()
}

/// One PDF of all orders that are ready, with a bookmark for each.
fn merged(all: &[Laid], paper: &Paper) -> Option<Vec<u8>> {
    let options = PrintOptions {
        paper,
        correction: None,
        measuring: MeasurementUncertainty::default(),
        wording: Wording::default(),
        with_ticket: true,
    };
    let mut merger = Merger::new(Vec::new()).ok()?;
    for Laid { order, .. } in all.iter().filter(|one| one.is_ready()) {
        let laid = order.laid.as_ref()?;
        let set = paginate_job(laid, &options).ok()?;
        merger.add(&order.name, &draw_pdf(&set, &laid.2, &[]).ok()?.0).ok()?;
    }
    merger.finish("orders").ok()
}

/// The hardware of all orders that are ready, as text.
fn totals(all: &[Laid]) -> Vec<u8> {
    let mut totals = HardwareTotals::default();
    for Laid { order, .. } in all.iter().filter(|one| one.is_ready()) {
        if let Some((job, _, layout)) = &order.laid {
            totals.add(&hardware(job, layout));
        }
    }
    totals.to_text(Wording::default()).into_bytes()
}

fn begin(table: &str, findings: &[Finding]) -> Markup {
    html! {
        h1 { "Orders of the day" }
        @for finding in findings {
            div .finding.stop role="alert" {
                h3 { (frame::sign(Some(finding.severity), 22)) span { (frame::plain(&finding.message)) } }
                p { "Found " (frame::plain(&finding.found)) ". It takes " (frame::plain(&finding.required)) ". "
                    (frame::plain(&finding.remedy)) "." }
            }
        }
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

fn view(table: &Table, all: &[Laid], sent: &Sent) -> Markup {
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
        form .orders method="post" action="/orders" {
            input type="hidden" name="paper" value=(sent.paper.name());
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
                (paste(&text_of(table, &[])))
            }
        }
    }
}

/// An order that needs somebody: its cells with what is wrong in them.
fn order(table: &Table, n: usize, Laid { row, order }: &Laid) -> Markup {
    let column = |f: &Finding| {
        let key = order.column_key(f, table)?;
        table.columns.iter().position(|c| c.key() == key)
    };
    let errors = || order.findings.iter().filter(|f| f.severity == Severity::Error);
    html! {
        section .panel {
            h2 { (frame::sign(Some(Severity::Error), 22)) " " (order.name) }
            @for finding in errors().filter(|f| column(f).is_none()) { (trouble(finding)) }
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
                        div .about id={ "about-" (id) } { @for f in &own { (trouble(f)) } }
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

fn trouble(finding: &Finding) -> Markup {
    html! {
        div .finding.stop {
            h3 { (frame::plain(&finding.message)) }
            p { "Found " (frame::plain(&finding.found)) ". It may be "
                (frame::plain(&finding.required)) "." }
            p { "What would do: " (frame::plain(&finding.remedy)) "." }
        }
    }
}
