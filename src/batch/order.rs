//! One order: its row is laid over the base job, and its findings are put at its cells.

use super::row::Row;
use super::table::{Column, Flaw, ORDER, Table, cell_name};
use crate::batch::rule;
use crate::diagnostic::{Finding, Severity, Source, Sources, Span, and_others};
use crate::input::{quoted, split};
use crate::job;
use crate::template::{self, TemplateLoader, Text};
use crate::{Laid, Prepared};
use sha2::{Digest, Sha256};
use std::ops::Range;

/// The longest row, in bytes.
const MAX_ROW: usize = 1 << 14;

/// A SHA-256 of everything that decides what is drawn: equal keys, equal drawings.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct CacheKey(pub [u8; 32]);

impl CacheKey {
    /// The key of some texts.
    pub fn new<'a>(texts: impl IntoIterator<Item = &'a str>) -> Self {
        let mut hash = Sha256::new();
        for text in texts {
            hash.update(text.len().to_le_bytes());
            hash.update(text);
        }
        Self(hash.finalize().into())
    }
}

/// An order with its layout and findings.
#[derive(Debug)]
pub struct Order {
    /// The number of its row.
    pub row: usize,
    /// The number of its line in the file.
    pub line: usize,
    /// Its name; empty without one, which is a finding.
    pub name: String,
    /// The texts that the findings point at.
    pub sources: Sources,
    /// All findings.
    pub findings: Vec<Finding>,
    /// Its layout, unless a mistake prevents one.
    pub laid: Option<Laid>,
    /// The key of what it is drawn from.
    pub key: CacheKey,
    values: Vec<Value>,
    /// The source of the header.
    header_source: usize,
    /// The source of the row.
    row_source: usize,
}

/// A value that a cell sets in the job, as the text `KEY=VALUE`.
#[derive(Debug)]
struct Value {
    source: usize,
    /// The length of the key.
    key: usize,
    column: usize,
    /// The range of the cell in the row.
    cell: Range<usize>,
    /// Whether the value is the text of the cell, byte for byte.
    is_verbatim: bool,
}

/// Lays a row over `base`, or over its template alone, and lays out the job. `setup` is what
/// else decides the drawing, such as the paper; it goes into the key.
pub fn lay_out_order(
    table: &Table,
    row: &Row,
    base: Option<&Text>,
    loader: &dyn TemplateLoader,
    setup: &str,
) -> Order {
    let flaws = find_flaws(table, row, base.is_some());
    if !flaws.is_empty() {
        return Order::with_flaws(table, row, flaws);
    }
    let filled = |i: &usize| *i != table.order && !row.cells[*i].value.is_empty();
    let set = |i: usize| {
        let means = table.columns[i].means.as_ref()?;
        let value = means.value(&row.cells[i].value);
        let is_template = means.key == "template";
        let value = if is_template { template::meant(&value, loader) } else { value };
        Some((i, set_text(&means.key, &value)))
    };
    let set = (0..table.columns.len()).filter(filled).filter_map(set);
    let (columns, sets): (Vec<usize>, Vec<String>) = set.unzip();
    let (name, text) = base.map_or((&table.name, ""), |base| (&base.name, &base.text));
    let Prepared { mut sources, findings, laid } =
        crate::prepare_from(name, text, &sets, loader);
    let texts = sources.iter().map(|s| s.text.as_str());
    let key = CacheKey::new(texts.chain([setup]));
    let set_sources = sources.iter().enumerate().filter(|(_, s)| s.name == job::SET);
    let set_sources: Vec<usize> = set_sources.map(|(i, _)| i).collect();
    let mut values = Vec::new();
    for (source, column) in set_sources.into_iter().zip(columns) {
        let Column { name, .. } = &table.columns[column];
        let (key, cell) = (table.columns[column].key(), &row.cells[column]);
        let text = sources.get(source).and_then(|s| s.text.get(key.len() + 1..));
        let is_verbatim =
            text.is_some_and(|text| row.text.get(cell.range.clone()) == Some(text));
        let part = format!("cell {}, column {name}", cell_name(column, row.number));
        sources.replace(source, row_source(table, row, part));
        let (key, cell) = (key.len(), cell.range.clone());
        values.push(Value { source, key, column, cell, is_verbatim });
    }
    let mut order = Order::new(table, row, sources);
    (order.laid, order.key, order.values) = (laid, key, values);
    let findings = one_of_missing(findings).into_iter();
    order.findings = findings.map(|f| order.place(f, table)).collect();
    order
}

/// Leaves one finding of all keys that are missing: they are filled in together.
fn one_of_missing(findings: Vec<Finding>) -> Vec<Finding> {
    let is_one = |f: &Finding| f.rule == job::rule::MISSING_KEY;
    let (missing, mut rest): (Vec<Finding>, Vec<Finding>) =
        findings.into_iter().partition(is_one);
    let mut missing = missing.into_iter();
    if let Some(first) = missing.next() {
        let others: Vec<String> = missing.map(|f| f.message).collect();
        let message = and_others(&first.message, &others);
        let remedy = if others.is_empty() {
            first.remedy.clone()
        } else {
            "add a column for each, or give them in the template".to_owned()
        };
        let flag = if others.is_empty() { "" } else { "or in --base JOB" };
        rest.push(Finding { message, ..first }.remedy(remedy).flag(flag));
    }
    rest
}

/// A row as a text that findings can point at.
fn row_source(table: &Table, row: &Row, part: String) -> Source {
    let (name, text) = (table.name.clone(), row.text.clone());
    Source { name, part, text, line: row.line }
}

/// A cell as `KEY=VALUE`. The value of a key without a dot is a text, whatever it looks
/// like; the value of another key is what it looks like.
fn set_text(key: &str, value: &str) -> String {
    if key.contains('.') {
        format!("{key}={value}")
    } else {
        format!("{key}={}", quoted(value))
    }
}

/// What is wrong with a row by itself. The spans have ranges in its text, but no source yet.
fn find_flaws(table: &Table, row: &Row, has_base: bool) -> Vec<Finding> {
    let flaw = |what: &str, range, found: &str, required: &str, remedy: &str| {
        Finding::error(rule::ORDERS_ROW, what)
            .at(Some(Span { source: 0, range }))
            .expected(found, required)
            .remedy(remedy)
    };
    if row.text.len() > MAX_ROW {
        return vec![flaw(
            "a row is too long to be an order",
            0..0,
            &format!("{} bytes", row.text.len()),
            &format!("at most {MAX_ROW}"),
            "look for a double quote that is not closed",
        )];
    }
    if let Some(at) = row.unclosed {
        return vec![flaw(
            "a double quote opens a cell and nothing closes it",
            at..at + 1,
            "a cell that goes on to the end of the table",
            "a second double quote at the end of the cell",
            "close it, or write an inch mark within quotes twice: \"34 in\"\"\"",
        )];
    }
    let mut flaws = Vec::new();
    if let Some(extra) = &row.extra {
        flaws.push(flaw(
            "a row is longer than the header",
            extra.clone(),
            &format!("{} cells", row.fields),
            &format!("{}, as in the first line", table.columns.len()),
            "put a cell that contains the separator in double quotes, such as \"86,5 cm\"",
        ));
    }
    let cell = &row.cells[table.order];
    if cell.value.is_empty() {
        flaws.push(flaw(
            "an order has no name",
            cell.range.clone(),
            "nothing",
            "a name in the column `order`",
            "give it a number or a name; its file gets that name",
        ));
    }
    for (column, cell) in table.columns.iter().zip(&row.cells) {
        if column.name.is_empty() && !cell.value.is_empty() {
            flaws.push(flaw(
                "a cell is in a column without a name",
                cell.range.clone(),
                &format!("`{}`", cell.value.chars().take(40).collect::<String>()),
                "the name of a key in the first line",
                "give the column a name, or empty the cell",
            ));
        }
    }
    for ((_, i), spoilt) in table.flaws.range((row.number, 0)..(row.number + 1, 0)) {
        let is_read = table.columns.get(*i).is_some_and(|c| c.means.is_some());
        let Some(cell) = row.cells.get(*i).filter(|_| is_read) else { continue };
        let what = "a spreadsheet changed what was typed into a cell";
        let (found, remedy) = match spoilt {
            Flaw::Date => (
                format!("the date {}", cell.value),
                "the spreadsheet made a date of it: set the column to text, and type it again",
            ),
            Flaw::Error => (cell.value.clone(), "correct the formula of the cell"),
        };
        flaws.push(flaw(what, cell.range.clone(), &found, "the text of a value", remedy));
    }
    let column = table.columns.iter().position(|c| c.key() == "template");
    if !has_base && column.is_none_or(|i| row.cells[i].value.is_empty()) {
        let unsaid = flaw(
            "an order does not say which strap it is",
            column.map_or(0..row.text.len(), |i| row.cells[i].range.clone()),
            "nothing",
            "a template in the column `template`",
            "fill in the column `template`",
        );
        flaws.push(unsaid.flag("or --base JOB, a job that all orders are laid over"));
    }
    flaws
}

impl Order {
    /// An order without a layout; its texts are `sources`, the header and the row.
    fn new(table: &Table, row: &Row, mut sources: Sources) -> Self {
        let is_readable = row.unclosed.is_none() && row.text.len() <= MAX_ROW;
        let cell = row.cells.get(table.order).filter(|_| is_readable);
        let header_source = sources.add_source(table.header.clone());
        let part = format!("row {}", row.number);
        let row_source = sources.add_source(row_source(table, row, part));
        Self {
            row: row.number,
            line: row.line,
            name: cell.map(|c| c.value.clone()).unwrap_or_default(),
            sources,
            findings: Vec::new(),
            laid: None,
            key: CacheKey::new([row.text.as_str()]),
            values: Vec::new(),
            header_source,
            row_source,
        }
    }

    fn with_flaws(table: &Table, row: &Row, flaws: Vec<Finding>) -> Self {
        let mut order = Self::new(table, row, Sources::default());
        order.findings = flaws;
        for span in order.findings.iter_mut().filter_map(|f| f.span.as_mut()) {
            span.source = order.row_source;
        }
        order
    }

    /// An order that could not be laid out because the program failed.
    pub fn failed(table: &Table, row: &Row) -> Self {
        Self::with_flaws(table, row, Vec::new())
    }

    /// The error that the program could not draw it.
    pub fn not_drawn(&self, why: &str, table: &Table) -> Finding {
        let what = "this order could not be drawn, though nothing is wrong with it";
        let finding = Finding::error(rule::ORDER_FAILED, what)
            .expected(why, "a drawing")
            .remedy("this is a mistake of the program: please report it with the order");
        self.place(finding, table)
    }

    /// The warning that an earlier row, with the number `row`, has the same name.
    pub fn duplicate_name(&self, row: usize, table: &Table) -> Finding {
        let what = format!("two orders are called `{}`", self.name);
        Finding::new(rule::ORDER_TWICE, Severity::Warning, what)
            .at(self.name_span(table))
            .expected(format!("rows {row} and {}", self.row), "a different name for each")
            .remedy("if they are one order, remove one; their files get different names")
    }

    fn name_span(&self, table: &Table) -> Option<Span> {
        let text = &self.sources.get(self.row_source)?.text;
        let range = split(text, table.separator).0.into_iter().nth(table.order)?;
        Some(Span { source: self.row_source, range })
    }

    /// The error that another file has the path of its drawing.
    pub fn in_the_way(&self, path: &str, table: &Table) -> Finding {
        Finding::error(
            rule::FILE_IN_THE_WAY,
            "another file has the name of the drawing of this order",
        )
        .at(self.name_span(table))
        .expected(
            format!("{path}, which was not made by this batch or was changed since"),
            "no file, or one that this batch made",
        )
        .remedy("move it away, or give --force to replace it")
    }

    /// Moves the span of a finding from a value of the job to the cell that it came from. A
    /// finding without a span gets the whole row.
    #[must_use]
    pub fn place(&self, finding: Finding, table: &Table) -> Finding {
        let Some(span) = &finding.span else {
            let range = 0..self.sources.get(self.row_source).map_or(0, |s| s.text.len());
            return finding.at(Some(Span { source: self.row_source, range }));
        };
        let Some(value) = self.values.iter().find(|v| v.source == span.source) else {
            return finding;
        };
        let column = &table.columns[value.column];
        if finding.rule == job::rule::UNKNOWN_KEY {
            // It is the same in every row: the name of the column is wrong.
            let range = column.range.clone();
            return finding.at(Some(Span { source: self.header_source, range }));
        }
        let cell =
            self.sources.get(value.source).map_or("", |s| &s.text[value.cell.clone()]);
        let lacks_unit = finding.rule == job::rule::BAD_LENGTH && column.lacks_unit(cell);
        let before = value.key + 1;
        let range = if value.is_verbatim && span.range.start >= before {
            let at = |byte: usize| (value.cell.start + byte - before).min(value.cell.end);
            at(span.range.start)..at(span.range.end)
        } else {
            value.cell.clone()
        };
        let source = value.source;
        let finding = finding.at(Some(Span { source, range }));
        if lacks_unit { column.offer_unit(finding) } else { finding }
    }

    /// The key of the column that a finding points at, in the row or the header.
    pub fn column_key<'t>(&self, finding: &Finding, table: &'t Table) -> Option<&'t str> {
        let span = finding.span.as_ref()?;
        let column = if span.source == self.header_source {
            table.columns.iter().find(|c| c.range == span.range)?
        } else {
            let value = self.values.iter().find(|v| v.source == span.source)?;
            &table.columns[value.column]
        };
        Some(column.key()).filter(|key| *key != ORDER)
    }

    /// The cell that a finding points at, `E5`, and the name of its column; `None` for a
    /// finding about more than a cell.
    pub fn cell<'t>(
        &self,
        finding: &Finding,
        table: &'t Table,
    ) -> Option<(String, &'t str)> {
        let column = self.column(finding, table)?;
        let source = finding.span.as_ref()?.source;
        let is_header = source == self.header_source;
        let row = if is_header { table.header.line } else { self.row };
        Some((cell_name(column, row), table.columns.get(column)?.name.as_str()))
    }

    /// The index of the column that a finding points at, in the row or the header.
    pub fn column(&self, finding: &Finding, table: &Table) -> Option<usize> {
        let Span { source, range } = finding.span.as_ref()?;
        let of_value = self.values.iter().find(|v| v.source == *source).map(|v| v.column);
        let column = match of_value {
            Some(column) => Some(column),
            None if *source == self.header_source => {
                table.columns.iter().position(|c| c.range == *range)
            }
            None if *source == self.row_source => {
                let text = &self.sources.get(*source)?.text;
                split(text, table.separator).0.iter().position(|cell| cell == range)
            }
            None => None,
        };
        // What is past the last column is in none.
        column.filter(|column| *column < table.columns.len())
    }

    /// Whether a finding is about this row, and not about what all rows share.
    pub fn is_about_row(&self, finding: &Finding) -> bool {
        finding.span.as_ref().is_none_or(|span| {
            span.source == self.row_source
                || self.values.iter().any(|v| v.source == span.source)
        })
    }
}
