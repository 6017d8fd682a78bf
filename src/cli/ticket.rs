//! `ticket`: the ticket as text on the terminal.

use super::job_source::JobArgs;
use super::laid_out::{LaidOutJob, ShownFindings, StockSizes};
use super::print_setup::PrintSetupArgs;
use super::{Result, terminal};
use crate::ticket::text;
use clap::Args;

#[derive(Args, Debug)]
pub(super) struct Ticket {
    #[command(flatten)]
    job: JobArgs,
    #[command(flatten)]
    setup: PrintSetupArgs,
    /// The ticket of every stock size, for `draw --nested`
    #[arg(long, conflicts_with = "size")]
    nested: bool,
}

pub(super) fn run(args: &Ticket) -> Result {
    let ticket = if args.nested {
        let source = args.job.read()?;
        let wording = args.setup.wording.wording(&source.workshop.profile);
        StockSizes::new(&source, wording, ShownFindings::default())?.nested_ticket()
    } else {
        Some(LaidOutJob::read(&args.job, &args.setup)?.ticket())
    };
    terminal::write_text(ticket.as_ref().map(text).unwrap_or_default())
}
