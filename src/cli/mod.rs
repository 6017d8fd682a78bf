//! The commands, one file each.

mod batch;
mod calibrate;
mod check;
mod complete;
mod cut;
mod destination;
mod draw;
mod explain;
mod guide;
mod job_source;
mod laid_out;
mod marks;
mod new;
#[cfg(feature = "page")]
mod page;
mod print_setup;
mod profile;
mod readings;
mod reprint;
mod ruler;
mod schema;
mod shell;
mod templates;
mod terminal;
mod ticket;
mod verify;
mod wording_args;
mod workshop;

use crate::diagnostic::{Finding, forbids_print};
use crate::disk::{Failure, Result, draft, files, template_loader, today};
use clap::{Parser, Subcommand};
use std::ffi::OsString;
use std::process::ExitCode;

/// Stops a command whose findings, which are shown already, forbid its work.
fn check_allowed(findings: &[Finding]) -> Result {
    if forbids_print(findings) { Err(Failure::Forbidden) } else { Ok(()) }
}

/// Says `consequence` where findings forbid the work of a command.
fn explain_forbidden<T>(result: Result<T>, consequence: &str) -> Result<T> {
    if let Err(Failure::Forbidden) = result {
        terminal::message(consequence);
    }
    result
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
  strapwright new belt                 your own belt, asked step by step
  strapwright templates belt           the keys of a belt, with defaults and limits
  strapwright check my-belt.toml       what is wrong with a job
  strapwright draw my-belt.toml --set measure.value=\"36 in\"
  strapwright guide                    the topics of the guide

Exit codes: 0 done, 1 findings that forbid a print, 2 wrong use, 3 files or system.
Colours follow the terminal; NO_COLOR turns them off.")]
struct Cli {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Ask what must be measured for a strap; write its job and its print
    New(new::New),
    /// Draw the full-scale template as a PDF
    Draw(draw::Draw),
    /// Draw all orders of a table, one order a row
    Batch(batch::Batch),
    /// Show the ticket: pieces, tape readings, tools, hardware, order of work
    Ticket(ticket::Ticket),
    /// Draw only the sheets that differ from the last print: of a changed job, or another size
    Reprint(reprint::Reprint),
    /// Write the table of marks as CSV
    Marks(marks::Marks),
    /// Plan which strip or blank each piece is cut from, with the least waste
    Cut(cut::Cut),
    /// List what is wrong with a job, and which girths the strap fits
    Check(check::Check),
    /// Say whether to punch by a print, from what your ruler reads on it; correct the printer
    Calibrate(calibrate::Calibrate),
    /// Show what is in force here, and which flag or line of your profile says so
    Profile(profile::Show),
    /// Check what a printer would print of a PDF, against the job
    Verify(verify::Verify),
    /// List the templates, or the keys of one template
    Templates(templates::Templates),
    /// Write the JSON Schema of the job language, with which editors check a job
    Schema(schema::Schema),
    /// Do the whole job on a page in a browser
    #[cfg(feature = "page")]
    Page(page::Page),
    /// Say what a rule checks, why, and where its figures come from
    Explain(explain::Explain),
    /// Show a topic of the guide, or the list of topics
    Guide(guide::Guide),
    /// Write what a shell needs to complete commands, names and sizes
    Completions(shell::Completions),
    /// Write the man page of the program or of a command
    Man(shell::Man),
}

/// Runs the program with its arguments, the program's own name first.
pub fn run(args: impl IntoIterator<Item = OsString>) -> ExitCode {
    let args: Vec<OsString> = args.into_iter().collect();
    let parsed = match complete::answer(&args) {
        Ok(true) => return ExitCode::SUCCESS,
        Ok(false) => Cli::try_parse_from(args),
        Err(error) => Err(error),
    };
    let cli = match parsed {
        Ok(cli) => cli,
        Err(error) => {
            if error.use_stderr() {
                // It repeats words of the command line.
                terminal::message(error.render().to_string().trim_end());
                return ExitCode::from(2);
            }
            return ExitCode::from(if error.print().is_ok() { 0 } else { 3 });
        }
    };
    let result = match cli.command {
        Command::New(args) => new::run(&args),
        Command::Draw(args) => draw::run(&args),
        Command::Batch(args) => batch::run(&args),
        Command::Ticket(args) => ticket::run(&args),
        Command::Reprint(args) => reprint::run(&args),
        Command::Marks(args) => marks::run(&args),
        Command::Cut(args) => cut::run(&args),
        Command::Check(args) => check::run(&args),
        Command::Calibrate(args) => calibrate::run(&args),
        Command::Profile(args) => profile::run(&args),
        Command::Verify(args) => verify::run(&args),
        Command::Templates(args) => templates::run(&args),
        Command::Schema(args) => schema::run(&args),
        #[cfg(feature = "page")]
        Command::Page(args) => page::run(&args),
        Command::Explain(args) => explain::run(&args),
        Command::Guide(args) => guide::run(&args),
        Command::Completions(args) => shell::completions(&args),
        Command::Man(args) => shell::man(&args),
    };
    let Err(failure) = result else { return ExitCode::SUCCESS };
    let code = match failure {
        Failure::Forbidden => return ExitCode::from(1),
        Failure::Usage(_) => 2,
        Failure::System(_) => 3,
    };
    terminal::message(&format!("error: {failure}"));
    ExitCode::from(code)
}
