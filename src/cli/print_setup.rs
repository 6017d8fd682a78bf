//! What a print is made for: the paper, the printer, the ruler that checks it, and the units
//! and language of its words.

use super::ruler::RulerArgs;
use super::terminal::show_findings;
use super::wording_args::WordingArgs;
use super::workshop::Workshop;
use super::{Result, check_allowed, files};
use crate::diagnostic::{Finding, Sources};
use crate::fit::MeasurementUncertainty;
use crate::layout::Layout;
use crate::paginate::{Correction, Heading, Paper, Request};
use crate::print::PrintOptions;
use crate::printer::{self, Printer};
use crate::profile::Profile;
use crate::words::Wording;
use clap::Args;
use std::ffi::OsString;
use std::path::PathBuf;

#[derive(Args, Clone, Debug, Default)]
pub(super) struct PrintSetupArgs {
    /// a4, a3, letter, legal, tabloid, roll, or width x height such as 320x450mm [default:
    /// that of the profile, else of --printer, else a4]
    #[arg(long, value_name = "NAME", allow_hyphen_values = true, value_parser = Paper::parse)]
    pub(super) paper: Option<Paper>,
    /// The printer file from `calibrate`, to correct the errors of your printer [default: that
    /// of the profile]
    #[arg(long, value_name = "FILE")]
    pub(super) printer: Option<OsString>,
    #[command(flatten)]
    pub(super) ruler: RulerArgs,
    #[command(flatten)]
    pub(super) wording: WordingArgs,
}

/// Whether a print has its ticket.
#[derive(Args, Clone, Copy, Debug, Default)]
pub(super) struct TicketArgs {
    /// Leave out the ticket, the page of words before the sheets
    #[arg(long, overrides_with = "ticket")]
    no_ticket: bool,
    /// Print the ticket, also where the profile leaves it out
    #[arg(long)]
    ticket: bool,
}

impl TicketArgs {
    /// The flag that says so.
    pub(super) fn flag(self) -> Option<&'static str> {
        let without = self.no_ticket.then_some("--no-ticket");
        if self.ticket { Some("--ticket") } else { without }
    }

    /// As the flags say, else as the profile says.
    pub(super) fn is_wanted(self, profile: &Profile) -> bool {
        let own = profile.ticket.as_ref().is_none_or(|given| given.value);
        self.ticket || own && !self.no_ticket
    }
}

/// The values that [`PrintSetupArgs`] stand for.
#[derive(Clone, Debug)]
pub(super) struct PrintSetup {
    pub(super) paper: Paper,
    pub(super) printer: Option<Printer>,
    pub(super) measuring: MeasurementUncertainty,
    pub(super) wording: Wording,
}

impl PrintSetupArgs {
    /// Reads the printer file; what no flag gives is as in the profile. The findings are those
    /// of the file, and whether it is for this paper.
    ///
    /// # Errors
    /// When the file cannot be read or names an unknown paper.
    pub(super) fn read(
        &self,
        workshop: &Workshop,
    ) -> Result<(PrintSetup, Vec<Finding>, Sources)> {
        let profile = &workshop.profile;
        let (mut sources, mut findings, mut printer) = Default::default();
        let own = workshop.printer().map(PathBuf::into_os_string);
        if let Some(path) = self.printer.clone().or(own) {
            let files::Text { name, text } = files::read(&path)?;
            let parsed = printer::read(&mut sources, &name, &text);
            (printer, findings) = (parsed.printer, parsed.findings);
        }
        let own = profile.paper.as_ref().map(|given| &given.value);
        let paper = match (self.paper.as_ref().or(own), &printer) {
            (Some(paper), _) => paper.clone(),
            (None, printer) => parse_paper(printer.as_ref().map_or("a4", |p| &p.paper))?,
        };
        findings.extend(printer.as_ref().and_then(|p: &Printer| p.on(&paper)));
        let measuring = self.ruler.measuring(MeasurementUncertainty::default());
        let wording = self.wording.wording(profile);
        let setup = PrintSetup { paper, printer, measuring, wording };
        Ok((setup.claiming(), findings, sources))
    }

    /// The same; shows the findings.
    ///
    /// # Errors
    /// Those of [`read`](Self::read), and when findings forbid the print.
    pub(super) fn read_and_show(&self, workshop: &Workshop) -> Result<PrintSetup> {
        let (setup, findings, sources) = self.read(workshop)?;
        show_findings(&findings, &sources);
        check_allowed(&findings)?;
        Ok(setup)
    }
}

impl PrintSetup {
    /// What undoes the printer's error.
    pub(super) fn correction(&self) -> Option<&Correction> {
        self.printer.as_ref().map(|p| &p.correction)
    }

    pub(super) fn request<'a>(
        &'a self,
        layout: &'a Layout,
        heading: &'a Heading,
    ) -> Request<'a> {
        Request {
            correction: self.correction(),
            measuring: self.measuring,
            ..Request::new(layout, heading, &self.paper)
        }
    }

    pub(super) fn print_options(&self, with_ticket: bool) -> PrintOptions<'_> {
        PrintOptions {
            paper: &self.paper,
            correction: self.correction(),
            measuring: self.measuring,
            wording: self.wording,
            with_ticket,
        }
    }

    /// The same on one page that takes all of `layout`.
    pub(super) fn on_whole_page(self, layout: &Layout) -> Self {
        Self { paper: Paper::whole(layout, self.correction()), ..self }
    }

    /// The same on another paper.
    ///
    /// # Errors
    /// When there is no paper of that name.
    pub(super) fn on_paper(&self, name: &str) -> Result<Self> {
        Ok(Self { paper: parse_paper(name)?, ..self.clone() }.claiming())
    }

    /// The same, without claims by the printer file on another paper than its own.
    fn claiming(self) -> Self {
        let is_other = |p: &Printer| p.on(&self.paper).is_some();
        let printer = self.printer.map(|p| if is_other(&p) { p.unproven() } else { p });
        Self { printer, ..self }
    }

    /// Shows what is wrong with this printer on this paper.
    ///
    /// # Errors
    /// When that forbids the print.
    pub(super) fn check_printer(&self) -> Result {
        let findings: Vec<Finding> =
            self.printer.iter().filter_map(|p| p.on(&self.paper)).collect();
        show_findings(&findings, &Sources::default());
        check_allowed(&findings)
    }
}

fn parse_paper(name: &str) -> Result<Paper> {
    Paper::parse(name).map_err(super::Failure::Usage)
}
