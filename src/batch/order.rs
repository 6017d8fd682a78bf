//! One row as a job: laid over the common one, and its findings put at its cells.

use super::row::Row;
use super::table::{ORDER, Table};
use crate::batch::rule;
use crate::diagnostic::{Finding, Severity, Source, Sources, Span};
use crate::input::split;
use crate::job;
use crate::template::TemplateLoader;
use crate::{Laid, Prepared};
use sha2::{Digest, Sha256};

/// Longest row, in bytes.
const LONGEST: usize = 1 << 14;

/// The job that all orders are laid over.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Base<'a> {
    /// What a person calls it.
    pub name: &'a str,
    /// Its text.
    pub text: &'a str,
}

/// What an order is drawn from, in short: the same key, the same drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Key(pub [u8; 32]);

impl Key {
    /// The key of the texts of a job and whatever else decides what is drawn, such as the
    /// paper. The program's version is in it: another may draw otherwise.
    pub fn of<'a>(texts: impl IntoIterator<Item = &'a str>) -> Self {
        let mut hash = Sha256::new();
        let mut part = |text: &str| {
            hash.update(text.len().to_le_bytes());
            hash.update(text);
        };
        part(env!("CARGO_PKG_VERSION"));
        texts.into_iter().for_each(&mut part);
        Self(hash.finalize().into())
    }
}

/// An order as far as it goes, with everything that was found on the way.
#[derive(Debug)]
pub struct Order {
    /// The number of its row.
    pub row: usize,
    /// The number of its line in the file.
    pub line: usize,
    /// Its name; empty where it has none, which is a finding.
    pub name: String,
    /// The texts, for showing findings.
    pub sources: Sources,
    /// All findings.
    pub findings: Vec<Finding>,
    /// There unless a mistake kept it from being laid out.
    pub laid: Option<Laid>,
    /// What it is drawn from.
    pub key: Key,
    /// Each word that was laid over the job: its source, how long its key is, its column,
    /// and its cell.
    words: Vec<Word>,
    header: usize,
    whole: usize,
}

#[derive(Debug)]
struct Word {
    source: usize,
    key: usize,
    column: usize,
    cell: std::ops::Range<usize>,
    /// Whether the word has the cell's letters, one for one.
    is_plain: bool,
}

/// Lays a row over `base`, key by key, with templates from `shelf`. `with` is what else
/// decides the drawing.
pub fn order(
    table: &Table,
    row: &Row,
    base: Option<Base<'_>>,
    loader: &dyn TemplateLoader,
    with: &str,
) -> Order {
    let wrong = flaws(table, row, base.is_some());
    if !wrong.is_empty() {
        return flawed(table, row, wrong);
    }
    let said: Vec<usize> = (0..table.columns.len())
        .filter(|&i| i != table.order && !row.cells[i].value.is_empty())
        .collect();
    let sets: Vec<String> =
        said.iter().map(|&i| set(&table.columns[i].key, &row.cells[i].value)).collect();
    let base = base.unwrap_or(Base { name: &table.name, text: "" });
    let Prepared { mut sources, findings, laid } =
        crate::prepare_from(base.name, base.text, &sets, loader);
    let texts = sources.iter().map(|s| s.text.as_str());
    let key = Key::of(texts.chain([with]));
    let given: Vec<usize> = sources
        .iter()
        .enumerate()
        .filter(|(_, s)| s.name == job::SET)
        .map(|(i, _)| i)
        .collect();
    let mut words = Vec::new();
    for (&source, &column) in given.iter().zip(&said) {
        let (key, cell) = (&table.columns[column].key, &row.cells[column]);
        let is_plain = sources
            .get(source)
            .and_then(|s| s.text.get(key.len() + 1..))
            .is_some_and(|v| row.text.get(cell.range.clone()) == Some(v));
        let part = format!("row {}, column {key}", row.number);
        sources.replace(source, kept(table, row, part));
        let (key, cell) = (key.len(), cell.range.clone());
        words.push(Word { source, key, column, cell, is_plain });
    }
    let order = Order { sources, laid, key, words, ..bare(table, row) };
    let mut order = order.with_texts(table, row);
    for finding in findings {
        let finding = order.placed(finding, table);
        order.findings.push(finding);
    }
    order
}

/// An order that is not laid over anything; the places of what is wrong with it are in its
/// own row.
fn flawed(table: &Table, row: &Row, wrong: Vec<Finding>) -> Order {
    let mut order = bare(table, row).with_texts(table, row);
    order.findings = wrong;
    for span in order.findings.iter_mut().filter_map(|f| f.span.as_mut()) {
        span.source = order.whole;
    }
    order
}

fn bare(table: &Table, row: &Row) -> Order {
    let cell = row.cells.get(table.order).filter(|_| is_whole(row));
    let name = cell.map(|c| c.value.clone()).unwrap_or_default();
    Order {
        row: row.number,
        line: row.line,
        name,
        sources: Sources::default(),
        findings: Vec::new(),
        laid: None,
        key: Key::of([row.text.as_str()]),
        words: Vec::new(),
        header: 0,
        whole: 0,
    }
}

/// Whether a row ends where it should, so that its cells are cells.
fn is_whole(row: &Row) -> bool {
    row.unclosed.is_none() && row.text.len() <= LONGEST
}

/// A row as a text that findings are shown over.
fn kept(table: &Table, row: &Row, part: String) -> Source {
    let (name, text) = (table.name.clone(), row.text.clone());
    Source { name, part, text, line: row.line }
}

/// A cell as `KEY=VALUE`. Keys outside any table are texts, whatever they look like; for
/// the others the value says what it is.
fn set(key: &str, value: &str) -> String {
    if key.contains('.') {
        format!("{key}={value}")
    } else {
        format!("{key}={}", toml::Value::from(value))
    }
}

/// What keeps a row from being an order; places are in its own text.
fn flaws(table: &Table, row: &Row, has_base: bool) -> Vec<Finding> {
    let wrong = |what: &str, range: std::ops::Range<usize>| {
        Finding::new(rule::ORDERS_ROW, Severity::Error, what)
            .at(Some(Span { source: 0, range }))
    };
    if row.text.len() > LONGEST {
        return vec![
            wrong("a row is too long to be an order", 0..0)
                .expected(
                    format!("{} bytes", row.text.len()),
                    format!("at most {LONGEST}"),
                )
                .remedy("look for a double quote that is not closed"),
        ];
    }
    if let Some(at) = row.unclosed {
        return vec![
            wrong("a double quote opens a cell and nothing closes it", at..at + 1)
                .expected(
                    "a cell that goes on to the end of the table",
                    "a second double quote at the end of the cell",
                )
                .remedy(
                    "close it, or write an inch mark within quotes twice: \"34 in\"\"\"",
                ),
        ];
    }
    let mut all = Vec::new();
    if let Some(extra) = &row.extra {
        all.push(
            wrong("a row is longer than the header", extra.clone())
                .expected(
                    format!("{} cells", row.fields),
                    format!("{}, as in the first line", table.columns.len()),
                )
                .remedy(
                    "put a cell that holds the sign between the cells in double quotes, \
                     such as \"86,5 cm\"",
                ),
        );
    }
    let cell = &row.cells[table.order];
    if cell.value.is_empty() {
        all.push(
            wrong("an order has no name", cell.range.clone())
                .expected("nothing", "a name in the column `order`")
                .remedy("give it a number or a name; its file is called by it"),
        );
    }
    for (column, cell) in table.columns.iter().zip(&row.cells) {
        if column.key.is_empty() && !cell.value.is_empty() {
            all.push(
                wrong("a cell stands in a column without a name", cell.range.clone())
                    .expected(
                        format!("`{}`", cell.value.chars().take(40).collect::<String>()),
                        "the name of a key in the first line",
                    )
                    .remedy("name the column, or take the cell out"),
            );
        }
    }
    let column = table.columns.iter().position(|c| c.key == "template");
    let names_template = column.is_some_and(|i| !row.cells[i].value.is_empty());
    if !names_template && !has_base {
        let range = column.map_or(0..row.text.len(), |i| row.cells[i].range.clone());
        all.push(
            wrong("an order does not say which strap it is", range)
                .expected("nothing", "a template in the column `template`")
                .remedy(
                    "fill the column `template` in, or give the job that all orders are \
                     laid over: --base JOB",
                ),
        );
    }
    all
}

impl Order {
    /// An order of which nothing is known but its row.
    pub fn broken(table: &Table, row: &Row) -> Self {
        flawed(table, row, Vec::new())
    }

    fn with_texts(mut self, table: &Table, row: &Row) -> Self {
        self.header = self.sources.add_source(table.header.clone());
        let part = format!("row {}", row.number);
        self.whole = self.sources.add_source(kept(table, row, part));
        self
    }

    /// What there is to say where an earlier row, by its number, has the same name.
    pub fn twice(&self, row: usize, table: &Table) -> Finding {
        let what = format!("two orders are called `{}`", self.name);
        Finding::new(rule::ORDER_TWICE, Severity::Warning, what)
            .at(self.named_at(table))
            .expected(
                format!("rows {row} and {}", self.row),
                "a name of its own for each",
            )
            .remedy("if they are one order, take one out; their files are told apart")
    }

    /// Where its name stands.
    fn named_at(&self, table: &Table) -> Option<Span> {
        let text = &self.sources.get(self.whole)?.text;
        let range = split(text, table.by).0.into_iter().nth(table.order)?;
        Some(Span { source: self.whole, range })
    }

    /// What there is to say where another file is in its place.
    pub fn in_the_way(&self, path: &str, table: &Table) -> Finding {
        let what = "another file is where the drawing of this order belongs";
        Finding::new(rule::FILE_IN_THE_WAY, Severity::Error, what)
            .at(self.named_at(table))
            .expected(
                format!("{path}, which was not made by this batch or was altered since"),
                "no file, or one that this batch made",
            )
            .remedy("move it away, or give --force to replace it")
    }

    /// A finding with its place in the table, where it lies in a word that came from there;
    /// one without a place lies in the row.
    #[must_use]
    pub fn placed(&self, finding: Finding, table: &Table) -> Finding {
        let Some(span) = &finding.span else {
            let all = self.sources.get(self.whole).map_or(0, |s| s.text.len());
            let span = Span { source: self.whole, range: 0..all };
            return finding.at(Some(span));
        };
        let Some(word) = self.words.iter().find(|w| w.source == span.source) else {
            return finding;
        };
        if finding.rule == job::rule::UNKNOWN_KEY {
            // The same in every row: it is the column that is wrong.
            let range = table.columns[word.column].range.clone();
            return finding.at(Some(Span { source: self.header, range }));
        }
        let before = word.key + 1;
        let inside = word.is_plain && span.range.start >= before;
        let range = if inside {
            let at = |byte: usize| (word.cell.start + byte - before).min(word.cell.end);
            at(span.range.start)..at(span.range.end)
        } else {
            word.cell.clone()
        };
        let span = Span { source: word.source, range };
        finding.at(Some(span))
    }

    /// The key that a finding is about, where it lies in a cell or in the header.
    pub fn key_of<'t>(&self, finding: &Finding, table: &'t Table) -> Option<&'t str> {
        let span = finding.span.as_ref()?;
        let column = if span.source == self.header {
            table.columns.iter().find(|c| c.range == span.range)?
        } else {
            let word = self.words.iter().find(|w| w.source == span.source)?;
            &table.columns[word.column]
        };
        Some(column.key.as_str()).filter(|key| *key != ORDER)
    }

    /// Whether a finding is about this row, and not about what all rows share.
    pub fn is_own(&self, finding: &Finding) -> bool {
        finding.span.as_ref().is_none_or(|span| {
            span.source == self.whole
                || self.words.iter().any(|w| w.source == span.source)
        })
    }
}
