//! `calibrate`: from what the ruler read on a print to a printer file.

use super::job_source::JobArgs;
use super::laid_out::{LaidOutJob, ShownFindings};
use super::print_setup::PrintSetupArgs;
use super::ruler::RulerArgs;
use super::terminal::{self, message, show_findings};
use super::wording_args::WordingArgs;
use super::{Failure, Result, check_allowed, explain_forbidden, files};
use crate::diagnostic::{Sources, Span};
use crate::geom::Length;
use crate::job::Spanned;
use crate::paginate::{Paper, SheetSet};
use crate::printer::{self, Calibrated, Calibration, Printer, Readings};
use crate::words::Wording;
use clap::Args;
use std::ffi::OsString;
use std::path::{Path, PathBuf};

#[derive(Args, Debug)]
#[command(after_help = "\
Draw a job, print it at 100 %, join the strip and measure it with a ruler:
  strapwright draw -o test.pdf
  strapwright calibrate --wide-bar \"259.2 mm\" --tall-bar \"160.4 mm\" \\
      --strip \"1096.5 mm\" -o desk.toml
--strip is the joined strip from cross A to cross B. It proves far more than the bars.
Then draw for that printer:
  strapwright draw --printer desk.toml
Give the job, --paper, --set and --printer with which the measured print was drawn,
because the length of the bars follows from them. If it was drawn with --printer, the
new factors are multiplied by the old ones.")]
pub(super) struct Calibrate {
    #[command(flatten)]
    job: JobArgs,
    /// The paper of the print [default: the paper of --printer, else a4]
    #[arg(long, value_name = "NAME", allow_hyphen_values = true, value_parser = Paper::parse)]
    paper: Option<Paper>,
    /// What the ruler reads on the scale bar along the width, from first to last tick
    #[arg(long, value_name = "READ", allow_hyphen_values = true)]
    wide_bar: Option<String>,
    /// What the ruler reads on the scale bar along the height
    #[arg(long, value_name = "READ", allow_hyphen_values = true)]
    tall_bar: Option<String>,
    /// What the ruler reads from cross A to cross B of the joined strip
    #[arg(long, value_name = "READ", allow_hyphen_values = true)]
    strip: Option<String>,
    /// From corner mark to corner mark: lower left to upper right, then upper left to
    /// lower right
    #[arg(long, value_names = ["RISING", "FALLING"], num_args = 2)]
    #[arg(allow_hyphen_values = true)]
    diagonals: Option<Vec<String>>,
    #[command(flatten)]
    ruler: RulerArgs,
    /// The printer file that the print was drawn with
    #[arg(long, value_name = "OLD")]
    printer: Option<OsString>,
    /// The name of the printer on the sheets [default: the name in --printer, else that of
    /// the file]
    #[arg(long)]
    name: Option<String>,
    /// How much the printer leaves blank along the edges [default: as in --printer, else
    /// 10 mm]
    #[arg(long, value_name = "LENGTH", value_parser = printer::margin)]
    #[arg(allow_hyphen_values = true)]
    margin: Option<Length>,
    /// Undo a fit to the page that you cannot switch off, as on some phones
    #[arg(long)]
    cannot_switch_off: bool,
    /// The axes differ by more than 2 %, and you read both bars again to be sure
    #[arg(long)]
    axes_apart: bool,
    /// Where to write: a file, or a folder that exists; `-` is standard output
    #[arg(short, long, value_name = "FILE", default_value = "printer.toml")]
    output: PathBuf,
    /// Replace the file if it exists
    #[arg(long)]
    force: bool,
}

pub(super) fn run(args: &Calibrate) -> Result {
    explain_forbidden(calibrate(args), "no printer file was written")
}

fn calibrate(args: &Calibrate) -> Result {
    let source = args.job.read()?;
    let (paper, printer) = (args.paper.clone(), args.printer.clone());
    let (ruler, wording) = (args.ruler, WordingArgs::default());
    let setup = PrintSetupArgs { paper, printer, ruler, wording }.read_and_show();
    let (size, wording) = (args.job.size(), Wording::default());
    let job = LaidOutJob::new(&source, size, wording, &mut ShownFindings::default());
    // Both have shown their findings before either stops the command.
    let (setup, mut job) = (setup?, job?);
    let print = job.paginate(&setup.request(job.layout(), &job.heading))?;
    let readings = args.readings(&print, &mut job.sources)?;
    let output = files::resolve(Some(&args.output), "printer.toml".to_owned())?;
    let name = args.printer_name(setup.printer.as_ref(), &output)?;
    let Calibrated { printer, findings } = printer::calibrate(&Calibration {
        print: &print,
        paper: &setup.paper,
        readings: &readings,
        measuring: setup.measuring,
        old: setup.printer.as_ref(),
        name: &name,
        margin: args.margin,
        must_fit: args.cannot_switch_off,
        must_part: args.axes_apart,
    });
    show_findings(&findings, &job.sources);
    let Some(printer) = printer else {
        check_allowed(&findings)?;
        message("no printer file was written: none is needed");
        return Ok(());
    };
    let text = printer::write(&printer);
    if output.as_os_str() == "-" {
        terminal::write_result(text)?;
        show_factors(&printer, &setup.paper);
        return Ok(());
    }
    files::write(&output, text.as_bytes(), args.force)?;
    show_factors(&printer, &setup.paper);
    let fitted = printer.correction.fitted;
    let how = if fitted { "with the same settings" } else { "at 100 %" };
    let path = output.display();
    message(&format!(
        "{path} is written. Draw with --printer {path}, print {how}, and read the bars and \
         the joined strip again: they should now be true."
    ));
    Ok(())
}

/// Says the factors of a printer, and how sure they are.
fn show_factors(printer: &Printer, paper: &Paper) {
    let correction = &printer.correction;
    let factors = [correction.long, correction.short];
    for (edge, factor) in paper.form().edges().into_iter().zip(factors) {
        let uncertainty = factor.proven.times(Length::from_mm(1_000)).mm(1);
        let (paper, by) = (&printer.paper, factor.by);
        message(&format!(
            "{edge} of {paper}: drawings are multiplied by {by}, sure to {uncertainty} mm on \
             1 m"
        ));
    }
    if let Some(skew) = printer.skew {
        let (degrees, within) = (skew.degrees, skew.within);
        message(&format!(
            "axes: {degrees:.2}° off square, sure to {within:.2}°; recorded, not corrected"
        ));
    }
}

impl Calibrate {
    /// The readings. Each is kept in `sources`, so that findings can point at it.
    fn readings(&self, print: &SheetSet, sources: &mut Sources) -> Result<Readings> {
        let (Some(wide), Some(tall)) = (&self.wide_bar, &self.tall_bar) else {
            return Err(missing_readings(print));
        };
        if self.strip.is_some() && print.checks.is_empty() {
            return Err(Failure::Usage(
                "--strip: this job has no joins on this paper, so it has no crosses A and B; \
                 leave --strip out, or give the paper of the print"
                    .to_owned(),
            ));
        }
        let strip = match &self.strip {
            Some(text) => Some(parse_readings("--strip", [text], sources)?),
            None => None,
        };
        let diagonals = match self.diagonals.as_deref() {
            Some([rising, falling]) => {
                Some(parse_readings("--diagonals", [rising, falling], sources)?)
            }
            _ => None,
        };
        let [wide] = parse_readings("--wide-bar", [wide], sources)?;
        let [tall] = parse_readings("--tall-bar", [tall], sources)?;
        Ok(Readings { wide, tall, strip: strip.map(|[strip]| strip), diagonals })
    }

    fn printer_name(&self, old: Option<&Printer>, output: &Path) -> Result<String> {
        let given = self.name.clone().or(old.map(|p| p.correction.printer.clone()));
        let name = given.unwrap_or_else(|| files::stem(output.as_os_str(), "printer"));
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

/// Reads the values of one option, and keeps them as one text in `sources`.
fn parse_readings<const N: usize>(
    flag: &str,
    texts: [&str; N],
    sources: &mut Sources,
) -> Result<[Spanned<Length>; N]> {
    const BETWEEN: &str = "   ";
    for text in texts {
        Length::parse(text).map_err(|e| Failure::Usage(format!("{flag}: {e}")))?;
    }
    let source = sources.add(flag, texts.join(BETWEEN));
    let mut start = 0;
    Ok(texts.map(|text| {
        let range = start..start + text.len();
        start = range.end + BETWEEN.len();
        Spanned {
            value: Length::parse(text).unwrap_or_default(),
            span: Some(Span { source, range }),
        }
    }))
}

/// Says which readings are needed, and how long each is on a true print.
fn missing_readings(print: &SheetSet) -> Failure {
    let bars = print.sheets.first().map(|s| s.bars.as_slice()).unwrap_or_default();
    let [wide, tall] =
        [0, 1].map(|i| bars.get(i).map(|b| b.length().both()).unwrap_or_default());
    let strip = print.checks.first().map(|check| {
        let [from, to] = &check.labels;
        let length = check.length.both();
        format!(
            "\n  --strip READ      joined strip, cross {from} to cross {to}, {length}: the \
             surest of the three"
        )
    });
    Failure::Usage(format!(
        "give what the ruler reads on the print:\n  --wide-bar READ   bar along the width, \
         {wide} on a true print\n  --tall-bar READ   bar along the height, {tall}{}",
        strip.unwrap_or_default()
    ))
}
