//! `ticket`: what to work from, in words, on the terminal.

use super::prepare::prepare;
use super::wording::WordingArgs;
use super::{Failure, JobArgs, Outcome, terminal};
use crate::diagnostic::forbids_print;
use crate::ticket::{Subject, text, ticket};
use clap::Args;

#[derive(Args, Debug)]
pub(super) struct Ticket {
    #[command(flatten)]
    job: JobArgs,
    #[command(flatten)]
    wording: WordingArgs,
}

pub(super) fn run(args: &Ticket) -> Result<Outcome, Failure> {
    let prepared = prepare(&args.job)?;
    terminal::show(&prepared.findings, &prepared.sources);
    let Some((job, fit, layout)) =
        prepared.laid.filter(|_| !forbids_print(&prepared.findings))
    else {
        return Ok(Outcome::Forbidden);
    };
    let wording = args.wording.wording();
    let subject = Subject { job: &job, fit: fit.as_ref(), layout: &layout, wording };
    terminal::put(text(&ticket(&subject)).as_bytes())?;
    Ok(Outcome::Done)
}
