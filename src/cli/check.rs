//! `check`: findings only.

use super::prepare::{prepare, serves};
use super::{Failure, JobArgs, Outcome, terminal};
use crate::diagnostic::{self, Style, forbids_print};
use crate::words::Units;
use clap::{Args, ValueEnum};
use std::fmt::Write as _;

#[derive(Args, Debug)]
pub(super) struct Check {
    #[command(flatten)]
    job: JobArgs,
    /// Text for people, or JSON for scripts
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
pub(super) enum Format {
    Text,
    Json,
}

pub(super) fn run(args: &Check) -> Result<Outcome, Failure> {
    let prepared = prepare(&args.job)?;
    let text = match args.format {
        Format::Json => diagnostic::json(&prepared.findings, &prepared.sources) + "\n",
        Format::Text => {
            let style = match anstream::AutoStream::choice(&std::io::stdout()) {
                anstream::ColorChoice::Never => Style::Plain,
                _ => Style::Coloured,
            };
            let mut text = diagnostic::text(&prepared.findings, &prepared.sources, style);
            if let Some((job, fit, layout)) = &prepared.laid {
                for line in serves(job, fit.as_ref(), layout, Units::default()) {
                    let _ = writeln!(text, "{line}");
                }
            }
            text + &diagnostic::summary(&prepared.findings) + "\n"
        }
    };
    terminal::put(text.as_bytes())?;
    let forbidden = forbids_print(&prepared.findings);
    Ok(if forbidden { Outcome::Forbidden } else { Outcome::Done })
}
