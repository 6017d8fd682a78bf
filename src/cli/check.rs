//! `check`: the findings of a job, without a print.

use super::job_source::JobArgs;
use super::laid_out::served_lines;
use super::terminal::{self, OutputFormat};
use super::{Result, check_allowed};
use crate::diagnostic;
use crate::words::Units;
use clap::Args;
use std::fmt::Write as _;

#[derive(Args, Debug)]
pub(super) struct Check {
    #[command(flatten)]
    job: JobArgs,
    /// Text for people, or JSON for scripts
    #[arg(long, value_enum, default_value_t = OutputFormat::Text)]
    format: OutputFormat,
}

pub(super) fn run(args: &Check) -> Result {
    let (source, size) = (args.job.read()?, args.job.size());
    let crate::Prepared { sources, findings, laid } = source.prepare(size);
    match args.format {
        OutputFormat::Json => {
            terminal::write_json(&(diagnostic::json(&findings, &sources) + "\n"))?;
        }
        OutputFormat::Text => {
            terminal::write_findings(&findings, &sources)?;
            let mut text = String::new();
            if let Some(laid) = &laid {
                let lines = served_lines(laid, Units::default());
                let assumed =
                    crate::ticket::assumed(&laid.0, crate::words::Wording::default());
                for line in lines.into_iter().chain(assumed) {
                    let _ = writeln!(text, "{line}");
                }
            }
            terminal::write_text(text + &diagnostic::summary(&findings) + "\n")?;
        }
    }
    check_allowed(&findings)
}
