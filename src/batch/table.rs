//! The table of orders: its text and its columns.

use super::columns::{self, ColumnRules, MOST_COLUMNS, Meaning, NamedColumn};
use super::encoding;
use super::row::Rows;
#[cfg(feature = "workbooks")]
use super::workbook;
use crate::batch::rule;
use crate::diagnostic::{Finding, Source, Sources, Span, forbids_print};
use crate::input::{Record, Records, parse_length, quoted, separator, split};
use std::collections::BTreeMap;
use std::ops::Range;

/// The column that names the orders.
pub const ORDER: &str = "order";

/// A table whose columns are known.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Table {
    /// Its name in messages.
    pub name: String,
    /// Its columns, from the left.
    pub columns: Vec<Column>,
    pub(super) text: String,
    /// The byte between two fields.
    pub(super) separator: u8,
    /// The index of the column with the names of the orders.
    pub(super) order: usize,
    /// Its first line.
    pub(super) header: Source,
    /// The cells that a spreadsheet made into something else than what was typed.
    pub flaws: Flaws,
}

/// Cells that have not what somebody typed: by the number of the row in a spreadsheet, and by
/// the index of the column.
pub type Flaws = BTreeMap<(usize, usize), Flaw>;

/// What a spreadsheet made of a cell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Flaw {
    /// A date.
    Date,
    /// The error of a formula.
    Error,
}

/// One column.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Column {
    /// Its name as the table has it.
    pub name: String,
    /// What its cells mean; `None` for a column that is ignored.
    pub means: Option<NamedColumn>,
    /// The bytes of the header that it covers.
    pub range: Range<usize>,
}

/// The result of reading a table.
#[derive(Debug)]
pub struct ParsedTable {
    /// The table; `None` when a mistake in it concerns every order.
    pub table: Option<Table>,
    /// The texts that the findings point at.
    pub sources: Sources,
    /// The mistakes in the header and the encoding. Those of a row are found later.
    pub findings: Vec<Finding>,
    /// The columns that nothing is known of, each as an office most likely means it.
    pub unknown: Vec<Column>,
}

impl Column {
    /// A key of the job language, or [`ORDER`]; empty for a column that is ignored, and for one
    /// without a name, whose cells must be empty.
    pub fn key(&self) -> &str {
        self.means.as_ref().map_or("", |means| means.key.as_str())
    }

    /// Whether a cell would be a length with a unit.
    pub(super) fn lacks_unit(&self, cell: &str) -> bool {
        parse_length(self.key(), &format!("{cell} mm")).is_ok()
    }

    /// A finding about a cell that lacks its unit: all cells of the column may have the same.
    pub(super) fn offer_unit(&self, finding: Finding) -> Finding {
        finding.remedy(format!(
            "write the unit into the cell; or say that of the column in strapwright.toml: \
             [orders.columns] {} = {{ key = \"{}\", unit = \"in\" }}, or unit = \"mm\"",
            quoted(&self.name),
            self.key()
        ))
    }
}

/// Reads a table of orders called `name`: a workbook, or CSV in UTF-8 with `,`, `;` or tabs
/// between the fields. `rules` say what its columns mean.
pub fn read(name: &str, bytes: Vec<u8>, rules: &ColumnRules) -> ParsedTable {
    let mut sources = Sources::default();
    let (mut findings, mut unknown) = (Vec::new(), Vec::new());
    let table = text_of(name, bytes, rules, &mut sources)
        .map_err(|finding| findings.push(*finding))
        .ok()
        .and_then(|(text, flaws)| {
            let found = (&mut findings, &mut unknown);
            let table = read_header(name, text, rules, &mut sources, found)?;
            Some(Table { flaws, ..table })
        });
    let table = table.filter(|_| !forbids_print(&findings));
    ParsedTable { table, sources, findings, unknown }
}

/// The text of a table, and the cells that are not as somebody typed them.
#[cfg_attr(
    not(feature = "workbooks"),
    expect(unused_variables, reason = "only workbooks have sheets to choose from")
)]
fn text_of(
    name: &str,
    bytes: Vec<u8>,
    rules: &ColumnRules,
    sources: &mut Sources,
) -> Result<(String, Flaws), Box<Finding>> {
    encoding::check_size(&bytes)?;
    #[cfg(feature = "workbooks")]
    if workbook::is_workbook(&bytes) {
        return workbook::read(&bytes, rules.sheet.as_deref());
    }
    Ok((encoding::decode(name, bytes, sources)?, Flaws::new()))
}

/// The name of a cell as a spreadsheet has it, `E5`: the column counted from 0, the row from 1.
pub(super) fn cell_name(column: usize, row: usize) -> String {
    let mut letters = Vec::new();
    let mut n = column + 1;
    while n > 0 {
        letters.push(char::from(b"ABCDEFGHIJKLMNOPQRSTUVWXYZ"[(n - 1) % 26]));
        n = (n - 1) / 26;
    }
    letters.iter().rev().collect::<String>() + &row.to_string()
}

impl Table {
    /// The rows below the header.
    pub fn rows(&self) -> Rows<'_> {
        Rows::new(self)
    }

    /// The text of the table with other values in cells, given by row and column from 0; of two
    /// for one cell the later one counts. Its lines end in a line feed alone.
    pub fn to_text(&self, cells: &[((usize, usize), String)]) -> String {
        let mut text = self.text.clone();
        let rows: Vec<_> = Records::new(&self.text, self.separator).skip(1).collect();
        for (n, Record { start, text: old, mut fields, .. }) in
            rows.into_iter().enumerate().rev()
        {
            let own = cells
                .iter()
                .filter(|((row, column), _)| *row == n && *column < self.columns.len());
            let mut is_same = true;
            for ((_, column), value) in own {
                fields.resize(fields.len().max(column + 1), String::new());
                is_same &= fields[*column] == *value;
                fields[*column].clone_from(value);
            }
            if !is_same {
                let mut builder = csv::WriterBuilder::new();
                let mut writer =
                    builder.delimiter(self.separator).from_writer(Vec::new());
                // A row of texts can always be written to the memory.
                let written = writer.write_record(&fields).ok();
                let bytes = written.and_then(|()| writer.into_inner().ok());
                let bytes = bytes.unwrap_or_default();
                let row = String::from_utf8_lossy(&bytes);
                text.replace_range(start..start + old.len(), row.trim_end_matches('\n'));
            }
        }
        text.replace("\r\n", "\n").replace('\r', "\n").trim_start_matches('\n').to_owned()
    }

    /// The index of the column with the names of the orders.
    pub fn order_column(&self) -> usize {
        self.order
    }
}

fn read_header(
    name: &str,
    text: String,
    rules: &ColumnRules,
    sources: &mut Sources,
    (findings, guessed): (&mut Vec<Finding>, &mut Vec<Column>),
) -> Option<Table> {
    let mut wrong = |what: &str, span, found: &str, required: &str, remedy: &str| {
        let finding = Finding::error(rule::ORDERS_COLUMN, what).at(span);
        findings.push(finding.expected(found, required).remedy(remedy));
    };
    let separator = separator(&text);
    let Some(Record { line, text: header, fields, .. }) =
        Records::new(&text, separator).next()
    else {
        let required = "a line with the names of the columns, and a row for each order";
        let remedy = "name the columns in the first line: order,template,title,wearer";
        wrong("the table of orders is empty", None, "nothing", required, remedy);
        return None;
    };
    let (name, part) = (name.to_owned(), "header".to_owned());
    let source = Source { name: name.clone(), part, text: header.to_owned(), line };
    let ranges = split(header, separator).0;
    let whole =
        Span { source: sources.add_source(source.clone()), range: 0..header.len() };
    let at = |range: &Range<usize>| Span { range: range.clone(), ..whole.clone() };
    if fields.len() > MOST_COLUMNS {
        let (found, required) =
            (format!("{} columns", fields.len()), format!("at most {MOST_COLUMNS}"));
        let remedy = "give a table with the orders alone";
        wrong("the table has too many columns", Some(whole), &found, &required, remedy);
        return None;
    }
    let by = match separator {
        b'\t' => "; read with tabs between the cells".to_owned(),
        by => format!("; read with `{}` between the cells", char::from(by)),
    };
    let mut unknown = Vec::new();
    let column = |(name, range): (String, _)| {
        let means = match rules.of(&name) {
            Some(Meaning::Key(means)) => Some(means),
            Some(Meaning::Ignored) => None,
            None => {
                unknown.push((name.clone(), at(&range)));
                None
            }
        };
        Column { name, means, range }
    };
    let columns: Vec<Column> = fields.into_iter().zip(ranges).map(column).collect();
    for (i, column) in columns.iter().enumerate() {
        let key = column.key();
        if !columns::is_key(key) {
            let what = format!("`{key}` is no key of a job");
            let found = format!("`{key}` for the column {}", column.name);
            let required = "order, template, title, wearer, or a key of a table";
            let remedy = match columns::guess(key).or(columns::guess(&column.name)) {
                Some(key) => format!("say another key for this column; perhaps {key}"),
                None => "say another key for this column".to_owned(),
            };
            wrong(&what, Some(at(&column.range)), &found, required, &remedy);
        }
        if !key.is_empty() && columns[..i].iter().any(|c| c.key() == key) {
            let what = format!("the column `{key}` is there twice");
            let span = Some(at(&column.range));
            wrong(&what, span, "a second one", "each column once", "take one out");
        }
    }
    let order = columns.iter().position(|c| c.key() == ORDER);
    let is_order = |(name, _): &(String, Span)| columns::guess(name) == Some(ORDER);
    if order.is_none() && !unknown.iter().any(is_order) {
        let shown = columns.iter().map(|c| c.name.as_str()).filter(|k| !k.is_empty());
        let found = shown.take(8).collect::<Vec<_>>().join(", ") + &by;
        let remedy = "put the names of the columns in the first line, `order` among them; the \
                      other columns are keys of a job: template, title, measure.value";
        let what = "no column names the orders";
        wrong(what, Some(whole.clone()), &found, "a column `order`", remedy);
    }
    if let Some((_, first)) = unknown.first() {
        let names: Vec<&str> = unknown.iter().map(|(name, _)| name.as_str()).collect();
        let taken = columns.iter().map(Column::key).collect();
        *guessed = columns::guessed(&names, taken);
        findings.push(columns::unknown(guessed, &by, first.clone()));
    }
    let order = order?;
    let flaws = Flaws::new();
    let table = Table { name, columns, separator, order, header: source, text, flaws };
    if table.rows().next().is_none() {
        findings.push(
            Finding::error(rule::ORDERS_ROW, "the table has no orders")
                .at(Some(whole))
                .expected("nothing below the first line", "a row for each order")
                .remedy("write a row for each order below the names of the columns"),
        );
    }
    Some(table)
}
