//! `calibrate`: from what the ruler read on a print to a printer file.

use super::measure::{self, Ruler};
use super::onto::known;
use super::prepare::{Prepared, prepare};
use super::{Failure, JobArgs, Outcome, files, terminal};
use crate::diagnostic::{Sources, Span, forbids_print};
use crate::geom::Length;
use crate::job::Spanned;
use crate::paginate::{Heading, Paper, Request, SheetSet, paginate};
use crate::printer::{self, Calibrated, Calibration, Printer, Readings};
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
    #[arg(long, value_name = "NAME", allow_hyphen_values = true)]
    paper: Option<String>,
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
    ruler: Ruler,
    /// The printer file that the print was drawn with
    #[arg(long, value_name = "OLD")]
    printer: Option<OsString>,
    /// The name of the printer on the sheets [default: the name in --printer, else that of
    /// the file]
    #[arg(long)]
    name: Option<String>,
    /// How much the printer leaves blank along the edges [default: as in --printer, else
    /// 10 mm]
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    margin: Option<String>,
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

pub(super) fn run(args: &Calibrate) -> Result<Outcome, Failure> {
    let mut prepared = prepare(&args.job)?;
    let old = known(args.printer.as_ref(), &mut prepared.sources)?;
    let mut findings = std::mem::take(&mut prepared.findings);
    let old = old.and_then(|known| {
        findings.extend(known.findings);
        known.printer
    });
    let paper = measure::paper(args.paper.as_deref(), old.as_ref())?;
    findings.extend(old.as_ref().and_then(|p| p.on(&paper)));
    terminal::show(&findings, &prepared.sources);
    let Prepared { laid, mut sources, .. } = prepared;
    let Some((job, fit, layout)) = laid.filter(|_| !forbids_print(&findings)) else {
        return Ok(nothing());
    };
    let heading = Heading::new(&job, fit.as_ref(), &layout);
    let measuring = args.ruler.measuring();
    let correction = old.as_ref().map(|p| &p.correction);
    let request =
        Request { correction, measuring, ..Request::new(&layout, &heading, &paper) };
    let print = match paginate(&request) {
        Ok(set) => set,
        Err(error) => {
            let span = job.strap.width.span.clone();
            terminal::show(&[error.finding().at(span)], &sources);
            return Ok(nothing());
        }
    };
    let readings = args.readings(&print, &mut sources)?;
    let output = files::place(Some(&args.output), "printer.toml".to_owned())?;
    let to_stdout = output.as_os_str() == "-";
    let name = args.name(old.as_ref(), &output)?;
    let Calibrated { printer, findings } = printer::calibrate(&Calibration {
        print: &print,
        paper: &paper,
        readings: &readings,
        measuring,
        old: old.as_ref(),
        name: &name,
        margin: args.margin()?,
        must_fit: args.cannot_switch_off,
        must_part: args.axes_apart,
    });
    terminal::show(&findings, &sources);
    let Some(printer) = printer else {
        if forbids_print(&findings) {
            return Ok(nothing());
        }
        terminal::say("no printer file was written: none is needed");
        return Ok(Outcome::Done);
    };
    let text = printer::write(&printer);
    if to_stdout {
        terminal::put(text.as_bytes())?;
    } else {
        files::write(&output, text.as_bytes(), args.force)?;
    }
    tell(&printer, &paper, &output, to_stdout);
    Ok(Outcome::Done)
}

fn nothing() -> Outcome {
    terminal::say("no printer file was written");
    Outcome::Forbidden
}

fn tell(printer: &Printer, paper: &Paper, path: &Path, to_stdout: bool) {
    let correction = &printer.correction;
    let factors = [correction.long, correction.short];
    for (edge, factor) in paper.form().edges().into_iter().zip(factors) {
        let open = factor.proven.times(Length::from_mm(1_000)).mm(1);
        terminal::say(&format!(
            "{edge} of {}: drawings are multiplied by {}, sure to {open} mm on 1 m",
            printer.paper, factor.by
        ));
    }
    if let Some(skew) = printer.skew {
        let (degrees, within) = (skew.degrees, skew.within);
        terminal::say(&format!(
            "axes: {degrees:.2}° off square, sure to {within:.2}°; kept, not corrected"
        ));
    }
    if to_stdout {
        return;
    }
    let path = path.display();
    let way = if correction.fitted { "with the same settings" } else { "at 100 %" };
    terminal::say(&format!(
        "{path} is written. Draw with --printer {path}, print {way}, and read the bars and \
         the joined strip again: they should now be true."
    ));
}

impl Calibrate {
    /// The readings, each kept as a text of its own for findings to point at.
    fn readings(
        &self,
        print: &SheetSet,
        sources: &mut Sources,
    ) -> Result<Readings, Failure> {
        let bars = print.sheets.first().map(|s| s.bars.as_slice()).unwrap_or_default();
        let drawn = |i: usize| bars.get(i).map(|b| b.length().both());
        let (Some(wide), Some(tall)) = (&self.wide_bar, &self.tall_bar) else {
            let drawn = [drawn(0), drawn(1)].map(Option::unwrap_or_default);
            return Err(missing(print, &drawn));
        };
        let strip = match (&self.strip, print.checks.first()) {
            (Some(_), None) => {
                return Err(Failure::Usage(
                    "--strip: this job has no joins on this paper, so it has no crosses A \
                     and B; leave --strip out, or give the paper of the print"
                        .to_owned(),
                ));
            }
            (Some(text), Some(_)) => Some(said("--strip", text, sources)?),
            (None, _) => None,
        };
        let diagonals = match self.diagonals.as_deref() {
            Some([rising, falling]) => {
                Some(both("--diagonals", [rising, falling], sources)?)
            }
            _ => None,
        };
        Ok(Readings {
            wide: said("--wide-bar", wide, sources)?,
            tall: said("--tall-bar", tall, sources)?,
            strip,
            diagonals,
        })
    }

    fn name(&self, old: Option<&Printer>, output: &Path) -> Result<String, Failure> {
        let own = self.name.clone().or(old.map(|p| p.correction.printer.clone()));
        let stem = || {
            let stem = output.file_stem().filter(|s| *s != "-");
            stem.map_or("printer".to_owned(), |s| s.to_string_lossy().into_owned())
        };
        let name = own.unwrap_or_else(stem).trim().to_owned();
        if printer::is_name(&name) {
            return Ok(name);
        }
        Err(Failure::Usage(format!(
            "`{name}` cannot be written on a sheet; give --name in up to 60 Latin, Greek or \
             Cyrillic letters"
        )))
    }

    fn margin(&self) -> Result<Option<Length>, Failure> {
        let Some(text) = &self.margin else { return Ok(None) };
        printer::margin(text)
            .map(Some)
            .map_err(|e| Failure::Usage(format!("--margin: {e}")))
    }
}

fn said(
    flag: &str,
    text: &str,
    sources: &mut Sources,
) -> Result<Spanned<Length>, Failure> {
    let value =
        Length::parse(text).map_err(|e| Failure::Usage(format!("{flag}: {e}")))?;
    let source = sources.add(flag, text);
    Ok(Spanned { value, span: Some(Span { source, range: 0..text.len() }) })
}

/// Two readings that stand after one flag, each with its own place.
fn both(
    flag: &str,
    [first, second]: [&str; 2],
    sources: &mut Sources,
) -> Result<[Spanned<Length>; 2], Failure> {
    let read = |text: &str| {
        Length::parse(text).map_err(|e| Failure::Usage(format!("{flag}: {e}")))
    };
    let values = [read(first)?, read(second)?];
    let source = sources.add(flag, format!("{first}   {second}"));
    let from = first.len() + 3;
    let [a, b] = [0..first.len(), from..from + second.len()]
        .map(|range| Some(Span { source, range }));
    Ok([Spanned { value: values[0], span: a }, Spanned { value: values[1], span: b }])
}

/// What is to be read, and how much it would be on a true print.
fn missing(print: &SheetSet, [wide, tall]: &[String; 2]) -> Failure {
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
