//! `marks`: the table of marks as CSV.

use super::prepare::prepare;
use super::{Failure, JobArgs, Outcome, terminal};
use crate::diagnostic::forbids_print;
use crate::export;
use clap::Args;

#[derive(Args, Debug)]
#[command(after_help = "\
x and y are places on the flat strap, grain side up: x from the middle of the bend
toward the tip, y from the centre line. from_bend_mm is what a tape reads when it is
hooked on the outside of the bend.")]
pub(super) struct Marks {
    #[command(flatten)]
    job: JobArgs,
}

pub(super) fn run(args: &Marks) -> Result<Outcome, Failure> {
    let prepared = prepare(&args.job)?;
    terminal::show(&prepared.findings, &prepared.sources);
    let Some((_, _, layout)) =
        prepared.laid.filter(|_| !forbids_print(&prepared.findings))
    else {
        return Ok(Outcome::Forbidden);
    };
    let table = export::marks_csv::marks(&layout)
        .map_err(|e| Failure::Machine(format!("no table: {e}")))?;
    terminal::put(table.as_bytes())?;
    Ok(Outcome::Done)
}
