//! The commands, one file each.

mod batch;
mod calibrate;
mod check;
mod cut;
mod draw;
mod explain;
mod files;
mod guide;
mod loader;
mod marks;
mod measure;
mod nested;
mod onto;
mod prepare;
mod print;
mod ready;
mod reprint;
mod templates;
mod terminal;
mod ticket;
mod verify;
mod wording;

use clap::{Args, Parser, Subcommand};
use std::ffi::OsString;
use std::fmt;
use std::process::ExitCode;

/// How a command ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Outcome {
    /// Done.
    Done,
    /// Findings forbid the print.
    Forbidden,
}

/// Why a command could not do its work.
#[derive(Debug)]
enum Failure {
    /// Wrong use.
    Usage(String),
    /// Files or machine.
    Machine(String),
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Usage(text) | Self::Machine(text) => f.write_str(text),
        }
    }
}

/// Full-scale punch templates for leather straps.
///
/// You write a measurement and a few choices into a job file. You get a PDF to print at
/// 100 %, join, tape to the leather and punch through. Without a job, the program uses the
/// demo belt.
#[derive(Debug, Parser)]
#[command(
    name = "strapwright",
    version,
    max_term_width = 90,
    arg_required_else_help = true
)]
#[command(after_help = "\
First steps:
  strapwright draw                     the demo belt, as demo-belt.pdf
  strapwright templates belt           the keys of a belt, with defaults and limits
  strapwright check my-belt.toml       what is wrong with a job
  strapwright draw my-belt.toml --set measure.value=\"36 in\"
  strapwright guide                    the topics of the guide

Exit codes: 0 done, 1 findings that forbid a print, 2 wrong use, 3 files or machine.
Colours follow the terminal; NO_COLOR turns them off.")]
struct Cli {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Draw the full-scale template as a PDF
    Draw(draw::Draw),
    /// Draw all orders of a table, one order a row
    Batch(batch::Batch),
    /// Show the ticket: pieces, tape readings, tools, hardware, order of work
    Ticket(ticket::Ticket),
    /// Draw another stock size: only the sheets that differ from the last print
    Reprint(reprint::Reprint),
    /// Write the table of marks as CSV
    Marks(marks::Marks),
    /// Plan which strip or blank each piece is cut from, with the least waste
    Cut(cut::Cut),
    /// List what is wrong with a job, and which girths the strap fits
    Check(check::Check),
    /// Make a printer file from what your ruler reads on a print
    Calibrate(calibrate::Calibrate),
    /// Read a PDF back and compare every mark with the job
    Verify(verify::Verify),
    /// List the templates, or the keys of one template
    Templates(templates::Templates),
    /// Say what a rule checks, why, and where its figures come from
    Explain(explain::Explain),
    /// Show a topic of the guide, or the list of topics
    Guide(guide::Guide),
}

/// A job and what is laid over it.
#[derive(Args, Debug)]
struct JobArgs {
    /// The job file (TOML); `-` reads it from standard input [default: the demo belt]
    job: Option<OsString>,
    /// Change one value of the job, such as strap.width="38 mm"; can be given again
    #[arg(long = "set", value_name = "KEY=VALUE")]
    sets: Vec<String>,
    /// Use this stock size of the job in place of its measure, such as "34 in" or M
    #[arg(long, value_name = "SIZE")]
    size: Option<String>,
    #[command(flatten)]
    loader: loader::TemplateArgs,
}

/// Runs the program with its arguments, the program's own name first.
pub fn run(args: impl IntoIterator<Item = OsString>) -> ExitCode {
    let cli = match Cli::try_parse_from(args) {
        Ok(cli) => cli,
        Err(error) => {
            let code = if error.use_stderr() { 2 } else { 0 };
            let shown = error.print();
            return ExitCode::from(if shown.is_ok() { code } else { 3 });
        }
    };
    let done = match cli.command {
        Command::Draw(args) => draw::run(&args),
        Command::Batch(args) => batch::run(&args),
        Command::Ticket(args) => ticket::run(&args),
        Command::Reprint(args) => reprint::run(&args),
        Command::Marks(args) => marks::run(&args),
        Command::Cut(args) => cut::run(&args),
        Command::Check(args) => check::run(&args),
        Command::Calibrate(args) => calibrate::run(&args),
        Command::Verify(args) => verify::run(&args),
        Command::Templates(args) => templates::run(&args),
        Command::Explain(args) => explain::run(&args),
        Command::Guide(args) => guide::run(&args),
    };
    match done {
        Ok(Outcome::Done) => ExitCode::SUCCESS,
        Ok(Outcome::Forbidden) => ExitCode::from(1),
        Err(failure) => {
            terminal::say(&format!("error: {failure}"));
            ExitCode::from(match failure {
                Failure::Usage(_) => 2,
                Failure::Machine(_) => 3,
            })
        }
    }
}
