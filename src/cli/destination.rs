//! Where a print is written, and what is said about it.

use super::print_setup::PrintSetup;
use super::ruler::measuring_lines;
use super::terminal::{self, message};
use super::{Failure, Result, files};
use crate::diagnostic::{Sources, counted};
use crate::export::{Format, PDF, Writes};
use crate::layout::{Layout, NestedSize};
use crate::paginate::{Correction, SheetSet};
use crate::print::{PrintError, draw};
use std::path::{Path, PathBuf};

/// The file that a print is written to, and its format.
pub(super) struct Destination {
    path: PathBuf,
    format: Format,
    force: bool,
}

impl Destination {
    /// `output`, which may be a folder; without one, a PDF in the working folder. The file
    /// name in a folder begins with `stem`.
    ///
    /// # Errors
    /// When the folder does not exist, or no format has the ending of the file.
    pub(super) fn new(output: Option<&Path>, stem: &str, force: bool) -> Result<Self> {
        Self::file(files::resolve(output, format!("{stem}.{}", PDF.extension))?, force)
    }

    /// A file; its ending names the format.
    ///
    /// # Errors
    /// When no format has this ending.
    pub(super) fn file(path: PathBuf, force: bool) -> Result<Self> {
        let format = Format::for_path(&path).map_err(Failure::Usage)?;
        Ok(Self { path, format, force })
    }

    /// Like [`new`](Self::new), but only for a PDF: no other format says which print it is.
    ///
    /// # Errors
    /// Those of [`new`](Self::new), and when the format is not PDF.
    pub(super) fn pdf(output: Option<&Path>, stem: &str, force: bool) -> Result<Self> {
        let destination = Self::new(output, stem, force)?;
        if destination.format.name == PDF.name {
            return Ok(destination);
        }
        Err(Failure::Usage(format!(
            "{} would not say which print it is, so no later reprint could start from it; \
             end it in .{}",
            destination.path.display(),
            PDF.extension
        )))
    }

    /// Whether the ticket goes into the file too.
    pub(super) fn takes_ticket(&self) -> bool {
        self.format.has_ticket
    }

    fn is_stdout(&self) -> bool {
        self.path.as_os_str() == "-"
    }

    /// The one file, or the file of each sheet: `belt-1.svg`, `belt-2.svg`.
    fn paths(&self, set: &SheetSet) -> Vec<PathBuf> {
        let is_one = matches!(self.format.writes, Writes::OneFile(_));
        if is_one || set.sheets.len() == 1 {
            return vec![self.path.clone()];
        }
        let numbered = set.sheets.iter().map(|sheet| {
            let mut name = self.path.file_stem().unwrap_or_default().to_owned();
            name.push(format!("-{}.{}", sheet.number, self.format.extension));
            self.path.with_file_name(name)
        });
        numbered.collect()
    }

    /// Checks before anything is drawn that no file would be replaced.
    ///
    /// # Errors
    /// When a file exists and `--force` was not given.
    pub(super) fn check_free(&self, set: &SheetSet) -> Result {
        if self.is_stdout() {
            return Ok(());
        }
        self.paths(set).iter().try_for_each(|path| files::check_free(path, self.force))
    }

    /// Draws the sheets, reads them back, and writes them if they show what the layout asks
    /// for. Returns a line about what was read back.
    ///
    /// # Errors
    /// When the sheets show something else, or a file cannot be written.
    pub(super) fn write(
        &self,
        set: &SheetSet,
        layout: &Layout,
        rows: &[NestedSize],
    ) -> Result<String> {
        let (files, read_back) =
            draw(set, layout, rows, &self.format).map_err(|error| {
                if let PrintError::Differs(findings) = &error {
                    terminal::show_findings(findings, &Sources::default());
                }
                Failure::System(error.to_string())
            })?;
        for (path, bytes) in self.paths(set).iter().zip(&files) {
            if self.is_stdout() {
                terminal::write_result(bytes)?;
            } else {
                files::write(path, bytes, self.force)?;
            }
        }
        let as_pdf = if self.format.name == PDF.name { "" } else { " as a PDF" };
        Ok(format!("read back{as_pdf}: {read_back}"))
    }

    /// Writes the sheets, then says `lines`, what to measure, where the print is and how to
    /// print it.
    ///
    /// # Errors
    /// When a file exists already, and those of [`write`](Self::write).
    pub(super) fn write_and_report(
        &self,
        set: &SheetSet,
        layout: &Layout,
        rows: &[NestedSize],
        setup: &PrintSetup,
        lines: Vec<String>,
    ) -> Result {
        self.check_free(set)?;
        let read_back = self.write(set, layout, rows)?;
        let measuring = measuring_lines(set, setup.measuring, setup.wording.units);
        for line in lines.into_iter().chain(measuring) {
            message(&line);
        }
        message(&self.summary(set));
        message(&read_back);
        show_print_advice(set.settings.printer.as_ref());
        Ok(())
    }

    /// How many sheets of which print are where.
    pub(super) fn summary(&self, set: &SheetSet) -> String {
        let place = match self.paths(set).as_slice() {
            _ if self.is_stdout() => "standard output".to_owned(),
            [first, .., last] => format!("{} to {}", first.display(), last.display()),
            _ => self.path.display().to_string(),
        };
        let ticket = match set.ticket.len() {
            0 => String::new(),
            1 => " and the ticket".to_owned(),
            pages => format!(" and a ticket of {pages} pages"),
        };
        let sheets = counted(set.sheets.len(), "sheet");
        let wide = set.sheets.iter().filter(|s| s.width > s.height).count();
        let tall = set.sheets.len() - wide;
        let lie = if wide > 0 && tall > 0 {
            format!(", {wide} wide and {tall} tall,")
        } else {
            String::new()
        };
        let SheetSet { paper, fingerprint, .. } = set;
        format!("{sheets}{lie}{ticket} on {paper}, print {fingerprint}: {place}")
    }
}

/// Says how to print, and how to work safely.
pub(super) fn show_print_advice(correction: Option<&Correction>) {
    if let Some(Correction { printer, long, short, .. }) = correction {
        message(&format!(
            "for printer {printer}: long edge ×{}, short edge ×{}; on any other printer it \
             is wrong",
            long.by, short.by
        ));
    }
    let how = if correction.is_some_and(|c| c.fitted) {
        "Print fitted to the page, with the settings of the calibration"
    } else {
        "Print at 100 % with no fitting to the page"
    };
    message(&format!(
        "{how}, and lay a ruler on the scale bars before you cut. Knife and punch: cut away \
         from your body on a firm mat, and wear eye protection at the punch."
    ));
}
