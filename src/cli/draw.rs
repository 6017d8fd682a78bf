//! `draw`: the full-scale template as a PDF.

use super::measure::{self, Ruler};
use super::prepare::{girths, prepare};
use super::wording::WordingArgs;
use super::{Failure, JobArgs, Outcome, files, terminal};
use crate::diagnostic::forbids_print;
use crate::export;
use crate::paginate::{Heading, Request, paginate};
use crate::ticket::{Subject, ticket};
use clap::Args;
use std::ffi::OsString;
use std::path::PathBuf;

#[derive(Args, Debug)]
pub(super) struct Draw {
    #[command(flatten)]
    job: JobArgs,
    /// Where to write; `-` is standard output [default: the job's name with .pdf, here]
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
    /// a4, a3, letter, legal, tabloid, roll, or width x height, such as 320x450mm [default:
    /// the printer's, else a4]
    #[arg(long, value_name = "NAME")]
    paper: Option<String>,
    /// The printer file, from `calibrate`, of the printer that is not true
    #[arg(long, value_name = "FILE")]
    printer: Option<OsString>,
    #[command(flatten)]
    ruler: Ruler,
    /// Leave out the ticket, the page of words before the sheets
    #[arg(long)]
    no_ticket: bool,
    #[command(flatten)]
    wording: WordingArgs,
    /// Replace the file if it is there already
    #[arg(long)]
    force: bool,
}

pub(super) fn run(args: &Draw) -> Result<Outcome, Failure> {
    let mut prepared = prepare(&args.job)?;
    let known = measure::known(args.printer.as_ref(), &mut prepared.sources)?;
    let printer = known.and_then(|known| {
        prepared.findings.extend(known.findings);
        known.printer
    });
    let paper = measure::paper(args.paper.as_deref(), printer.as_ref())?;
    prepared.findings.extend(printer.as_ref().and_then(|p| p.on(&paper)));
    let path = args
        .output
        .clone()
        .unwrap_or_else(|| PathBuf::from(format!("{}.pdf", prepared.stem)));
    let to_stdout = path.as_os_str() == "-";
    terminal::show(&prepared.findings, &prepared.sources);
    let Some((job, fit, layout)) =
        prepared.laid.filter(|_| !forbids_print(&prepared.findings))
    else {
        terminal::say("nothing was drawn");
        return Ok(Outcome::Forbidden);
    };
    if !to_stdout {
        files::must_be_free(&path, args.force)?;
    }
    let heading = Heading::of(&job, fit.as_ref(), &layout);
    let wording = args.wording.wording();
    let subject = Subject { job: &job, fit: fit.as_ref(), layout: &layout, wording };
    let ticket = (!args.no_ticket).then(|| ticket(&subject));
    let measuring = args.ruler.measuring();
    let request = Request {
        correction: printer.as_ref().map(|p| &p.correction),
        measuring,
        ticket: ticket.as_ref(),
        ..Request::new(&layout, &heading, &paper)
    };
    let set = match paginate(&request) {
        Ok(set) => set,
        Err(error) => {
            let place = job.strap.width.place.clone();
            terminal::show(&[error.finding().at(place)], &prepared.sources);
            terminal::say("nothing was drawn");
            return Ok(Outcome::Forbidden);
        }
    };
    let bytes =
        export::pdf::pdf(&set).map_err(|e| Failure::Machine(format!("no PDF: {e}")))?;
    if to_stdout {
        terminal::put(&bytes)?;
    } else {
        files::write(&path, &bytes, args.force)?;
    }
    if let Some(fit) = &fit {
        for line in girths(&job, fit, &layout) {
            terminal::say(&line);
        }
    }
    for line in measure::checks(&set, measuring) {
        terminal::say(&line);
    }
    let sheets = set.sheets.len();
    terminal::say(&format!(
        "{sheets} sheet{} on {}, print {}: {}",
        if sheets == 1 { "" } else { "s" },
        set.paper,
        set.fingerprint,
        if to_stdout { "standard output".to_owned() } else { path.display().to_string() },
    ));
    let how = match &set.correction {
        Some(scaling) => {
            terminal::say(&format!(
                "for printer {}: {}; on any other printer it is wrong",
                scaling.printer,
                scaling.token()
            ));
            if scaling.fitted {
                "Print fitted to the page, with the settings of the calibration"
            } else {
                "Print at 100 % with no fitting to the page"
            }
        }
        None => "Print at 100 % with no fitting to the page",
    };
    terminal::say(&format!(
        "{how}, and lay a ruler on the scale bars before you cut. Knife and punch: cut away \
         from your body on a firm mat, and wear eye protection at the punch."
    ));
    Ok(Outcome::Done)
}
