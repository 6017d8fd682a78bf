//! How orders are shown.

use super::super::assets::hash;
use super::super::frame;
use super::files::Made;
use super::sent::{FLAWS, Sent};
use super::{Shared, Shown};
use crate::batch::{COLUMNS, Column, NamedColumn, is_same_name};
use crate::diagnostic::{Finding, Severity, counted};
use crate::template::{REGISTER, about_chain};
use maud::{Markup, html};
use std::collections::BTreeSet;
use std::sync::LazyLock;

/// The units that a column can have.
const UNITS: [(&str, &str); 4] =
    [("", "none"), ("in", "inches"), ("cm", "centimetres"), ("mm", "millimetres")];

/// The keys that a column can stand for.
static KEYS: LazyLock<BTreeSet<String>> = LazyLock::new(|| {
    let keys = REGISTER.iter().flat_map(|t| about_chain(&[t.text]).keys);
    let keys = keys.filter(|key| !key.of_feature).map(|key| key.name);
    keys.chain(COLUMNS.map(ToOwned::to_owned)).collect()
});

/// Before there is a table, or when it cannot be read.
pub(super) fn begin(sent: &Sent, findings: &[Finding]) -> Markup {
    html! {
        h1 { "Orders of the day" }
        p .how { "One order a row. The column “order” names it; every other column is a key of a "
            "job: template, title, wearer, measure.value, strap.width and so on. In buckle.hardware "
            "and strap.leather a name of your drawer may stand. A column with another name gets the key that it most likely stands for: look at “Columns” then. An empty cell is the template's value." }
        div role="alert" { (of_table(findings)) }
        form .orders method="post" action="/orders" enctype="multipart/form-data" {
            (source(&sent.text()))
            @if !sent.columns.is_empty() { (columns(&sent.columns, true)) }
            (strips(sent, &[]))
            p .row { button .black type="submit" { "Look at these orders" } }
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
                label for="file" { "The table as a file"
                    span .how { "CSV, .xlsx or .ods." } }
                input type="file" id="file" name="file" accept=".csv,.tsv,.txt,.xlsx,.ods";
            }
        }
        div .field {
            div {
                label for="table" { "Or its text"
                    span .how { "Copy it from a spreadsheet with its first row." } }
                textarea id="table" name="table" rows="10" spellcheck="false" { (table) }
            }
        }
    }
}

/// What the columns mean whose names are no keys.
fn columns(all: &[NamedColumn], is_open: bool) -> Markup {
    let is_unused = |column: &&NamedColumn| column.key.is_empty();
    let unused: Vec<String> =
        all.iter().filter(is_unused).map(|column| format!("“{}”", column.name)).collect();
    html! {
        details .fold open[is_open] {
            summary { strong { "Columns" } " " span .quiet {
                (all.len() - unused.len()) " matched"
                @if !unused.is_empty() { ", " (unused.join(", ")) " left out" }
            } }
            p .how { "Give the key that a column stands for, or none where no order depends on it. "
                "Bare numbers of the column are read in its unit." }
            datalist id="keys" { @for key in KEYS.iter() { option value=(key) {} } }
            @for (n, NamedColumn { name, key, unit, .. }) in all.iter().enumerate() {
                @let [key_id, unit_id] = ["key", "unit"].map(|what| format!("{what}-{n}"));
                input type="hidden" name="column" value=(name);
                div .field {
                    div {
                        label for=(key_id) { "Column “" (name) "”" }
                        input type="text" id=(key_id) name="key" value=(key) list="keys"
                            autocomplete="off" autocapitalize="off" spellcheck="false";
                    }
                    div {
                        label for=(unit_id) { "Unit" }
                        (frame::select([&unit_id, "unit"], UNITS, unit.as_deref().unwrap_or_default(), None))
                    }
                }
            }
            p .row { button type="submit" { "Read again with these columns" } }
        }
    }
}

/// The workshop's strips, for the cutting plan.
fn strips(sent: &Sent, findings: &[Finding]) -> Markup {
    html! {
        details .fold open[!findings.is_empty()] {
            summary { strong { "Your strips" } " " span .quiet { "for the cutting plan" } }
            (of_table(findings))
            div .field {
                div {
                    label for="strips" { "The list of strips"
                        span .how { "Columns name, length, width, thickness, count; kind for blanks." } }
                    textarea id="strips" name="strips" rows="6" spellcheck="false" { (sent.strips) }
                }
            }
            p { label { input type="checkbox" name="rip" checked[sent.may_rip];
                " Wider strips may be ripped" } }
            p .row { button type="submit" { "Plan with these strips" } }
        }
    }
}

pub(super) fn view(shared: &Shared<'_>, sent: &Sent, made: &Made) -> Markup {
    let table = &shared.table;
    let text = table.to_text(&[]);
    let ready = made.ready();
    let wrong = made.all.len() - ready;
    let named = table.columns.iter().filter(|c| !is_same_name(&c.name, c.key()));
    let named: Vec<NamedColumn> = named.map(of_column).collect();
    let unused = named.iter().filter(|column| column.key.is_empty());
    let unused: Vec<String> = unused.map(|c| format!("“{}”", c.name)).collect();
    html! {
        h1 { "Orders of the day" }
        section .status role="status" {
            h2 {
                (frame::sign((wrong > 0).then_some(Severity::Error), 26))
                (ready) " " (if ready == 1 { "is" } else { "are" }) " ready"
                @if wrong > 0 { ", " (wrong) " " (if wrong == 1 { "needs" } else { "need" }) " you" }
            }
            @if !unused.is_empty() {
                p {
                    (frame::sign(Some(Severity::Warning), 22))
                    " Not used: " (unused.join(", ")) ". If a measure stands there, say below which key it is: "
                    "without it, the order gets the template's."
                }
            }
        }
        (frame::findings(&shared.setup.findings))
        form .orders method="post" action="/orders" enctype="multipart/form-data" {
            // Enter in a field reads again: a browser takes the first button.
            p .row { button type="submit" { "Read again" } }
            input type="hidden" name="table" value=(text);
            input type="hidden" name="seen" value=(hash(&text));
            @for ((row, column), flaw) in &table.flaws {
                @for (word, _) in FLAWS.iter().filter(|(_, other)| other == flaw) {
                    input type="hidden" name={ "flaw-" (row) "-" (column) } value=(word);
                }
            }
            @if !named.is_empty() { (columns(&named, !unused.is_empty())) }
            @for (n, one) in made.all.iter().enumerate().filter(|(_, one)| one.ready.is_none()) {
                (order(shared, n, one))
            }
            (strips(sent, &made.plan_findings))
            p .row {
                @if ready > 0 {
                    button .black type="submit" name="do" value="pdf" {
                        "One PDF of " (counted(ready, "order"))
                    }
                    button type="submit" name="do" value="zip" { "ZIP, one PDF an order" }
                    button type="submit" name="do" value="hardware" { "Hardware list" }
                    @if made.has_plan() {
                        button type="submit" name="do" value="plan" { "Cutting plan" }
                    }
                }
                button type="submit" name="do" value="table" { "The table as it is now" }
            }
            @if ready > 0 {
                table {
                    caption { "Ready" }
                    thead { tr { th scope="col" { "order" } th scope="col" { "strap" } th scope="col" { "for" } th scope="col" { "measure" } } }
                    tbody {
                        @for one in &made.all {
                            @if let Some([title, wearer, measure]) = &one.ready {
                                tr { th scope="row" { (one.order.name) } td { (title) } td { (wearer) } td { (measure) } }
                            }
                        }
                    }
                }
            }
        }
        form .orders method="post" action="/orders" enctype="multipart/form-data" {
            input type="hidden" name="strips" value=(sent.strips);
            details .fold {
                summary { strong { "Another table" } " " span .quiet { "or this one as text" } }
                (source(&text))
                p .row { button type="submit" { "Look at these orders" } }
            }
        }
    }
}

fn of_column(column: &Column) -> NamedColumn {
    NamedColumn { name: column.name.clone(), ..column.means.clone().unwrap_or_default() }
}

/// An order that needs somebody: its cells with what is wrong in them.
fn order(shared: &Shared<'_>, n: usize, one: &Shown) -> Markup {
    let Shown { row, order, findings, offers, .. } = one;
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
                        "Make " (name(*column)) " " (value)
                    }
                }
            }
        };
        frame::finding_of_table(finding, &buttons)
    };
    html! {
        section .panel {
            h2 { (frame::sign(Some(Severity::Error), 22)) " " (order.name) }
            @for (i, finding, _) in placed.iter().filter(|(.., column)| column.is_none()) {
                (with_offers(*i, finding))
            }
            @for (column, cell) in row.cells.iter().enumerate() {
                @let own: Vec<_> = placed.iter().filter(|(.., of)| *of == Some(column)).collect();
                @let id = format!("cell-{n}-{column}");
                @match table.columns.get(column) {
                    Some(named) if !own.is_empty() => div .field {
                        div {
                            label for=(id) { (named.name) }
                            input type="text" id=(id) name=(id) value=(cell.value) autocomplete="off"
                                aria-invalid="true" aria-describedby={ "about-" (id) };
                        }
                        div .about id={ "about-" (id) } {
                            @for (i, finding, _) in &own { (with_offers(*i, finding)) }
                        }
                    },
                    Some(named) if column != table.order_column() && !cell.value.is_empty() => {
                        p { span .quiet { (named.name) ": " } (cell.value) }
                    }
                    _ => {}
                }
            }
        }
    }
}
