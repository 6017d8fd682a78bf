//! A table of orders in a workbook: the cells of one sheet as the text of a CSV table, row for
//! row.

use super::columns::MOST_COLUMNS;
use super::table::{Flaw, Flaws};
use crate::batch::rule;
use crate::diagnostic::Finding;
use crate::export::csv;
use calamine::{Data, ExcelDateTime, Reader, Sheets};
use std::collections::BTreeMap;
use std::io::Cursor;

/// Most bytes of all that is packed into a workbook.
const MOST_UNPACKED: u128 = 256 << 20;
/// Most rows of a sheet.
const MOST_ROWS: usize = 100_000;

/// The rows of a sheet: the texts of the cells by their columns.
type Cells = BTreeMap<u32, BTreeMap<u32, String>>;

/// Whether these are the bytes of a packed workbook.
pub(super) fn is_workbook(bytes: &[u8]) -> bool {
    bytes.starts_with(b"PK\x03\x04")
}

/// The text of a sheet, the first one where none is named, and the cells that a spreadsheet
/// made into something else than what was typed.
///
/// # Errors
/// A finding, when the workbook cannot be read, is too large, or has no such sheet.
pub(super) fn read(
    bytes: &[u8],
    sheet: Option<&str>,
) -> Result<(String, Flaws), Box<Finding>> {
    let wrong = |what: &str, found: String, required: String, remedy: &str| {
        let finding = Finding::error(rule::ORDERS_TEXT, what);
        Box::new(finding.expected(found, required).remedy(remedy))
    };
    let unread = |why: String| {
        let required = "a workbook of .xlsx or .ods".to_owned();
        wrong(
            "the workbook cannot be read",
            why,
            required,
            "save it anew, or as CSV UTF-8",
        )
    };
    let packed =
        zip::ZipArchive::new(Cursor::new(bytes)).map_err(|e| unread(e.to_string()))?;
    let unpacked = packed.decompressed_size().unwrap_or(u128::MAX);
    if unpacked > MOST_UNPACKED {
        return Err(wrong(
            "the workbook is too large",
            format!("{} MiB when it is unpacked", unpacked >> 20),
            format!("at most {} MiB", MOST_UNPACKED >> 20),
            "give a workbook with the orders alone",
        ));
    }
    let mut book = calamine::open_workbook_auto_from_rs(Cursor::new(bytes))
        .map_err(|e| unread(e.to_string()))?;
    let names = book.sheet_names();
    let is_it = |name: &&String| sheet.is_none_or(|given| given.trim() == name.trim());
    let Some(name) = names.iter().find(is_it) else {
        let shown: Vec<&str> = names.iter().take(8).map(String::as_str).collect();
        let found = format!("sheets {}", shown.join(", "));
        let required = format!("a sheet `{}`", sheet.unwrap_or_default());
        let remedy = "give its name in strapwright.toml: [orders] sheet = \"NAME\"";
        return Err(wrong("the workbook has no such sheet", found, required, remedy));
    };
    let mut taken = Taken::default();
    // A sheet may claim any size: its cells are counted while they are read.
    match &mut book {
        Sheets::Xlsx(book) => {
            let mut cells =
                book.worksheet_cells_reader(name).map_err(|e| unread(e.to_string()))?;
            while let Some(cell) = cells.next_cell().map_err(|e| unread(e.to_string()))? {
                let value = Data::from(cell.get_value().clone());
                taken.add(cell.get_position(), &value);
            }
        }
        other => {
            let range = other.worksheet_range(name).map_err(|e| unread(e.to_string()))?;
            let (top, left) = range.start().unwrap_or_default();
            for (row, column, cell) in range.used_cells() {
                let at = |n: usize, from: u32| {
                    u32::try_from(n).unwrap_or(u32::MAX - from) + from
                };
                taken.add((at(row, top), at(column, left)), cell);
            }
        }
    }
    if let Some(found) = taken.excess {
        let required = format!("at most {MOST_ROWS} rows and {MOST_COLUMNS} columns");
        let remedy = "give a sheet with the orders alone";
        return Err(wrong("the sheet is too large", found, required, remedy));
    }
    Ok((to_csv(&taken.cells), taken.flaws))
}

/// What was read of a sheet so far.
#[derive(Default)]
struct Taken {
    cells: Cells,
    flaws: Flaws,
    /// What is too much of it.
    excess: Option<String>,
}

impl Taken {
    fn add(&mut self, (row, column): (u32, u32), cell: &Data) {
        let (n, i) = (row as usize + 1, column as usize);
        let (text, flaw) = match cell {
            Data::Empty => return,
            Data::String(text) => (text.trim().to_owned(), None),
            Data::Int(number) => (number.to_string(), None),
            Data::Float(number) => (plain(*number), None),
            Data::Bool(truth) => (truth.to_string(), None),
            Data::DateTime(date) => (day(date), Some(Flaw::Date)),
            Data::DateTimeIso(text) | Data::DurationIso(text) => {
                (text.clone(), Some(Flaw::Date))
            }
            Data::Error(error) => (error.to_string(), Some(Flaw::Error)),
        };
        if text.is_empty() || self.excess.is_some() {
            return;
        }
        if n > MOST_ROWS || i >= MOST_COLUMNS {
            self.excess = Some(format!("a cell in row {n} of column {}", i + 1));
            return;
        }
        self.flaws.extend(flaw.map(|flaw| ((n, i), flaw)));
        self.cells.entry(row).or_default().insert(column, text);
    }
}

/// A number as a person types it: spreadsheets reckon in floats.
fn plain(number: f64) -> String {
    let text = format!("{number:.6}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn day(date: &ExcelDateTime) -> String {
    let (year, month, day, ..) = date.to_ymd_hms_milli();
    format!("{year}-{month:02}-{day:02}")
}

/// One record for each row, also for empty ones, so that rows keep their numbers.
fn to_csv(cells: &Cells) -> String {
    let last = cells.keys().next_back().copied().unwrap_or_default();
    csv((0..=last).map(|row| {
        let own = cells.get(&row);
        let width =
            own.and_then(|own| own.keys().next_back()).copied().unwrap_or_default();
        let cell =
            move |i: u32| own.and_then(|own| own.get(&i)).map_or("", String::as_str);
        (0..=width).map(cell)
    }))
}
