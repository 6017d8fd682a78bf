//! `draw`: the full-scale template as a PDF, or in another format.

use super::onto::OntoArgs;
use super::prepare::{prepare, serves};
use super::print::{self, Target};
use super::{Failure, JobArgs, Outcome, measure, nested, terminal};
use crate::diagnostic::forbids_print;
use crate::export::Format;
use crate::print::paginate_job;
use clap::Args;
use std::path::PathBuf;

#[derive(Args, Debug)]
#[command(after_help = formats())]
#[expect(clippy::struct_excessive_bools, reason = "each is a flag of the command line")]
pub(super) struct Draw {
    #[command(flatten)]
    pub(super) job: JobArgs,
    /// Where to write: a file, whose ending names the format, or a folder that exists; `-` is
    /// standard output [default: the job's name with .pdf, in this folder]
    #[arg(short, long, value_name = "FILE")]
    pub(super) output: Option<PathBuf>,
    #[command(flatten)]
    pub(super) onto: OntoArgs,
    /// Leave out the ticket, the page of words before the sheets
    #[arg(long)]
    pub(super) no_ticket: bool,
    /// Replace the file if it exists
    #[arg(long)]
    pub(super) force: bool,
    /// Draw each piece whole on one long sheet, for a plotter or a cutter
    #[arg(long, conflicts_with = "paper")]
    pub(super) whole: bool,
    /// Draw every stock size on one strap, each with its own row of holes and its tip
    #[arg(long, conflicts_with = "size")]
    nested: bool,
}

/// The formats, as the help says them.
fn formats() -> String {
    let line = |format: Format| format!("  .{}  {}\n", format.extension, format.about);
    let lines: String = Format::drawings().map(line).collect();
    format!("Formats, by the ending of FILE:\n{lines}")
}

pub(super) fn run(args: &Draw) -> Result<Outcome, Failure> {
    if args.nested {
        return nested::run(args);
    }
    let mut prepared = prepare(&args.job)?;
    let onto = args.onto.read(&mut prepared.sources, &mut prepared.findings)?;
    let target = Target::new(args.output.as_deref(), &prepared.stem, args.force)?;
    terminal::show(&prepared.findings, &prepared.sources);
    let forbidden = forbids_print(&prepared.findings);
    let Some(laid) = prepared.laid.filter(|_| !forbidden) else {
        terminal::say("nothing was drawn");
        return Ok(Outcome::Forbidden);
    };
    let onto = if args.whole { onto.on_whole(&laid.2) } else { onto };
    let with_ticket = !args.no_ticket && target.takes_ticket();
    let set = match paginate_job(&laid, &onto.print_options(with_ticket)) {
        Ok(set) => set,
        Err(finding) => {
            terminal::show(&[*finding], &prepared.sources);
            terminal::say("nothing was drawn");
            return Ok(Outcome::Forbidden);
        }
    };
    let (job, fit, layout) = &laid;
    terminal::show(&set.findings, &prepared.sources);
    target.must_be_free(&set)?;
    let read_back = target.write(&set, layout, &[])?;
    for line in serves(job, fit.as_ref(), layout, onto.wording.units) {
        terminal::say(&line);
    }
    if let Some(stock) = job.stock.as_ref().filter(|s| s.chosen.is_none()) {
        let sizes: Vec<&str> = stock.labels().collect();
        terminal::say(&format!(
            "drawn for measure.value; --size SIZE draws one of the stock: {}",
            sizes.join(", ")
        ));
    }
    for line in measure::checks(&set, onto.measuring, onto.wording.units) {
        terminal::say(&line);
    }
    print::say(&set, &target, &read_back);
    Ok(Outcome::Done)
}
