//! `ticket`: what to work from, in words, on the terminal.

use super::prepare::{prepare, source};
use super::ready::{Stop, size_range, stock};
use super::wording::WordingArgs;
use super::{Failure, JobArgs, Outcome, terminal};
use crate::diagnostic::forbids_print;
use crate::ticket::{TicketInput, nested, text, ticket};
use clap::Args;

#[derive(Args, Debug)]
pub(super) struct Ticket {
    #[command(flatten)]
    job: JobArgs,
    #[command(flatten)]
    wording: WordingArgs,
    /// The ticket of every stock size, for `draw --nested`
    #[arg(long, conflicts_with = "size")]
    nested: bool,
}

pub(super) fn run(args: &Ticket) -> Result<Outcome, Failure> {
    if args.nested {
        return match of_all_sizes(args) {
            Ok(()) => Ok(Outcome::Done),
            Err(Stop::Forbidden) => Ok(Outcome::Forbidden),
            Err(Stop::Failed(failure)) => Err(failure),
        };
    }
    let prepared = prepare(&args.job)?;
    terminal::show(&prepared.findings, &prepared.sources);
    let Some((job, fit, layout)) =
        prepared.laid.filter(|_| !forbids_print(&prepared.findings))
    else {
        return Ok(Outcome::Forbidden);
    };
    let wording = args.wording.wording();
    let input = TicketInput { job: &job, fit: fit.as_ref(), layout: &layout, wording };
    terminal::put(text(&ticket(&input)).as_bytes())?;
    Ok(Outcome::Done)
}

fn of_all_sizes(args: &Ticket) -> Result<(), Stop> {
    let sizes = stock(&source(&args.job)?, args.wording.wording())?;
    let inputs: Vec<(&str, TicketInput<'_>)> =
        sizes.iter().map(|s| (s.label(), s.input())).collect();
    let ticket = nested(&inputs, &size_range(&sizes));
    terminal::put(ticket.as_ref().map(text).unwrap_or_default().as_bytes())?;
    Ok(())
}
