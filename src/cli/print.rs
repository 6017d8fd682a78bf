//! Writing a set of sheets, and the words that go with every print.

use super::{Failure, files, terminal};
use crate::diagnostic::{Sources, counted};
use crate::export::{Format, PDF, Writes};
use crate::layout::{Layout, NestedSize};
use crate::paginate::{Scaling, SheetSet};
use crate::print::{PrintError, draw};
use std::path::{Path, PathBuf};

/// Where a print goes, and in which format.
pub(super) struct Target {
    path: PathBuf,
    format: Format,
    force: bool,
}

impl Target {
    /// The file or folder that was asked for, or a PDF called `stem` here.
    pub(super) fn new(
        output: Option<&Path>,
        stem: &str,
        force: bool,
    ) -> Result<Self, Failure> {
        Self::file(files::place(output, format!("{stem}.{}", PDF.extension))?, force)
    }

    /// A file; its ending says the format.
    pub(super) fn file(path: PathBuf, force: bool) -> Result<Self, Failure> {
        let format = Format::for_path(&path).map_err(Failure::Usage)?;
        Ok(Self { path, format, force })
    }

    /// The same for what only a PDF can hold: what a later print needs to know of this one.
    pub(super) fn pdf(
        output: Option<&Path>,
        stem: &str,
        force: bool,
    ) -> Result<Self, Failure> {
        let target = Self::new(output, stem, force)?;
        if target.format.name == PDF.name {
            return Ok(target);
        }
        Err(Failure::Usage(format!(
            "{} would not say which print it is, so no later reprint could start from it; \
             end it in .{}",
            target.path.display(),
            PDF.extension
        )))
    }

    /// Whether the ticket goes into it.
    pub(super) fn takes_ticket(&self) -> bool {
        matches!(self.format.writes, Writes::OneFile(_))
    }

    fn is_stdout(&self) -> bool {
        self.path.as_os_str() == "-"
    }

    /// Its one file, or the file of each sheet: `belt-1.svg`, `belt-2.svg`.
    fn paths(&self, set: &SheetSet) -> Vec<PathBuf> {
        if matches!(self.format.writes, Writes::OneFile(_)) || set.sheets.len() == 1 {
            return vec![self.path.clone()];
        }
        let numbered = set.sheets.iter().map(|sheet| {
            let mut name = self.path.file_stem().unwrap_or_default().to_owned();
            name.push(format!("-{}.{}", sheet.number, self.format.extension));
            self.path.with_file_name(name)
        });
        numbered.collect()
    }

    /// Says that a file is there already, before anything is drawn.
    pub(super) fn must_be_free(&self, set: &SheetSet) -> Result<(), Failure> {
        if self.is_stdout() {
            return Ok(());
        }
        self.paths(set).iter().try_for_each(|path| files::must_be_free(path, self.force))
    }

    /// Writes a set, once it has been read back and shows what the layout asks for. Says in
    /// a line what was read back.
    pub(super) fn write(
        &self,
        set: &SheetSet,
        layout: &Layout,
        rows: &[NestedSize],
    ) -> Result<String, Failure> {
        let (files, read_back) =
            draw(set, layout, rows, &self.format).map_err(|error| {
                if let PrintError::Differs(findings) = &error {
                    terminal::show(findings, &Sources::default());
                }
                Failure::Machine(error.to_string())
            })?;
        for (path, bytes) in self.paths(set).iter().zip(&files) {
            if self.is_stdout() {
                terminal::put(bytes)?;
            } else {
                files::write(path, bytes, self.force)?;
            }
        }
        let as_pdf = if self.format.name == PDF.name { "" } else { " as a PDF" };
        Ok(format!("read back{as_pdf}: {read_back}"))
    }

    /// How many sheets of which print are where.
    pub(super) fn line(&self, set: &SheetSet) -> String {
        let paths = self.paths(set);
        let place = match paths.as_slice() {
            _ if self.is_stdout() => "standard output".to_owned(),
            [first, .., last] => format!("{} to {}", first.display(), last.display()),
            _ => self.path.display().to_string(),
        };
        format!(
            "{}{} on {}, print {}: {place}",
            counted(set.sheets.len(), "sheet"),
            ticket(set.ticket.len()),
            set.paper,
            set.fingerprint,
        )
    }
}

/// What is said after every print: where it is, for which printer, and how to print it.
pub(super) fn say(set: &SheetSet, target: &Target, read_back: &str) {
    terminal::say(&target.line(set));
    terminal::say(read_back);
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

/// ` and the ticket`; nothing without one.
fn ticket(pages: usize) -> String {
    match pages {
        0 => String::new(),
        1 => " and the ticket".to_owned(),
        n => format!(" and a ticket of {n} pages"),
    }
}
