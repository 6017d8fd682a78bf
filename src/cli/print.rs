//! Writing a set of sheets, and the words that go with every print.

use super::{Failure, files, terminal};
use crate::export;
use crate::paginate::SheetSet;
use std::path::Path;

/// What is said after every print: where it is, for which printer, and how to print it.
pub(super) fn say(set: &SheetSet, path: &Path) {
    terminal::say(&line(set, path));
    caution(set);
}

/// How to print, and the usual cautions.
pub(super) fn caution(set: &SheetSet) {
    let fitted = set.correction.as_ref().is_some_and(|s| s.fitted);
    if let Some(scaling) = &set.correction {
        terminal::say(&format!(
            "for printer {}: {}; on any other printer it is wrong",
            scaling.printer,
            scaling.token()
        ));
    }
    let how = if fitted {
        "Print fitted to the page, with the settings of the calibration"
    } else {
        "Print at 100 % with no fitting to the page"
    };
    terminal::say(&format!(
        "{how}, and lay a ruler on the scale bars before you cut. Knife and punch: cut away \
         from your body on a firm mat, and wear eye protection at the punch."
    ));
}

/// Writes a set as a PDF; `-` is standard output.
pub(super) fn write(set: &SheetSet, path: &Path, force: bool) -> Result<(), Failure> {
    let bytes =
        export::pdf::pdf(set).map_err(|e| Failure::Machine(format!("no PDF: {e}")))?;
    if path.as_os_str() == "-" {
        terminal::put(&bytes)
    } else {
        files::write(path, &bytes, force)
    }
}

/// How many sheets of which print are where.
pub(super) fn line(set: &SheetSet, path: &Path) -> String {
    let to_stdout = path.as_os_str() == "-";
    format!(
        "{} on {}, print {}: {}",
        count(set.sheets.len()),
        set.paper,
        set.fingerprint,
        if to_stdout { "standard output".to_owned() } else { path.display().to_string() },
    )
}

/// `1 sheet`, `2 sheets`.
pub(super) fn count(sheets: usize) -> String {
    format!("{sheets} sheet{}", if sheets == 1 { "" } else { "s" })
}

/// `sheet 1`, `sheets 1, 2 and 4`.
pub(super) fn named(sheets: &[usize]) -> String {
    let all: Vec<String> = sheets.iter().map(ToString::to_string).collect();
    match all.as_slice() {
        [] => "no sheet".to_owned(),
        [one] => format!("sheet {one}"),
        [first @ .., last] => format!("sheets {} and {last}", first.join(", ")),
    }
}
