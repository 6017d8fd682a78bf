//! `draw`: the full-scale template as a PDF.

use super::onto::OntoArgs;
use super::prepare::{prepare, serves};
use super::{Failure, JobArgs, Outcome, files, measure, nested, print, terminal};
use crate::diagnostic::forbids_print;
use crate::print::sheets;
use clap::Args;
use std::path::PathBuf;

#[derive(Args, Debug)]
pub(super) struct Draw {
    #[command(flatten)]
    pub(super) job: JobArgs,
    /// Where to write: a file, or a folder that exists; `-` is standard output [default:
    /// the job's name with .pdf, in this folder]
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
    /// Draw every stock size on one strap, each with its own row of holes and its tip
    #[arg(long, conflicts_with = "size")]
    nested: bool,
}

pub(super) fn run(args: &Draw) -> Result<Outcome, Failure> {
    if args.nested {
        return nested::run(args);
    }
    let mut prepared = prepare(&args.job)?;
    let onto = args.onto.read(&mut prepared.sources, &mut prepared.findings)?;
    let path = files::place(args.output.as_deref(), format!("{}.pdf", prepared.stem))?;
    let to_stdout = path.as_os_str() == "-";
    terminal::show(&prepared.findings, &prepared.sources);
    let forbidden = forbids_print(&prepared.findings);
    let Some(laid) = prepared.laid.filter(|_| !forbidden) else {
        terminal::say("nothing was drawn");
        return Ok(Outcome::Forbidden);
    };
    if !to_stdout {
        files::must_be_free(&path, args.force)?;
    }
    let set = match sheets(&laid, &onto.print(!args.no_ticket)) {
        Ok(set) => set,
        Err(finding) => {
            terminal::show(&[*finding], &prepared.sources);
            terminal::say("nothing was drawn");
            return Ok(Outcome::Forbidden);
        }
    };
    let (job, fit, layout) = &laid;
    terminal::show(&set.findings, &prepared.sources);
    let read_back = print::write(&set, layout, &path, args.force)?;
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
    print::say(&set, &path, &read_back);
    Ok(Outcome::Done)
}
