//! Writing a set of sheets, and the words that go with every print.

use super::{Failure, files, terminal};
use crate::diagnostic::{Sources, counted};
use crate::layout::Layout;
use crate::paginate::{Scaling, SheetSet};
use crate::print::{Fault, File, file};
use std::path::Path;

/// What is said after every print: where it is, for which printer, and how to print it.
pub(super) fn say(set: &SheetSet, path: &Path, read_back: &str) {
    terminal::say(&line(set, path));
    terminal::say(&format!("read back: {read_back}"));
    caution(set.correction.as_ref());
}

/// How to print, and the usual cautions.
pub(super) fn caution(scaling: Option<&Scaling>) {
    let fitted = scaling.is_some_and(|s| s.fitted);
    if let Some(scaling) = scaling {
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

/// Writes a set as a PDF, once it has been read back and shows what the layout asks for;
/// `-` is standard output. Says in a line what was read back.
pub(super) fn write(
    set: &SheetSet,
    layout: &Layout,
    path: &Path,
    force: bool,
) -> Result<String, Failure> {
    let File { bytes, read_back } = file(set, layout).map_err(|fault| {
        if let Fault::Differs(findings) = &fault {
            terminal::show(findings, &Sources::default());
        }
        Failure::Machine(fault.to_string())
    })?;
    if path.as_os_str() == "-" {
        terminal::put(&bytes)?;
    } else {
        files::write(path, &bytes, force)?;
    }
    Ok(read_back.summary())
}

/// How many sheets of which print are where.
pub(super) fn line(set: &SheetSet, path: &Path) -> String {
    let to_stdout = path.as_os_str() == "-";
    format!(
        "{}{} on {}, print {}: {}",
        counted(set.sheets.len(), "sheet"),
        ticket(set.ticket.len()),
        set.paper,
        set.fingerprint,
        if to_stdout { "standard output".to_owned() } else { path.display().to_string() },
    )
}

/// ` and the ticket`; nothing without one.
fn ticket(pages: usize) -> String {
    match pages {
        0 => String::new(),
        1 => " and the ticket".to_owned(),
        n => format!(" and a ticket of {n} pages"),
    }
}
