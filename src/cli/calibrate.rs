//! `calibrate`: from what the ruler read on a print to the verdict on it and to a printer file.

use super::complete::papers;
use super::destination::{Destination, Output};
use super::readings::{ReadingArgs, missing_readings};
use super::ruler::RulerArgs;
use super::terminal::{self, message, show_findings};
use super::{Failure, Result, draft, explain_forbidden, files, today};
use crate::diagnostic::{Sources, shown_path};
use crate::export::PDF;
use crate::fit::MeasurementUncertainty;
use crate::geom::Length;
use crate::paginate::{MARGIN, Paper, SheetSet};
use crate::print;
use crate::printer::{
    self, Added, Calibrated, Calibration, Dated, Measured, Printer, calibrate,
};
use clap::{Args, ValueHint};
use clap_complete::engine::ArgValueCandidates;
use std::ffi::{OsStr, OsString};
use std::path::{Path, PathBuf};

#[derive(Args, Debug)]
#[command(after_help = "\
Print a drawing at 100 %, join the strip, measure it with a ruler, and name the file:
  strapwright draw -o test.pdf
  strapwright calibrate test.pdf --wide-bar \"259.2 mm\" --tall-bar \"160.4 mm\" \\
      --strip \"1096.5 mm\" --printer desk.toml
--strip is the joined strip from A to B. It proves far more than the bars.
The first words say whether to punch by this print. With --printer the reading is added
to that file, which is made if it is not there. Then draw for that printer:
  strapwright draw --printer desk.toml
Each further reading makes the file surer. On a terminal, readings that are not given are
asked for. The ruler is that of the drawing, unless its options are given again.
Exit codes: 0 punch, or the reading was added; 1 do not punch.
A print of its own, which is read to 0.1 mm:
  strapwright calibrate --print")]
#[expect(clippy::struct_excessive_bools, reason = "each is a flag of the command line")]
pub(super) struct Calibrate {
    /// The PDF that was printed
    #[arg(value_name = "PRINT", required_unless_present = "draws")]
    #[arg(value_hint = ValueHint::FilePath)]
    print: Option<OsString>,
    /// Draw the calibration print: a plain strip to join, with verniers to read to 0.1 mm
    #[arg(long = "print", conflicts_with = "print")]
    draws: bool,
    /// The paper of the calibration print
    #[arg(long, value_name = "NAME", default_value = "a4", requires = "draws")]
    #[arg(value_parser = Paper::parse, add = ArgValueCandidates::new(papers))]
    paper: Paper,
    /// Where to write the calibration print [default: calibration.pdf]
    #[arg(short, long, value_name = "FILE", requires = "draws")]
    output: Option<PathBuf>,
    /// Replace any file; without it, only an earlier calibration print
    #[arg(long, requires = "draws")]
    force: bool,
    #[command(flatten)]
    readings: ReadingArgs,
    /// How well you measure; by default as the print was drawn for
    #[command(flatten)]
    ruler: RulerArgs,
    /// The printer file to which the reading is added
    #[arg(long, value_name = "FILE")]
    printer: Option<PathBuf>,
    /// The name of the printer on the sheets, for a new file [default: that of the file]
    #[arg(long, requires = "printer")]
    name: Option<String>,
    /// How much the printer leaves blank along the edges, for a new file [default: as on the
    /// print, 10 mm]
    #[arg(long, value_name = "LENGTH", value_parser = printer::margin)]
    #[arg(allow_hyphen_values = true, requires = "printer")]
    margin: Option<Length>,
    /// Which ruler you used, to be kept with the reading
    #[arg(
        long = "ruler",
        value_name = "TEXT",
        default_value = "",
        hide_default_value = true
    )]
    #[arg(requires = "printer")]
    ruler_name: String,
    /// Which paper stock, to be kept with the reading
    #[arg(long, value_name = "TEXT", default_value = "", hide_default_value = true)]
    #[arg(requires = "printer")]
    stock: String,
    /// A note, to be kept with the reading
    #[arg(long, value_name = "TEXT", default_value = "", hide_default_value = true)]
    #[arg(requires = "printer")]
    note: String,
    /// The printer was changed: earlier readings of the file do not count any more
    #[arg(long, requires = "printer")]
    anew: bool,
    /// Undo a fit to the page that you cannot switch off, as on some phones
    #[arg(long, requires = "printer")]
    cannot_switch_off: bool,
}

pub(super) fn run(args: &Calibrate) -> Result {
    match &args.print {
        None => args.draw(),
        Some(print) => judge(args, print),
    }
}

fn judge(args: &Calibrate, file: &OsStr) -> Result {
    let (name, bytes) = files::read_bytes(file, files::MAX_PDF)?;
    let unreadable = |why: String| Failure::System(format!("cannot read {name}: {why}"));
    let print = print::read(&bytes).map_err(unreadable)?;
    let gauge = print.gauge.as_ref().ok_or_else(|| {
        unreadable("it does not say how long its bars are; draw it again".to_owned())
    })?;
    let readings = args.readings.read(gauge)?;
    let measuring = args.ruler.measuring(print.settings.measuring);
    let asked = Calibration {
        gauge,
        paper: &print.paper,
        correction: print.settings.printer.as_ref(),
        readings: &readings,
        measuring,
        must_fit: args.cannot_switch_off,
    };
    let Some(Calibrated { verdict, measured, skew }) = calibrate(&asked) else {
        return Err(missing_readings(gauge));
    };
    let mut words = String::new();
    terminal::write_wrapped(&mut words, "", &verdict.words, terminal::WIDTH);
    terminal::write_text(words)?;
    message(&format!("print {}, {} {}", print.fingerprint, print.paper, print.size));
    if verdict.may_punch {
        message(
            "Paper grows in damp air: this is true today, so read again on another day.",
        );
    }
    if readings.diagonals.is_some() {
        message(&match skew {
            None => {
                "the diagonals are no diagonals of this print: read them again".to_owned()
            }
            Some(skew) => format!(
                "axes: {:.2}° off square, sure to {:.2}°; nothing corrects it{}",
                skew.degrees,
                skew.within,
                if skew.is_proven() { ": mark square ends with a square" } else { "" }
            ),
        });
    }
    match (&args.printer, measured) {
        (Some(path), Some(measured)) => {
            let added = args.add(path, &print, measuring, measured);
            explain_forbidden(added, "the reading was not added")
        }
        _ if verdict.may_punch => Ok(()),
        (Some(_), None) => {
            explain_forbidden(Err(Failure::Forbidden), "no reading was added")
        }
        (None, _) => Err(Failure::Forbidden),
    }
}

impl Calibrate {
    /// Draws the calibration print.
    fn draw(&self) -> Result {
        let path = self.output.as_deref();
        let output = Output { path, format: Some(PDF), force: self.force };
        let destination = Destination::new(output, "calibration", "calibration")?;
        let (set, layout) = printer::calibration_print(&self.paper)
            .map_err(|why| Failure::Usage(why.finding().message))?;
        destination.check_free(&set)?;
        let read_back = destination.write(&set, &layout, &[])?;
        message(&destination.summary(&set));
        message(&read_back);
        message(
            "Print it at 100 %, join the sheets, and name this file to calibrate; what to read \
             stands on the first sheet.",
        );
        Ok(())
    }

    /// Adds what was measured to the printer file, or makes it.
    fn add(
        &self,
        path: &Path,
        print: &SheetSet,
        measuring: MeasurementUncertainty,
        Measured { long, short, fitted }: Measured,
    ) -> Result {
        let paper = &print.paper;
        let reading = Dated {
            date: today::utc(),
            print: print.fingerprint.clone(),
            long,
            short,
            class: measuring.ruler,
            ruler: self.ruler_name.clone(),
            stock: self.stock.clone(),
            note: self.note.clone(),
            anew: self.anew,
        };
        if path.as_os_str() == "-" {
            let why = "--printer takes a file to add to, not standard input".to_owned();
            return Err(Failure::Usage(why));
        }
        let text = if path.exists() {
            let old = files::read(path.as_os_str())?;
            if self.name.is_some() || self.margin.is_some() {
                return Err(Failure::Usage(format!(
                    "--name and --margin are for a new file; change them in {}",
                    old.name
                )));
            }
            let drawn_for = print.settings.printer.as_ref().map(|c| c.printer.as_str());
            let Added { text, findings, sources } =
                printer::add((&old.name, &old.text), paper, drawn_for, &reading, fitted);
            show_findings(&findings, &sources);
            text.ok_or(Failure::Forbidden)?
        } else {
            let on_print = print.settings.printer.as_ref();
            let margin = self.margin.or(on_print.map(|c| c.margin)).unwrap_or(MARGIN);
            let name = self.printer_name(path)?;
            printer::write(&Printer::new(name, paper, margin, fitted, vec![reading]))
        };
        // What is written reads back, or nothing is written.
        let mut sources = Sources::default();
        let name = shown_path(path);
        let known = printer::read(&mut sources, &name, &text);
        show_findings(&known.findings, &sources);
        let Some(printer) = known.printer else { return Err(Failure::Forbidden) };
        draft::write(path, text.as_bytes(), path.exists())?;
        show_factors(&name, &printer, paper);
        Ok(())
    }

    fn printer_name(&self, path: &Path) -> Result<String> {
        let name = self.name.clone();
        let name = name.unwrap_or_else(|| files::stem(path.as_os_str(), "printer"));
        let name = name.trim().to_owned();
        if printer::is_name(&name) {
            return Ok(name);
        }
        Err(Failure::Usage(format!(
            "`{name}` cannot be written on a sheet; give --name in up to 60 Latin, Greek or \
             Cyrillic letters"
        )))
    }
}

/// Says the factors of a printer, and how sure they are.
fn show_factors(name: &str, printer: &Printer, paper: &Paper) {
    let Printer { correction, readings, .. } = printer;
    let count = crate::diagnostic::counted(readings.len(), "reading");
    message(&format!("{name} is written, with {count}:"));
    let factors = [correction.long, correction.short];
    for (edge, factor) in paper.form().edges().into_iter().zip(factors) {
        let uncertainty = factor.proven.times(Length::from_mm(1_000)).mm(1);
        let (paper, by) = (&printer.paper, factor.by);
        message(&format!(
            "  {edge} of {paper}: drawings are multiplied by {by}, sure to {uncertainty} mm on \
             1 m"
        ));
    }
    let how = if correction.fitted { "with the same settings" } else { "at 100 %" };
    message(&format!(
        "Draw with --printer {name}, print {how}, and read that print too."
    ));
}
