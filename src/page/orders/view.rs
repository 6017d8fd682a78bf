//! How orders are shown.

use super::super::assets::hash;
use super::super::frame;
use super::super::say::{count, say, say_with};
use super::super::strap::units;
use super::files::Made;
use super::sent::{FLAWS, Sent};
use super::{Shared, Shown};
use crate::batch::{COLUMNS, Column, NamedColumn, is_same_name};
use crate::diagnostic::{Finding, Severity};
use crate::template::{REGISTER, about_chain};
use maud::{Markup, html};
use std::collections::BTreeSet;
use std::sync::LazyLock;

/// Most letters of a column's name that are shown in a cell.
const MOST_NAME: usize = 60;

/// The keys that a column can stand for.
static KEYS: LazyLock<BTreeSet<String>> = LazyLock::new(|| {
    let keys = REGISTER.iter().flat_map(|t| about_chain(&[t.text]).keys);
    let keys = keys.filter(|key| !key.of_feature).map(|key| key.name);
    keys.chain(COLUMNS.map(ToOwned::to_owned)).collect()
});

/// Before there is a table, or when it cannot be read.
pub(super) fn begin(sent: &Sent, findings: &[Finding]) -> Markup {
    html! {
        h1 { (say("Orders of the day")) }
        p .how { (say("One order a row. The column “order” names it; every other column is a key of a \
            job: template, title, wearer, measure.value, strap.width and so on. In buckle.hardware \
            and strap.leather a name of your drawer may stand. A column with another name gets the \
            key that it most likely stands for: look at “Columns” then. An empty cell is the \
            template’s value.")) }
        div role="alert" { (of_table(findings)) }
        form .orders method="post" action="/orders" enctype="multipart/form-data" {
            (source(&sent.text()))
            @if !sent.columns.is_empty() { (columns(&sent.columns, true)) }
            (strips(sent, &[]))
            p .row { button .black type="submit" { (say("Look at these orders")) } }
        }
    }
}

fn of_table(findings: &[Finding]) -> Markup {
    html! { @for one in findings { (frame::finding_of_table(one, &html! {})) } }
}

/// Where a table is chosen as a file, or pasted.
fn source(table: &str) -> Markup {
    html! {
        div .field {
            div {
                label for="file" { (say("The table as a file"))
                    span .how { (say("CSV, .xlsx or .ods.")) } }
                input type="file" id="file" name="file" accept=".csv,.tsv,.txt,.xlsx,.ods";
            }
        }
        div .field {
            div {
                label for="table" { (say("Or its text"))
                    span .how { (say("Copy it from a spreadsheet with its first row.")) } }
                textarea id="table" name="table" rows="10" spellcheck="false" { (table) }
            }
        }
    }
}

/// What the columns mean whose names are no keys.
fn columns(all: &[NamedColumn], is_open: bool) -> Markup {
    let is_unused = |column: &&NamedColumn| column.key.is_empty();
    let no_unit = std::iter::once(("", say("none")));
    let unused: Vec<String> =
        all.iter().filter(is_unused).map(|column| format!("“{}”", column.name)).collect();
    html! {
        details .fold open[is_open] {
            summary { strong { (say("Columns")) } " " span .quiet {
                (count(all.len() - unused.len(), "{ $count } matched", "{ $count } matched"))
                @if !unused.is_empty() {
                    ", " (say_with("left out: { $columns }", &[("columns", &unused.join(", "))]))
                }
            } }
            p .how { (say("Give the key that a column stands for, or none where no order depends on it. \
                Bare numbers of the column are read in its unit.")) }
            datalist id="keys" { @for key in KEYS.iter() { option value=(key) {} } }
            div .field-list { @for (n, NamedColumn { name, key, unit, .. }) in all.iter().enumerate() {
                @let [key_id, unit_id] = ["key", "unit"].map(|what| format!("{what}-{n}"));
                input type="hidden" name="column" value=(name);
                div .field {
                    div {
                        label for=(key_id) { (say_with("Column “{ $name }”", &[("name", name)])) }
                        input type="text" id=(key_id) name="key" value=(key) list="keys"
                            autocomplete="off" autocapitalize="off" spellcheck="false";
                    }
                    div {
                        label for=(unit_id) { (say("Unit")) }
                        (frame::select([&unit_id, "unit"], no_unit.clone().chain(units()), unit.as_deref().unwrap_or_default(), None))
                    }
                }
            } }
            p .row {
                button type="submit" { (say("Read again with these columns")) }
                button type="submit" name="do" value="columns" { (say("Keep them in the profile")) }
            }
        }
    }
}

/// The workshop's strips, for the cutting plan.
fn strips(sent: &Sent, findings: &[Finding]) -> Markup {
    html! {
        details .fold open[!findings.is_empty()] {
            summary { strong { (say("Your strips")) } " " span .quiet { (say("for the cutting plan")) } }
            (of_table(findings))
            div .field {
                div {
                    label for="strips" { (say("The list of strips"))
                        span .how { (say("Columns name, length, width, thickness, count; kind for blanks.")) } }
                    textarea id="strips" name="strips" rows="6" spellcheck="false" { (sent.strips) }
                }
            }
            p { label { input type="checkbox" name="rip" checked[sent.may_rip];
                " " (say("Wider strips may be ripped")) } }
            p .row { button type="submit" { (say("Plan with these strips")) } }
        }
    }
}

/// The orders of a table; `told` is what became of its columns in the profile.
pub(super) fn view(
    shared: &Shared<'_>,
    sent: &Sent,
    made: &Made,
    told: Option<&str>,
) -> Markup {
    let table = &shared.table;
    let text = table.to_text(&[]);
    let ready = made.ready();
    let wrong = made.all.len() - ready;
    let named = table.columns.iter().filter(|c| !is_same_name(&c.name, c.key()));
    let named: Vec<NamedColumn> = named.map(of_column).collect();
    let unused = named.iter().filter(|column| column.key.is_empty());
    let unused: Vec<String> = unused.map(|c| format!("“{}”", c.name)).collect();
    html! {
        h1 { (say("Orders of the day")) }
        section .status role="status" {
            h2 {
                (frame::sign((wrong > 0).then_some(Severity::Error), 26))
                (count(ready, "{ $count } is ready", "{ $count } are ready"))
                @if wrong > 0 { ", " (count(wrong, "{ $count } needs you", "{ $count } need you")) }
            }
            @if !unused.is_empty() {
                p {
                    (frame::sign(Some(Severity::Warning), 22))
                    " "
                    (say_with("Not used: { $columns }. If a measure stands there, say below which key it \
                        is: without it, the order gets the template’s.",
                        &[("columns", &unused.join(", "))]))
                }
            }
        }
        (frame::findings(&shared.setup.findings))
        @if let Some(told) = told { p role="status" { strong { (told) } } }
        form .orders method="post" action="/orders" enctype="multipart/form-data" {
            // Enter in a field reads again: a browser takes the first button.
            p .row {
                button type="submit" { (say("Read again")) }
                @if ready > 0 {
                    button .black type="submit" name="do" value="pdf" {
                        (count(ready, "One PDF of { $count } order", "One PDF of { $count } orders"))
                    }
                    button type="submit" name="do" value="zip" { (say("ZIP, one PDF an order")) }
                    button type="submit" name="do" value="hardware" { (say("Hardware list")) }
                    @if made.has_plan() {
                        button type="submit" name="do" value="plan" { (say("Cutting plan")) }
                    }
                }
                button type="submit" name="do" value="table" { (say("The table as it is now")) }
            }
            input type="hidden" name="table" value=(text);
            input type="hidden" name="seen" value=(hash(&text));
            @for ((row, column), flaw) in &table.flaws {
                @for (word, _) in FLAWS.iter().filter(|(_, other)| other == flaw) {
                    input type="hidden" name={ "flaw-" (row) "-" (column) } value=(word);
                }
            }
            @if !named.is_empty() { (columns(&named, !unused.is_empty())) }
            table .list {
                thead { tr {
                    th scope="col" { (say("State")) }
                    @for column in &table.columns { th scope="col" { (column.name) } }
                } }
                // Those that need somebody come first.
                @for is_ready in [false, true] {
                    @for (n, one) in made.all.iter().enumerate() {
                        @if one.ready.is_some() == is_ready { (order(shared, n, one)) }
                    }
                }
            }
            (strips(sent, &made.plan_findings))
        }
        form .orders method="post" action="/orders" enctype="multipart/form-data" {
            input type="hidden" name="strips" value=(sent.strips);
            details .fold {
                summary { strong { (say("Another table")) } " " span .quiet { (say("or this one as text")) } }
                (source(&text))
                p .row { button type="submit" { (say("Look at these orders")) } }
            }
        }
    }
}

pub(super) fn of_column(column: &Column) -> NamedColumn {
    NamedColumn { name: column.name.clone(), ..column.means.clone().unwrap_or_default() }
}

/// An order: its cells, with what is wrong in them.
fn order(shared: &Shared<'_>, n: usize, one: &Shown) -> Markup {
    let Shown { row, order, findings, offers, ready } = one;
    let table = &shared.table;
    let errors = findings.iter().enumerate();
    let errors = errors.filter(|(_, f)| f.severity == Severity::Error);
    let placed = errors.map(|(i, f)| (i, f, order.column(f, table)));
    let placed: Vec<(usize, &Finding, Option<usize>)> = placed.collect();
    let with_offers = |i: usize, finding: &Finding| {
        let own = offers.iter().filter(|(of, ..)| *of == i);
        let name =
            |column: usize| table.columns.get(column).map_or("", |c| c.name.as_str());
        let buttons = html! {
            p .row {
                @for (_, column, value) in own {
                    button type="submit" name={ "cell-" (n) "-" (column) } value=(value) {
                        (say_with("Make “{ $column }” { $value }",
                            &[("column", &name(*column)), ("value", value)]))
                    }
                }
            }
        };
        frame::finding_of_table(finding, &buttons)
    };
    let of_order: Vec<_> =
        placed.iter().filter(|(.., column)| column.is_none()).collect();
    let cell = |column: usize, value: &str| {
        let own: Vec<_> = placed.iter().filter(|(.., of)| *of == Some(column)).collect();
        let id = format!("cell-{n}-{column}");
        // It stands in every row.
        let name: String = table.columns[column].name.chars().take(MOST_NAME).collect();
        html! {
            @if own.is_empty() {
                @if !value.is_empty() { span .head { (name) ": " } (value) }
            } @else {
                label .head for=(id) { (name) ": " }
                input type="text" id=(id) name=(id) value=(value) autocomplete="off"
                    aria-label=(name) aria-invalid="true" aria-describedby={ "about-" (id) };
                div id={ "about-" (id) } {
                    @for (i, finding, _) in &own { (with_offers(*i, finding)) }
                }
            }
        }
    };
    let warnings: Vec<&Finding> =
        findings.iter().filter(|f| f.severity == Severity::Warning).collect();
    let cells = row.cells.iter().map(|cell| cell.value.as_str());
    let cells = cells.enumerate().take(table.columns.len());
    html! {
        tbody {
            tr {
                td class=(frame::class(ready.is_none().then_some(Severity::Error))) {
                    @match ready {
                        Some(measure) => {
                            (frame::sign(None, 22)) " " strong { (say("ready")) }
                            span .how { (measure) }
                        }
                        None => {
                            (frame::sign(Some(Severity::Error), 22)) " " strong { (say("mend")) }
                        }
                    }
                }
                @for (column, value) in cells {
                    @if column == table.order_column() {
                        th scope="row" { (cell(column, value)) }
                    } @else {
                        td { (cell(column, value)) }
                    }
                }
            }
            @if !of_order.is_empty() || !warnings.is_empty() {
                tr { td colspan=(table.columns.len() + 1) {
                    @for (i, finding, _) in of_order { (with_offers(*i, finding)) }
                    @for warning in warnings {
                        p {
                            (frame::sign(Some(Severity::Warning), 22)) " " (frame::message(warning))
                        }
                    }
                } }
            }
        }
    }
}
