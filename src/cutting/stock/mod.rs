//! The strips and blanks on hand, read from TOML or from a table.

mod rows;
mod toml;

use super::{LONGEST, MOST};
use crate::diagnostic::{Finding, Severity, Sources, Span, cap_findings, too_large};
use crate::geom::Length;
use crate::job::nearest;

/// A strip to cut pieces from, or a blank for one strap.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// Plain, as it came from the hide.
    #[default]
    Strip,
    /// Ready-cut, with its buckle end punched.
    Blank,
    /// A blank with its tip cut too.
    CutBlank,
}

impl Kind {
    /// All there are.
    pub const ALL: [Self; 3] = [Self::Strip, Self::Blank, Self::CutBlank];

    /// The word for it in the list of strips.
    pub fn word(self) -> &'static str {
        match self {
            Self::Strip => "strip",
            Self::Blank => "blank",
            Self::CutBlank => "cut-blank",
        }
    }
}

/// Strips or blanks of one name and size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stock {
    /// What the bench calls it.
    pub name: String,
    /// Strip or blank.
    pub kind: Kind,
    /// Length from end to end.
    pub length: Length,
    /// Width.
    pub width: Length,
    /// Thickness.
    pub thickness: Length,
    /// How many there are.
    pub count: u32,
    /// Where it stands in the list.
    pub span: Option<Span>,
}

/// A list of strips as far as it could be read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Reading {
    /// The text, for showing findings.
    pub sources: Sources,
    /// What could be read; whole when no finding is an error.
    pub stock: Vec<Stock>,
    /// All mistakes.
    pub findings: Vec<Finding>,
}

/// Longest name of a strip, in characters.
const LONGEST_NAME: usize = 100;
/// Mistakes after which reading stops: the rest would not be read by anyone.
const MOST_FINDINGS: usize = 100;

/// The keys of an entry, and the columns of a table.
const KEYS: [&str; 6] = ["name", "length", "width", "thickness", "count", "kind"];

/// A value with its place, as either form of the list gives it.
struct Cell {
    key: &'static str,
    value: Value,
    span: Span,
}

enum Value {
    Text(String),
    /// A number that stands without quotes in TOML.
    Number(String),
    /// What TOML calls something that is neither.
    Other(&'static str),
}

/// One entry of the list.
struct Row {
    kind: Kind,
    cells: Vec<Cell>,
    span: Span,
    /// Whether it was said already which keys are not there.
    is_told: bool,
}

/// Reads a list of strips called `name`. A name that ends in `.toml` or `.csv` says what it
/// is, and otherwise its first line does. Never stops at the first mistake.
pub fn read(name: &str, text: &str) -> Reading {
    let mut reading = Reading::default();
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if let Some(found) = too_large(text) {
        reading.findings.push(
            Finding::new("stock-limit", Severity::Error, "this is no list of strips")
                .expected(found, "one strip a line, in at most 1 MiB")
                .remedy("give the file that lists the strips"),
        );
        return reading;
    }
    let source = reading.sources.add(name, text);
    let rows = if is_toml(name, text) {
        toml::rows(source, text, &mut reading.findings)
    } else {
        rows::rows(source, text, &mut reading.findings)
    };
    cap_findings("stock-limit", &mut reading.findings);
    let mut all = 0_usize;
    let had_rows = !rows.is_empty();
    for row in rows {
        let stock = entry(&row, &mut reading.findings);
        if reading.findings.len() > MOST_FINDINGS {
            reading.findings.truncate(MOST_FINDINGS);
            reading.findings.push(
                Finding::new("stock-limit", Severity::Error, "there are more mistakes")
                    .at(Some(row.span))
                    .expected("an entry that was not read further", "a list of strips")
                    .remedy("mend the first mistakes and try again"),
            );
            break;
        }
        let Some(stock) = stock else { continue };
        let before = all;
        all += stock.count as usize;
        if before <= MOST && all > MOST {
            reading.findings.push(
                Finding::new("stock-limit", Severity::Error, "these are too many strips")
                    .at(Some(row.span))
                    .expected(
                        format!("{all} up to here"),
                        format!("at most {MOST} in all"),
                    )
                    .remedy("leave out the strips that will not be used"),
            );
        }
        reading.stock.push(stock);
    }
    if !had_rows && reading.findings.is_empty() {
        reading.findings.push(
            Finding::new("stock-empty", Severity::Error, "the list names no strip")
                .expected("no entry", "at least one strip or blank")
                .remedy(
                    "add a table with the columns name, length, width, thickness, count, \
                     or TOML entries headed [[strip]] or [[blank]]",
                ),
        );
    }
    reading
}

fn is_toml(name: &str, text: &str) -> bool {
    let ends_in = |end: &str| {
        std::path::Path::new(name)
            .extension()
            .is_some_and(|e| e.eq_ignore_ascii_case(end))
    };
    let mut lines = text.lines().map(str::trim_start);
    let first = lines.find(|l| !l.is_empty() && !l.starts_with('#')).unwrap_or_default();
    ends_in("toml") || !ends_in("csv") && (first.starts_with('[') || first.contains('='))
}

/// An entry as stock; `None` when a mistake keeps it from being one.
fn entry(row: &Row, findings: &mut Vec<Finding>) -> Option<Stock> {
    let before = findings.len();
    let cell = |key: &str| row.cells.iter().find(|c| c.key == key);
    let kind = match cell("kind") {
        None => Some(row.kind),
        Some(cell) => kind(cell, findings),
    };
    let mut needed = |key: &'static str| {
        let cell = cell(key);
        if cell.is_none() && !row.is_told {
            findings.push(lacks(key, &row.span));
        }
        cell
    };
    let (name_cell, length_cell) = (needed("name"), needed("length"));
    let (width_cell, thickness_cell) = (needed("width"), needed("thickness"));
    let name = name_cell.and_then(|c| name(c, findings));
    let mut size = |cell: Option<&Cell>| cell.and_then(|c| length(c, findings));
    let (length, width, thickness) =
        (size(length_cell), size(width_cell), size(thickness_cell));
    let count = cell("count").map_or(Some(1), |c| count(c, findings));
    if findings.len() > before {
        return None;
    }
    Some(Stock {
        name: name?,
        kind: kind?,
        length: length?,
        width: width?,
        thickness: thickness?,
        count: count?,
        span: Some(row.span.clone()),
    })
}

fn lacks(key: &str, span: &Span) -> Finding {
    let example = match key {
        "name" => "\"natural 38\"",
        "length" => "\"1.5 m\"",
        "width" => "\"38 mm\"",
        _ => "\"3.5 mm\"",
    };
    Finding::new("stock-key", Severity::Error, format!("a strip has no {key}"))
        .at(Some(span.clone()))
        .expected("nothing", format!("a {key} for each strip"))
        .remedy(format!("give its {key}, such as {example}"))
}

/// `this is not ...`, with what was found.
fn wrong(cell: &Cell, found: Option<String>, required: &str, remedy: &str) -> Finding {
    let shown = |t: &str| format!("`{}`", t.chars().take(40).collect::<String>());
    let found = found.unwrap_or_else(|| match &cell.value {
        Value::Text(text) if text.trim().is_empty() => "nothing".to_owned(),
        Value::Text(text) => shown(text.trim()),
        Value::Number(digits) => format!("the bare number {digits}"),
        Value::Other(kind) => format!("a TOML {kind}"),
    });
    let what = format!("the {} of a strip is not {required}", cell.key);
    Finding::new("stock-value", Severity::Error, what)
        .at(Some(cell.span.clone()))
        .expected(found, required)
        .remedy(remedy)
}

fn name(cell: &Cell, findings: &mut Vec<Finding>) -> Option<String> {
    let name = match &cell.value {
        Value::Text(text) | Value::Number(text) => text.trim(),
        Value::Other(_) => "",
    };
    let fine = !name.is_empty()
        && name.chars().count() <= LONGEST_NAME
        && !name.chars().any(char::is_control);
    if !fine {
        findings.push(wrong(
            cell,
            None,
            "a name on one line of up to 100 letters",
            "give it a short name by which it is found on the shelf",
        ));
    }
    fine.then(|| name.to_owned())
}

fn length(cell: &Cell, findings: &mut Vec<Finding>) -> Option<Length> {
    let required = "a length with its unit, above 0 mm and up to 1 km";
    let (found, remedy) = match &cell.value {
        Value::Text(text) if text.trim().is_empty() => (None, String::new()),
        Value::Text(text) => match Length::parse(text) {
            Ok(length) if length > Length::ZERO && length <= LONGEST => {
                return Some(length);
            }
            Ok(length) => (Some(length.both()), String::new()),
            Err(error) => (Some(error.found().to_owned()), String::new()),
        },
        Value::Number(n) => {
            (None, format!("write it in quotes with its unit: \"{n} mm\" or \"{n} in\""))
        }
        Value::Other(_) => (None, String::new()),
    };
    let remedy = if remedy.is_empty() {
        "measure it and write it like 1500 mm, 1.5 m, 38 mm or 1 1/2 in".to_owned()
    } else {
        remedy
    };
    findings.push(wrong(cell, found, required, &remedy));
    None
}

fn count(cell: &Cell, findings: &mut Vec<Finding>) -> Option<u32> {
    let digits = match &cell.value {
        Value::Text(text) | Value::Number(text) => text.trim(),
        Value::Other(_) => "",
    };
    let count = digits.parse().ok().filter(|n| *n as usize <= MOST);
    if count.is_none() {
        let found = match &cell.value {
            Value::Number(digits) => Some(digits.clone()),
            _ => None,
        };
        let required = format!("a whole number from 0 to {MOST}");
        findings.push(wrong(
            cell,
            found,
            &required,
            "count them and write the number alone",
        ));
    }
    count
}

fn kind(cell: &Cell, findings: &mut Vec<Finding>) -> Option<Kind> {
    let word = match &cell.value {
        Value::Text(text) => text.trim(),
        _ => "",
    };
    if word.is_empty() && matches!(cell.value, Value::Text(_)) {
        return Some(Kind::Strip);
    }
    let kind = Kind::ALL.into_iter().find(|k| k.word().eq_ignore_ascii_case(word));
    if kind.is_none() {
        let remedy = nearest(word, Kind::ALL.into_iter().map(Kind::word));
        findings.push(wrong(cell, None, "strip, blank or cut-blank", &remedy));
    }
    kind
}
