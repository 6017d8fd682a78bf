//! `draw`: the full-scale template as a PDF, or in another format.

use super::destination::{Destination, Output};
use super::job_source::{JobArgs, JobSource};
use super::laid_out::{LaidOutJob, ShownFindings, StockSizes, served_lines};
use super::print_setup::{PrintSetupArgs, TicketArgs};
use super::workshop::WorkshopArgs;
use super::{Failure, Result, explain_forbidden, terminal};
use crate::diagnostic::shown_path;
use crate::export::{FORMATS, Format};
use crate::paginate::{Heading, Request, SheetSet};
use crate::words::Wording;
use clap::Args;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// Pixels an inch where nothing says so.
const DPI: u16 = 100;

#[derive(Args, Debug, Default)]
#[command(after_help = formats_help())]
#[expect(clippy::struct_excessive_bools, reason = "each is a flag of the command line")]
pub(super) struct Draw {
    #[command(flatten)]
    job: JobArgs,
    /// Where to write: a file, whose ending chooses the format, or a folder that exists; `-`,
    /// with --format, is standard output [default: the job's name with .pdf, in this folder]
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
    /// The format, where no ending of FILE chooses it
    #[arg(long, value_name = "NAME", value_parser = Format::named)]
    format: Option<Format>,
    #[command(flatten)]
    setup: PrintSetupArgs,
    #[command(flatten)]
    ticket: TicketArgs,
    /// Replace any file; without it, only an earlier print of this job that nobody changed
    #[arg(long)]
    force: bool,
    /// Draw each piece whole on one long sheet, for a plotter that prints from a roll
    #[arg(long, conflicts_with = "paper")]
    whole: bool,
    /// Draw the sheets in a format that has the whole strap otherwise, one file a sheet
    #[arg(long)]
    sheets: bool,
    /// Pixels an inch of a .png
    #[arg(long, value_name = "NUMBER", default_value_t = DPI)]
    #[arg(value_parser = clap::value_parser!(u16).range(10..=1200))]
    dpi: u16,
    /// Show what was drawn in the system's viewer
    #[arg(long, conflicts_with = "watch")]
    open: bool,
    /// Draw anew whenever the job, its templates of your own, a profile or the printer file is
    /// saved
    #[arg(long, requires = "job")]
    watch: bool,
    /// Draw every stock size on one strap, each with its own row of holes and its tip
    #[arg(long, conflicts_with = "size")]
    nested: bool,
}

fn formats_help() -> String {
    let line = |format: &Format| format!("  .{}  {}\n", format.extension, format.about);
    let lines: String = FORMATS.iter().map(line).collect();
    format!("Formats, by the ending of FILE:\n{lines}")
}

impl Draw {
    /// Draws a job, with all else as it is without flags.
    pub(super) fn of_job(path: &Path, workshop: &WorkshopArgs) -> Self {
        let job = JobArgs::new(path, workshop);
        Self { job, dpi: DPI, ..Self::default() }
    }

    fn output(&self) -> Output<'_> {
        let Self { format, force, .. } = *self;
        Output { path: self.output.as_deref(), format, force }
    }

    /// Shows the first file in the system's viewer, if that was asked for.
    fn open(&self, destination: &Destination, set: &SheetSet) -> Result {
        let path = destination.first_file(set).filter(|_| self.open);
        path.map_or(Ok(()), |path| {
            opener::open(&path).map_err(|e| {
                let shown = shown_path(&path);
                let why = format!("{shown} is drawn, but no viewer opens it: {e}");
                Failure::System(why)
            })
        })
    }

    /// Where the print of a job goes, and the setup of its sheets. A whole strap has no paper,
    /// no printer and no second size.
    fn destination(&self, source: &JobSource, stem: &str) -> Result<Destination> {
        let destination = Destination::new(self.output(), &source.stem, stem)?;
        let asks_sheets = self.sheets || self.whole || self.nested;
        let destination = destination.with(|format| {
            let format = if asks_sheets { format.with_sheets()? } else { format };
            Ok(format.with_dpi(self.dpi))
        })?;
        let of_sheets = [
            ("--paper", self.setup.paper.is_some()),
            ("--printer", self.setup.printer.is_some()),
        ];
        for (option, _) in of_sheets.iter().filter(|(_, is_given)| *is_given) {
            if destination.format().is_strap() {
                return Err(Failure::Usage(format!(
                    "{option} is about sheets of paper, and a .{} file has the whole strap: leave \
                     it out, or draw sheets (.pdf, or .svg with --sheets)",
                    destination.format().extension
                )));
            }
        }
        Ok(destination)
    }
}

pub(super) fn run(args: &Draw) -> Result {
    if args.watch { watch(args) } else { draw_once(args) }
}

fn draw_once(args: &Draw) -> Result {
    let result = if args.nested { draw_nested(args) } else { draw(args) };
    explain_forbidden(result, "nothing was drawn")
}

/// How often the files are looked at. A file is drawn when it is the same at two looks, so not
/// while it is being saved.
const BETWEEN_LOOKS: Duration = Duration::from_millis(250);

/// Draws at every change, until the program is ended.
fn watch(args: &Draw) -> Result {
    let look = || -> Result<Vec<(PathBuf, Option<Vec<u8>>)>> {
        let files = args.job.files()?.into_iter();
        let files = files.chain(args.setup.printer.iter().map(PathBuf::from));
        Ok(files.map(|path| (path.clone(), std::fs::read(path).ok())).collect())
    };
    let (mut drawn, mut before) = (None, look()?);
    loop {
        let now = look()?;
        if now == before && drawn.as_ref() != Some(&now) {
            match draw_once(args) {
                Err(Failure::Usage(why) | Failure::System(why)) => {
                    terminal::message(&format!("error: {why}"));
                }
                Ok(()) | Err(Failure::Forbidden) => {}
            }
            terminal::message("Waiting for the next change; Ctrl-C ends.");
            drawn = Some(now);
        } else {
            before = now;
        }
        std::thread::sleep(BETWEEN_LOOKS);
    }
}

fn draw(args: &Draw) -> Result {
    let source = args.job.read()?;
    let destination = args.destination(&source, &source.stem)?;
    let setup = args.setup.read_and_show(&source.workshop);
    let wording = args.setup.wording.wording(&source.workshop.profile);
    let mut shown = ShownFindings::default();
    let job = LaidOutJob::new(&source, args.job.size(), wording, &mut shown);
    // Both have shown their findings before either stops the command.
    let (mut setup, job) = (setup?, job?);
    if destination.format().is_strap() && setup.printer.take().is_some() {
        terminal::message("the profile's printer is left out: a whole strap is for none");
    }
    if args.whole || destination.format().is_strap() {
        setup = setup.on_whole_page(job.layout());
    }
    let is_wanted = args.ticket.is_wanted(&source.workshop.profile);
    let with_ticket = is_wanted && destination.format().has_ticket;
    let ticket = with_ticket.then(|| job.ticket());
    let request = setup.request(job.layout(), &job.heading);
    let set = job.paginate(&Request { ticket: ticket.as_ref(), ..request })?;
    terminal::show_findings(&set.findings, &job.sources);
    let mut lines = served_lines(&job.laid, wording.units);
    lines.extend(crate::ticket::assumed(&job.laid.0, wording));
    if let Some(stock) = job.laid.0.stock.as_ref().filter(|s| s.chosen.is_none()) {
        let sizes: Vec<&str> = stock.labels().collect();
        lines.push(format!(
            "drawn for measure.value; --size SIZE draws one of the stock: {}",
            sizes.join(", ")
        ));
    }
    destination.write_and_report(&set, job.layout(), &[], &setup, lines)?;
    args.open(&destination, &set)
}

fn draw_nested(args: &Draw) -> Result {
    let source = args.job.read()?;
    let mut setup = args.setup.read_and_show(&source.workshop)?;
    let stem = format!("{}-nested", source.stem);
    let destination = args.destination(&source, &stem)?;
    let sizes = StockSizes::new(&source, setup.wording, ShownFindings::default())?;
    let first = &sizes.0[0];
    let nest = sizes.nest()?;
    if args.whole {
        setup = setup.on_whole_page(&nest.layout);
    }
    let is_wanted = args.ticket.is_wanted(&source.workshop.profile);
    let with_ticket = is_wanted && destination.format().has_ticket;
    let set = sizes.paginate_nested(&nest, &setup, with_ticket)?;
    terminal::show_findings(&set.findings, &first.sources);
    // Messages are in English, whatever the language on paper is.
    let english = Wording { units: setup.wording.units, ..Wording::default() };
    let line = |size: &LaidOutJob| {
        let (job, fit, layout) = &size.laid;
        let heading = Heading::with_wording(job, fit.as_ref(), layout, english);
        format!("size {}: {}", size.label(), heading.serves)
    };
    let lines = sizes.0.iter().map(line).collect();
    destination.write_and_report(&set, &nest.layout, &nest.rows, &setup, lines)?;
    terminal::message(
        "Choose one size: punch the holes of its row, cut along its tip, and leave the \
         others alone.",
    );
    args.open(&destination, &set)
}
