//! What a print is made for: the paper, the printer, the ruler that checks it, and the units
//! and language of its words.

use super::complete::papers;
use super::ruler::RulerArgs;
use super::terminal::show_findings;
use super::wording_args::WordingArgs;
use super::workshop::Workshop;
use super::{Result, check_allowed, files};
use crate::diagnostic::{Finding, Sources};
use crate::fit::MeasurementUncertainty;
use crate::paginate::Paper;
use crate::print::PrintSetup;
use crate::printer;
use crate::profile::Profile;
use clap::{Args, ValueHint};
use clap_complete::engine::ArgValueCandidates;
use std::ffi::OsString;
use std::path::PathBuf;

#[derive(Args, Clone, Debug, Default)]
pub(super) struct PrintSetupArgs {
    /// a4, a3, letter, legal, tabloid, roll, or width x height such as 320x450mm [default:
    /// that of the profile, else of --printer, else a4]
    #[arg(long, value_name = "NAME", allow_hyphen_values = true, value_parser = Paper::parse)]
    #[arg(add = ArgValueCandidates::new(papers))]
    pub(super) paper: Option<Paper>,
    /// The printer file from `calibrate`, to correct the errors of your printer [default: that
    /// of the profile]
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
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
        self.ticket || profile.has_ticket() && !self.no_ticket
    }
}

impl PrintSetupArgs {
    /// Reads the printer file; what no flag gives is as in the profile. The findings are those
    /// of the file, and whether it is for this paper.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub(super) fn read(
        &self,
        workshop: &Workshop,
    ) -> Result<(PrintSetup, Vec<Finding>, Sources)> {
        let profile = &workshop.profile;
        let (mut sources, mut findings, mut printer) = Default::default();
        let own = workshop.printer().map(PathBuf::into_os_string);
        if let Some(path) = self.printer.clone().or(own) {
            let file = files::read(&path)?;
            let parsed = printer::read(&mut sources, &file.name, &file.text);
            (printer, findings) = (parsed.printer, parsed.findings);
        }
        let own = || profile.paper.as_ref().map(|given| given.value.clone());
        let paper = self.paper.clone().or_else(own);
        let measuring = self.ruler.measuring(MeasurementUncertainty::default());
        let wording = self.wording.wording(profile);
        let (setup, finding) = PrintSetup::new(paper, printer, measuring, wording);
        findings.extend(finding);
        Ok((setup, findings, sources))
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

/// Shows what is wrong with a printer on its paper.
///
/// # Errors
/// When that forbids the print.
pub(super) fn check_printer(setup: &PrintSetup) -> Result {
    let findings: Vec<Finding> = setup.on_its_paper().into_iter().collect();
    show_findings(&findings, &Sources::default());
    check_allowed(&findings)
}
