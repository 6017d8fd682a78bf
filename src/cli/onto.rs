//! What a print goes onto: the paper, the printer, the ruler that it is checked with, and
//! the language of its words.

use super::measure::{self, Ruler};
use super::wording::WordingArgs;
use super::{Failure, files};
use crate::diagnostic::{Finding, Sources};
use crate::fit::MeasurementUncertainty;
use crate::layout::Layout;
use crate::paginate::{Heading, Paper, Request};
use crate::print::PrintOptions;
use crate::printer::{self, ParsedPrinter, Printer};
use crate::words::Wording;
use clap::Args;
use std::ffi::OsString;

#[derive(Args, Debug)]
pub(super) struct OntoArgs {
    /// a4, a3, letter, legal, tabloid, roll, or width x height such as 320x450mm [default:
    /// the paper of --printer, else a4]
    #[arg(long, value_name = "NAME", allow_hyphen_values = true)]
    pub(super) paper: Option<String>,
    /// The printer file from `calibrate`, to correct a printer that is not true
    #[arg(long, value_name = "FILE")]
    printer: Option<OsString>,
    #[command(flatten)]
    ruler: Ruler,
    #[command(flatten)]
    wording: WordingArgs,
}

/// The same, read.
#[derive(Clone, Debug)]
pub(super) struct Onto {
    pub(super) paper: Paper,
    pub(super) printer: Option<Printer>,
    pub(super) measuring: MeasurementUncertainty,
    pub(super) wording: Wording,
}

impl OntoArgs {
    /// Reads the printer's file; what is found in it joins the findings.
    pub(super) fn read(
        &self,
        sources: &mut Sources,
        findings: &mut Vec<Finding>,
    ) -> Result<Onto, Failure> {
        let known = known(self.printer.as_ref(), sources)?;
        let printer = known.and_then(|known| {
            findings.extend(known.findings);
            known.printer
        });
        let paper = measure::paper(self.paper.as_deref(), printer.as_ref())?;
        findings.extend(printer.as_ref().and_then(|p| p.on(&paper)));
        Ok(Onto {
            paper,
            printer,
            measuring: self.ruler.measuring(),
            wording: self.wording.wording(),
        })
    }
}

impl Onto {
    /// All of a layout on this paper by this printer.
    pub(super) fn request<'a>(
        &'a self,
        layout: &'a Layout,
        heading: &'a Heading,
    ) -> Request<'a> {
        Request {
            correction: self.printer.as_ref().map(|p| &p.correction),
            measuring: self.measuring,
            ..Request::new(layout, heading, &self.paper)
        }
    }

    /// The same for a whole print.
    pub(super) fn print_options(&self, with_ticket: bool) -> PrintOptions<'_> {
        PrintOptions {
            paper: &self.paper,
            correction: self.printer.as_ref().map(|p| &p.correction),
            measuring: self.measuring,
            wording: self.wording,
            with_ticket,
        }
    }

    /// The same on a page for the whole of `layout`.
    pub(super) fn on_whole(&self, layout: &Layout) -> Self {
        self.on(Paper::whole(layout, self.printer.as_ref().map(|p| &p.correction)))
    }

    /// The same on another paper.
    pub(super) fn on(&self, paper: Paper) -> Self {
        Self { paper, ..self.clone() }
    }
}

/// Reads a printer's file, if one is asked for, and keeps its text for findings.
pub(super) fn known(
    path: Option<&OsString>,
    sources: &mut Sources,
) -> Result<Option<ParsedPrinter>, Failure> {
    let Some(path) = path else { return Ok(None) };
    let files::Text { name, text } = files::read(path)?;
    Ok(Some(printer::read(sources, &name, &text)))
}
