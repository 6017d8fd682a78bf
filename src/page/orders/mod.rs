//! A table of orders: which are ready, what is wrong in which cell, and the files of all that are
//! ready. The table is in the form itself: nothing is kept between two requests.

mod files;
mod sent;
mod view;

pub(super) use sent::Part;

use super::print::Setup;
use super::say::{say, say_with};
use super::{Answer, Workshop, frame};
use crate::batch::{
    FileNames, NamedColumn, Order, Row, Table, is_same_name, lay_out_order,
};
use crate::diagnostic::{Finding, Severity, forbids_print};
use crate::disk::template_loader::{FileLoader, is_path};
use crate::job::rule::BAD_LENGTH;
use crate::paginate::SheetSet;
use crate::template::{Missing, TemplateLoader, Text};
use files::{Files, MOST_BYTES, Made};
use sent::{NoTable, Sent};
use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::time::{Duration, Instant};

/// Most orders of a table that the page takes; `batch` takes more.
const MOST_ORDERS: usize = 300;
/// How long the page works on a table.
const MOST_WORK: Duration = Duration::from_secs(15);
/// Most changes of an order that are tried before they are offered.
const MOST_TRIED: usize = 6;

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

/// What all orders of a table share.
struct Shared<'a> {
    table: Table,
    loader: Named<'a>,
    setup: Setup,
}

/// An order as the page shows it.
struct Shown {
    row: Row,
    order: Order,
    findings: Vec<Finding>,
    /// The measure of an order that is ready, as it was read; empty for one without.
    ready: Option<String>,
    /// Values that mend a finding: the index of the finding, that of the column, the value.
    offers: Vec<(usize, usize, String)>,
}

impl Shared<'_> {
    /// An order with its findings, and its sheets where nothing forbids them.
    fn lay_out(&self, row: &Row) -> (Order, Vec<Finding>, Option<SheetSet>) {
        let Self { table, loader, setup } = self;
        let mut order = lay_out_order(table, row, None, loader, "");
        let mut findings = std::mem::take(&mut order.findings);
        let laid = order.laid.as_ref().filter(|_| !forbids_print(&findings));
        let set = laid.map(|laid| setup.sheets(laid)).transpose();
        let found = match &set {
            Ok(set) => set.iter().flat_map(|set| set.findings.clone()).collect(),
            Err(found) => found.clone(),
        };
        findings.extend(found.into_iter().map(|f| order.place(f, table)));
        (order, findings, set.ok().flatten())
    }

    fn column_of(&self, key: &str) -> Option<usize> {
        self.table.columns.iter().position(|column| column.key() == key)
    }

    /// The values of a cell that mend a finding, each tried on the whole order.
    fn offers(
        &self,
        row: &Row,
        order: &Order,
        findings: &[Finding],
    ) -> Vec<(usize, usize, String)> {
        let errors = |all: &[Finding]| {
            all.iter().filter(|f| f.severity == Severity::Error).count()
        };
        let mut all = Vec::new();
        for (i, finding) in findings.iter().enumerate() {
            let own = order.column(finding, &self.table);
            let given = finding.changes.iter().filter_map(|change| {
                let column = change.key.as_deref().map_or(own, |key| self.column_of(key));
                Some((i, column?, change.value.clone()))
            });
            all.extend(given);
            if let (Some(own), true) = (own, finding.rule == BAD_LENGTH) {
                let value = &row.cells[own].value;
                all.extend(["in", "cm", "mm"].map(|u| (i, own, format!("{value} {u}"))));
            }
        }
        all.truncate(MOST_TRIED);
        all.retain(|(i, column, value)| {
            let mut row = row.clone();
            row.cells[*column].value.clone_from(value);
            let Ok((changed, others, _)) = guarded(|| self.lay_out(&row)) else {
                return false;
            };
            let place = order.column(&findings[*i], &self.table);
            let is_there = |f: &Finding| {
                f.rule == findings[*i].rule && changed.column(f, &self.table) == place
            };
            errors(&others) < errors(findings) && !others.iter().any(is_there)
        });
        all
    }
}

/// The view for what was sent, or what is to be saved of it.
pub(super) fn answer(workshop: &Workshop, parts: Option<&[Part]>) -> Answer {
    let mut sent = parts.map(Sent::read).unwrap_or_default();
    let setup = Setup::read(workshop, |_| None);
    let page = |body| Answer::Page(frame::page(&say("Orders"), "/orders", &body));
    if parts.is_none() {
        sent.strips = workshop.strips();
    }
    if parts.is_none() || forbids_print(&setup.findings) {
        return page(view::begin(&sent, &setup.findings));
    }
    let table = match sent.table(&workshop.profile.orders) {
        Ok(table) => table,
        Err(NoTable::Findings(findings)) => return page(view::begin(&sent, &findings)),
        Err(NoTable::TooLong) => {
            return too_much(&say_with(
                "The page takes { $most } orders at once.",
                &[("most", &MOST_ORDERS)],
            ));
        }
        Err(NoTable::Changed) => {
            let why = say(
                "The table was changed, and single cells were corrected too: the page \
                           cannot tell which cells are meant. Go back and read the table first; \
                           then correct its cells.",
            );
            let title = say("Two corrections at once");
            return Answer::Refused(frame::nothing(&title, &why));
        }
    };
    if sent.deed == "table" {
        let text = table.to_text(&[]).into_bytes();
        return Answer::File(
            Some("orders.csv".to_owned()),
            "text/csv; charset=utf-8",
            text,
        );
    }
    let mut told = (sent.deed == "columns").then(|| {
        let all = table.columns.iter().map(view::of_column);
        let named = all.filter(|column| !is_same_name(&column.name, &column.key));
        match workshop.keep_columns(&named.collect::<Vec<NamedColumn>>()) {
            Ok(()) => say("The profile says this of the columns now."),
            Err(why) => format!("{} {why}", say("Not kept.")),
        }
    });
    let shared = Shared { table, loader: Named(&workshop.loader), setup };
    let Some(mut made) = make(&shared, &sent) else {
        return too_much(&say("These orders take too long."));
    };
    let mut file = made.file(&shared);
    if file.is_none() && ["zip", "plan"].contains(&&*sent.deed) {
        told = Some(say("Not saved. First mend what is wrong with the strips."));
        sent.deed.clear();
        let Some(again) = make(&shared, &sent) else {
            return too_much(&say("These orders take too long."));
        };
        made = again;
        file = None;
    }
    match file {
        Some(Ok((name, kind, bytes))) => Answer::File(Some(name.to_owned()), kind, bytes),
        Some(Err(why)) => {
            Answer::Refused(frame::nothing(&say("No drawing"), &format!("{why}.")))
        }
        None => page(view::view(&shared, &sent, &made, told.as_deref())),
    }
}

fn too_much(what: &str) -> Answer {
    let way = say("Send fewer, or use the command strapwright batch.");
    Answer::Refused(frame::nothing(&say("This is too much"), &format!("{what} {way}")))
}

/// Does a part of the work on an order; a mistake of the program there stops that order alone.
fn guarded<T>(work: impl FnOnce() -> T) -> Result<T, String> {
    let done = catch_unwind(AssertUnwindSafe(work));
    done.map_err(|_| "the program stopped while it drew it".to_owned())
}

/// Lays out every order, and draws what is asked for; `None` when that takes too long.
fn make(shared: &Shared<'_>, form: &Sent) -> Option<Made> {
    let begun = Instant::now();
    let table = &shared.table;
    let mut files = Files::new(&form.deed);
    let mut made = Made::default();
    let (mut names, mut rows) = (FileNames::default(), BTreeMap::new());
    for row in table.rows() {
        if begun.elapsed() > MOST_WORK {
            return None;
        }
        let laid = guarded(|| shared.lay_out(&row));
        let (mut order, mut findings, set) = laid.unwrap_or_else(|why| {
            let order = Order::failed(table, &row);
            let finding = order.not_drawn(&why, table);
            (order, vec![finding], None)
        });
        let stem = names.assign(&order.name);
        let first = *rows.entry(order.name.clone()).or_insert(row.number);
        if first != row.number && !order.name.is_empty() {
            findings.push(order.duplicate_name(first, table));
        }
        let mut file = String::new();
        let is_drawn = match (&order.laid, &set) {
            (Some((_, _, layout)), Some(set)) => {
                let drawn = guarded(|| files.add(&order.name, set, layout, &stem));
                drawn.flatten().map(|name| file = name).map_err(|why| {
                    findings.push(order.not_drawn(&why, table));
                })
            }
            _ => Err(()),
        };
        let is_ready = is_drawn.is_ok();
        if files.bytes() > MOST_BYTES {
            return None;
        }
        made.note(table, &order, &findings, (set.as_ref(), is_ready, file));
        let laid = order.laid.take().filter(|_| is_ready);
        let ready = laid.map(|(job, ..)| {
            let value = job.worn.as_ref().map(|worn| worn.measure.value.value);
            value.map(|value| shared.setup.print.wording.both(value)).unwrap_or_default()
        });
        let offers = if ready.is_none() && files.is_view() {
            shared.offers(&row, &order, &findings)
        } else {
            Vec::new()
        };
        made.all.push(Shown { row, order, findings, ready, offers });
    }
    made.plan(form);
    made.files = files;
    Some(made)
}
