//! `cut`: which strip or blank every piece is cut from.

use super::loader::TemplateArgs;
use super::prepare::{Prepared, prepare};
use super::{Failure, JobArgs, Outcome, files, terminal};
use crate::cutting::{self, Allowances, Cut as Piece, LONGEST};
use crate::diagnostic::{Sources, Span, forbids_print};
use crate::export;
use crate::geom::Length;
use clap::{Args, ValueEnum};
use std::ffi::OsString;

#[derive(Args, Debug)]
#[command(after_help = "\
The list of strips is a CSV table with the columns name,length,width,thickness,count, or
TOML with an entry [[strip]] for each. The column kind, or the heading of the entry, says
whether it is a strip, a blank (buckle end punched) or a cut-blank (tip cut too). Every
length has its unit: 1.5 m, 38 mm, 1 1/2 in.

The plan opens the least leather, then the fewest strips, and then leaves the longest
offcut in one piece.")]
pub(super) struct Cut {
    /// Job files (TOML), each one strap; `-` reads one from standard input [default: the
    /// demo belt]
    #[arg(value_name = "JOB")]
    jobs: Vec<OsString>,
    /// The list of your strips (CSV or TOML); `-` reads it from standard input
    #[arg(long, value_name = "FILE")]
    stock: OsString,
    /// Change one value of every job, such as strap.width="38 mm"; can be given again
    #[arg(long = "set", value_name = "KEY=VALUE")]
    sets: Vec<String>,
    #[command(flatten)]
    loader: TemplateArgs,
    /// A table for people, or CSV for a spreadsheet
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
    #[command(flatten)]
    allowances: AllowanceArgs,
}

/// How pieces may be cut.
#[derive(Args, Clone, Copy, Debug)]
pub(super) struct AllowanceArgs {
    /// Leather lost between two pieces on a strip
    #[arg(long, value_name = "LENGTH", default_value = "1 mm", value_parser = length)]
    between: Length,
    /// Leather lost at each end of a strip
    #[arg(long, value_name = "LENGTH", default_value = "5 mm", value_parser = length)]
    ends: Length,
    /// How far the width of a strip may differ from that of the piece
    #[arg(long, value_name = "LENGTH", default_value = "0.5 mm", value_parser = length)]
    width_allowance: Length,
    /// How far the thickness of a strip may differ from that of the piece
    #[arg(long, value_name = "LENGTH", default_value = "0.3 mm", value_parser = length)]
    thickness_allowance: Length,
    /// Let wider strips be ripped into lanes as wide as the pieces, side by side
    #[arg(long)]
    rip: bool,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum Format {
    Text,
    Csv,
}

impl AllowanceArgs {
    pub(super) fn allowances(self) -> Allowances {
        Allowances {
            between: self.between,
            ends: self.ends,
            width: self.width_allowance,
            thickness: self.thickness_allowance,
            rip: self.rip,
        }
    }
}

fn length(text: &str) -> Result<Length, String> {
    let length = Length::parse(text).map_err(|e| e.to_string())?;
    if length < Length::ZERO || length > LONGEST {
        return Err(format!("{} is not between 0 mm and 1 km", length.both()));
    }
    Ok(length)
}

pub(super) fn run(args: &Cut) -> Result<Outcome, Failure> {
    let piped = args.jobs.iter().chain([&args.stock]).filter(|path| *path == "-");
    if piped.count() > 1 {
        return Err(Failure::Usage(
            "only one input can come from standard input: give files for the others"
                .to_owned(),
        ));
    }
    let list = files::read(&args.stock)?;
    let mut reading = cutting::read(&list.name, &list.text);
    let mut forbidden = forbids_print(&reading.findings);
    terminal::show(&reading.findings, &reading.sources);
    let mut pieces = Vec::new();
    for job in jobs(args) {
        let Prepared { sources, findings, laid, .. } = prepare(&job)?;
        terminal::show(&findings, &sources);
        forbidden |= forbids_print(&findings);
        let Some((job, _, layout)) = laid else { continue };
        let title = job.title.value.trim();
        let order = match job.wearer.value.trim() {
            "" => title.to_owned(),
            wearer => format!("{title} for {wearer}"),
        };
        let own = cutting::cuts(&order, &job, &layout);
        pieces.extend(placed(own, sources, &mut reading.sources));
    }
    if forbidden {
        terminal::say("nothing was planned");
        return Ok(Outcome::Forbidden);
    }
    let allowances = args.allowances.allowances();
    let plan = match cutting::plan(&pieces, &reading.stock, &allowances) {
        Ok(plan) => plan,
        Err(findings) => {
            terminal::show(&findings, &reading.sources);
            terminal::say("nothing was planned");
            return Ok(Outcome::Forbidden);
        }
    };
    terminal::show(&plan.findings, &reading.sources);
    let lacks = forbids_print(&plan.findings);
    // A table lists what lacks leather; in words the findings have said it.
    if lacks && plan.strips.is_empty() && matches!(args.format, Format::Text) {
        terminal::say("nothing was planned");
        return Ok(Outcome::Forbidden);
    }
    let text = match args.format {
        Format::Text => cutting::text(&plan, &pieces),
        Format::Csv => export::cuts_csv::cuts(&plan, &pieces)
            .map_err(|e| Failure::Machine(format!("no table: {e}")))?,
    };
    terminal::put(text.as_bytes())?;
    if lacks {
        let (n, all) = (plan.lacking.len(), pieces.len());
        terminal::say(&format!("no strip is left for {n} of {all} pieces"));
        return Ok(Outcome::Forbidden);
    }
    Ok(Outcome::Done)
}

fn jobs(args: &Cut) -> Vec<JobArgs> {
    let (sets, loader) = (&args.sets, &args.loader);
    let one = |job: Option<OsString>| JobArgs {
        job,
        sets: sets.clone(),
        size: None,
        loader: loader.clone(),
    };
    if args.jobs.is_empty() {
        return vec![one(None)];
    }
    args.jobs.iter().cloned().map(|job| one(Some(job))).collect()
}

/// The pieces with places in the texts of all jobs together.
fn placed(pieces: Vec<Piece>, own: Sources, all: &mut Sources) -> Vec<Piece> {
    let before = all.join(own);
    let moved = |span: Span| Span { source: span.source + before, ..span };
    pieces.into_iter().map(|p| Piece { span: p.span.map(moved), ..p }).collect()
}
