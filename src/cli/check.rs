//! `check`: the findings of a job, without a print.

use super::job_source::JobArgs;
use super::laid_out::served_lines;
use super::print_setup::PrintSetupArgs;
use super::terminal::{self, OutputFormat};
use super::{Result, check_allowed};
use crate::diagnostic::{self, forbids_print};
use crate::paginate::{Heading, paginate};
use crate::words::Wording;
use clap::Args;
use std::fmt::Write as _;

#[derive(Args, Debug)]
pub(super) struct Check {
    #[command(flatten)]
    job: JobArgs,
    #[command(flatten)]
    setup: PrintSetupArgs,
    /// Text for people, or JSON for scripts
    #[arg(long, value_enum, default_value_t = OutputFormat::Text)]
    format: OutputFormat,
}

pub(super) fn run(args: &Check) -> Result {
    let (source, size) = (args.job.read()?, args.job.size());
    let setup = args.setup.read_and_show(&source.workshop)?;
    let crate::Prepared { sources, mut findings, laid } = source.prepare(size);
    if let Some((job, fit, layout)) = laid.as_ref().filter(|_| !forbids_print(&findings))
    {
        let heading = Heading::with_wording(job, fit.as_ref(), layout, setup.wording);
        findings.extend(match paginate(&setup.request(layout, &heading)) {
            Ok(set) => set.findings,
            Err(error) => vec![error.finding().at(job.strap.width.span.clone())],
        });
    }
    match args.format {
        OutputFormat::Json => {
            terminal::write_json(&(diagnostic::json(&findings, &sources) + "\n"))?;
        }
        OutputFormat::Text => {
            terminal::write_findings(&findings, &sources)?;
            let mut text = String::new();
            if let Some(laid) = &laid {
                let lines = served_lines(laid, setup.wording.units);
                let english =
                    Wording { units: setup.wording.units, ..Wording::default() };
                let assumed = crate::ticket::assumed(&laid.0, english);
                for line in lines.into_iter().chain(assumed) {
                    let _ = writeln!(text, "{line}");
                }
            }
            terminal::write_text(text + &diagnostic::summary(&findings) + "\n")?;
        }
    }
    check_allowed(&findings)
}
