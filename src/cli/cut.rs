//! `cut`: which strip or blank each piece is cut from.

use super::complete::sizes;
use super::job_source::{JobSource, Size};
use super::terminal::{self, show_findings};
use super::wording_args::UnitsArg;
use super::workshop::WorkshopArgs;
use super::{Failure, Result, check_allowed, explain_forbidden, files};
use crate::Prepared;
use crate::cutting::{self, Allowances, Cut as Piece, LONGEST, ParsedStock, Plan};
use crate::diagnostic::{Sources, Span, forbids_print};
use crate::export;
use crate::geom::Length;
use crate::words::Wording;
use clap::{Args, ValueEnum, ValueHint};
use clap_complete::engine::ArgValueCandidates;
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
    #[arg(value_name = "JOB", value_hint = ValueHint::FilePath)]
    jobs: Vec<OsString>,
    /// The list of your strips (CSV or TOML); `-` reads it from standard input
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    stock: OsString,
    /// Change one value of every job, such as strap.width="38 mm"; can be given again
    #[arg(long = "set", value_name = "KEY=VALUE")]
    sets: Vec<String>,
    /// Use this stock size of every job instead of its measure, such as "34 in" or M
    #[arg(long, value_name = "SIZE", add = ArgValueCandidates::new(sizes))]
    size: Option<String>,
    #[command(flatten)]
    units: UnitsArg,
    #[command(flatten)]
    workshop: WorkshopArgs,
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
    #[arg(long, value_name = "LENGTH", default_value = "1 mm", value_parser = parse_length)]
    between: Length,
    /// Leather lost at each end of a strip
    #[arg(long, value_name = "LENGTH", default_value = "5 mm", value_parser = parse_length)]
    ends: Length,
    /// How far the width of a strip may differ from that of the piece
    #[arg(long, value_name = "LENGTH", default_value = "0.5 mm", value_parser = parse_length)]
    width_allowance: Length,
    /// How far the thickness of a strip may differ from that of the piece
    #[arg(long, value_name = "LENGTH", default_value = "0.3 mm", value_parser = parse_length)]
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

fn parse_length(text: &str) -> std::result::Result<Length, String> {
    let length = Length::parse(text).map_err(|e| e.to_string())?;
    if length < Length::ZERO || length > LONGEST {
        return Err(format!("{} is not between 0 mm and 1 km", length.both()));
    }
    Ok(length)
}

pub(super) fn run(args: &Cut) -> Result {
    files::check_one_stdin(args.jobs.iter().chain([&args.stock]))?;
    let list = files::read(&args.stock)?;
    let mut stock = cutting::read(&list.name, &list.text);
    show_findings(&stock.findings, &stock.sources);
    let mut is_forbidden = forbids_print(&stock.findings);
    let (mut pieces, mut wording) = (Vec::new(), Wording::default());
    let jobs = args.jobs.iter().map(|job| Some(job.as_os_str()));
    for job in jobs.chain(args.jobs.is_empty().then_some(None)) {
        let source = JobSource::read(job, &args.sets, &args.workshop)?;
        wording = args.units.wording(&source.workshop.profile);
        let Prepared { sources, findings, laid } =
            source.prepare(args.size.as_deref().map(Size::from_option));
        show_findings(&findings, &sources);
        is_forbidden |= forbids_print(&findings);
        let Some((job, _, layout)) = laid else { continue };
        let title = job.title.value.trim();
        let order = match job.wearer.value.trim() {
            "" => title.to_owned(),
            wearer => format!("{title} for {wearer}"),
        };
        let cuts = cutting::cuts(&order, &job, &layout);
        pieces.extend(join_sources(cuts, sources, &mut stock.sources));
    }
    let plan =
        if is_forbidden { Err(Failure::Forbidden) } else { plan(args, &pieces, &stock) };
    let plan = plan.inspect_err(|_| terminal::message("nothing was planned"))?;
    let text = match args.format {
        Format::Text => cutting::text(&plan, &pieces, wording),
        Format::Csv => export::cuts_csv::cuts(&plan, &pieces),
    };
    terminal::write_text(text)?;
    let (lacking, all) = (plan.lacking.len(), pieces.len());
    let consequence = format!("no strip is left for {lacking} of {all} pieces");
    explain_forbidden(check_allowed(&plan.findings), &consequence)
}

/// Plans the cutting; shows the findings.
fn plan(args: &Cut, pieces: &[Piece], stock: &ParsedStock) -> Result<Plan> {
    let result = cutting::plan(pieces, &stock.stock, &args.allowances.allowances());
    let findings = result.as_ref().map_or_else(|e| e, |plan| &plan.findings);
    show_findings(findings, &stock.sources);
    let plan = result.map_err(|_| Failure::Forbidden)?;
    // CSV lists the pieces without leather too; as text, the findings have named them.
    if plan.strips.is_empty() && matches!(args.format, Format::Text) {
        check_allowed(&plan.findings)?;
    }
    Ok(plan)
}

/// Adds the texts of one job to those of all, and lets its pieces point there.
fn join_sources(pieces: Vec<Piece>, own: Sources, all: &mut Sources) -> Vec<Piece> {
    let before = all.join(own);
    let moved = |span: Span| Span { source: span.source + before, ..span };
    pieces.into_iter().map(|p| Piece { span: p.span.map(moved), ..p }).collect()
}
