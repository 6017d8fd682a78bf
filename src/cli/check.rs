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
    let mut text = match args.format {
        OutputFormat::Json => diagnostic::json(&findings, &sources),
        OutputFormat::Text => {
            let mut text =
                diagnostic::text(&findings, &sources, terminal::stdout_style());
            if let Some(laid) = &laid {
                let lines = served_lines(laid, Units::default());
                let assumed =
                    crate::ticket::assumed(&laid.0, crate::words::Wording::default());
                for line in lines.into_iter().chain(assumed) {
                    let _ = writeln!(text, "{line}");
                }
            }
            text + &diagnostic::summary(&findings)
        }
    };
    text.push('\n');
    terminal::write_result(text)?;
    check_allowed(&findings)
}
