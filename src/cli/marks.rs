//! `marks`: the table of marks as CSV.

use super::job_source::JobArgs;
use super::laid_out::LaidOutJob;
use super::print_setup::PrintSetupArgs;
use super::{Result, terminal};
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
    #[command(flatten)]
    setup: PrintSetupArgs,
}

pub(super) fn run(args: &Marks) -> Result {
    let job = LaidOutJob::read(&args.job, &args.setup)?;
    let table = export::marks_csv::marks(job.layout());
    terminal::write_file(table.as_bytes())
}
