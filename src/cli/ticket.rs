//! `ticket`: the ticket as text on the terminal.

use super::job_source::JobArgs;
use super::laid_out::{LaidOutJob, ShownFindings, StockSizes};
use super::wording_args::WordingArgs;
use super::{Result, terminal};
use crate::ticket::text;
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

pub(super) fn run(args: &Ticket) -> Result {
    let wording = args.wording.wording();
    let ticket = if args.nested {
        StockSizes::new(&args.job.read()?, wording, ShownFindings::default())?
            .nested_ticket()
    } else {
        Some(LaidOutJob::read(&args.job, wording)?.ticket())
    };
    terminal::write_text(ticket.as_ref().map(text).unwrap_or_default())
}
