//! Where a print is written, and what is said about it.

use super::ruler::measuring_lines;
use super::terminal::{self, message};
use super::{Failure, Result, draft, files};
use crate::diagnostic::{Sources, counted, numbered, shown_path};
use crate::export::{FORMATS, Format, PDF, Writes};
use crate::layout::{Layout, MarkKind, NestedSize};
use crate::paginate::{Correction, SheetSet, compare_sheets};
use crate::print::{self, PrintError, PrintSetup, draw};
use std::path::{Path, PathBuf};

/// What is no longer true on sheets that are kept.
pub(super) const CROSS_OUT: &str = "  on kept sheets, cross out the reading from A to B in the head and \
                                    put the old ticket away: the new ones count";

/// The file that a print is written to, and its format.
pub(super) struct Destination {
    path: PathBuf,
    format: Format,
    /// What the files of the job are called; with the title it says whose a file is.
    job: String,
    force: bool,
}

/// What was asked for: where, in which format, and whether to replace any file.
#[derive(Clone, Copy, Default)]
pub(super) struct Output<'a> {
    pub(super) path: Option<&'a Path>,
    /// `None` where the file's ending chooses.
    pub(super) format: Option<Format>,
    pub(super) force: bool,
}

impl Destination {
    /// A file of the job `job`, called `stem` with the format's ending where only a folder is
    /// given, or nothing.
    ///
    /// # Errors
    /// When the folder does not exist, and when the ending of the file names no format, or
    /// another than was asked for.
    pub(super) fn new(output: Output<'_>, job: &str, stem: &str) -> Result<Self> {
        let Output { path, format, force } = output;
        let job = job.to_owned();
        let default = format.unwrap_or(PDF);
        let name = format!("{stem}.{}", default.extension);
        let mut path = files::resolve(path, name)?;
        if files::is_stdout(&path) || files::is_special(&path) {
            let format = format.ok_or_else(|| no_ending(&path))?;
            return Ok(Self { path, format, job, force });
        }
        let by_ending = Format::for_path(&path).map_err(Failure::Usage)?;
        if by_ending.is_none() {
            path.as_mut_os_string().push(format!(".{}", default.extension));
        }
        let by_ending = by_ending.unwrap_or(default);
        let format = format.unwrap_or(by_ending);
        if format.name != by_ending.name {
            return Err(Failure::Usage(format!(
                "{} ends in .{}, and the format is {}; end it in .{}",
                shown_path(&path),
                by_ending.extension,
                format.name,
                format.extension
            )));
        }
        Ok(Self { path, format, job, force })
    }

    /// The same with another form of its format.
    ///
    /// # Errors
    /// When the format has no such form.
    pub(super) fn with(
        self,
        form: impl FnOnce(Format) -> std::result::Result<Format, String>,
    ) -> Result<Self> {
        Ok(Self { format: form(self.format).map_err(Failure::Usage)?, ..self })
    }

    /// What is written there.
    pub(super) fn format(&self) -> &Format {
        &self.format
    }

    fn is_stdout(&self) -> bool {
        files::is_stdout(&self.path)
    }

    /// The one file, or the file of each sheet: `belt-1.svg`, `belt-2.svg`.
    fn paths(&self, set: &SheetSet) -> Vec<PathBuf> {
        let is_each = matches!(
            self.format.writes,
            Writes::FilePerSheet(_) | Writes::Preview { .. }
        );
        if !is_each || set.sheets.len() == 1 {
            return vec![self.path.clone()];
        }
        let numbered = set.sheets.iter().map(|sheet| {
            let mut name = self.path.file_stem().unwrap_or_default().to_owned();
            name.push(format!("-{}.{}", sheet.number, self.format.extension));
            self.path.with_file_name(name)
        });
        numbered.collect()
    }

    /// The first of the files; `None` for standard output.
    pub(super) fn first_file(&self, set: &SheetSet) -> Option<PathBuf> {
        self.paths(set).into_iter().next().filter(|_| !self.is_stdout())
    }

    /// Checks before anything is drawn that no file would be replaced.
    ///
    /// # Errors
    /// When a file exists and `--force` was not given.
    pub(super) fn check_free(&self, set: &SheetSet) -> Result {
        if self.is_stdout() {
            return Ok(());
        }
        let owner = self.owner(set);
        let mut paths = self.paths(set).into_iter();
        paths.try_for_each(|path| {
            files::check_free(&path, self.may_replace(&path, &owner))
        })
    }

    /// Whose a file is: the name of the job and its title.
    fn owner(&self, set: &SheetSet) -> String {
        format!("{}\n{}", self.job, set.title)
    }

    /// Whether a file may be replaced: any with `--force`, else an earlier print of the same
    /// job that nobody has changed.
    fn may_replace(&self, path: &Path, owner: &str) -> bool {
        let is_own = |bytes: Vec<u8>| self.format.is_sealed(&bytes, owner);
        self.force
            || files::is_special(path)
            || files::read_plain(path).is_some_and(is_own)
    }

    /// The print that the file holds now, bare; `None` where it holds none.
    fn earlier(&self) -> Option<SheetSet> {
        if self.format.name != PDF.name || self.is_stdout() {
            return None;
        }
        print::read(&files::read_plain(&self.path)?).ok()
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
        let owner = self.owner(set);
        for (path, bytes) in self.paths(set).iter().zip(files) {
            let bytes = self.format.sealed(bytes, &owner);
            if self.is_stdout() {
                terminal::write_file(&bytes)?;
            } else {
                draft::write(path, &bytes, self.may_replace(path, &owner))?;
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
        let earlier = self.earlier();
        let read_back = self.write(set, layout, rows)?;
        let is_strap = self.format.is_strap();
        let measuring = measuring_lines(set, setup.measuring, setup.wording.units);
        let measuring = measuring.into_iter().filter(|_| !is_strap);
        for line in lines.into_iter().chain(measuring) {
            message(&line);
        }
        message(&self.summary(set));
        if let Some(earlier) = earlier.filter(|e| e.fingerprint != set.fingerprint) {
            let diff = compare_sheets(&earlier, set);
            if !diff.keep.is_empty() && !diff.print.is_empty() {
                let [keep, print] =
                    [&diff.keep, &diff.print].map(|list| numbered("sheet", list.clone()));
                let name = earlier.fingerprint;
                message(&format!(
                    "print {name} was there before: if you have printed it, keep its {keep} and \
                     print the ticket and {print} alone"
                ));
                message(CROSS_OUT);
            }
        }
        message(&read_back);
        if is_strap {
            show_strap_advice(layout);
        } else {
            show_print_advice(set.settings.printer.as_ref());
        }
        Ok(())
    }

    /// How many sheets of which print are where.
    pub(super) fn summary(&self, set: &SheetSet) -> String {
        let place = match self.paths(set).as_slice() {
            _ if self.is_stdout() => "standard output".to_owned(),
            [first, .., last] => format!("{} to {}", shown_path(first), shown_path(last)),
            _ => shown_path(&self.path),
        };
        let ticket = match set.ticket.len() {
            0 => String::new(),
            1 => " and the ticket".to_owned(),
            pages => format!(" and a ticket of {pages} pages"),
        };
        let SheetSet { paper, fingerprint, .. } = set;
        if self.format.is_strap() {
            return format!("the whole strap in mm, print {fingerprint}: {place}");
        }
        let sheets = counted(set.sheets.len(), "sheet");
        let wide = set.sheets.iter().filter(|s| s.width > s.height).count();
        let tall = set.sheets.len() - wide;
        let lie = if wide > 0 && tall > 0 {
            format!(", {wide} wide and {tall} tall,")
        } else {
            String::new()
        };
        format!("{sheets}{lie}{ticket} on {paper}, print {fingerprint}: {place}")
    }
}

/// A place without an ending needs a format.
fn no_ending(path: &Path) -> Failure {
    let formats: Vec<&str> = FORMATS.iter().map(|f| f.name).collect();
    Failure::Usage(format!(
        "no ending of -o {} chooses the format; give --format with one of: {}",
        shown_path(path),
        formats.join(", ")
    ))
}

/// Says how to take a whole strap into another program.
fn show_strap_advice(layout: &Layout) {
    let marks = layout.pieces.iter().flat_map(|piece| &piece.marks);
    let slits = marks.filter(|mark| mark.kind == MarkKind::Slit).count();
    if slits > 0 {
        let slits = counted(slits, "slit");
        message(&format!(
            "{slits} on the layer punch: open lines, to be cut and not removed"
        ));
    }
    message(
        "Cut the layers punch and outline alone, punch first; the kerf is your machine's. The bar \
         on the layer guides is 100 mm: if it is not in your program, choose mm when you open \
         the file.",
    );
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
