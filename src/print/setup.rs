//! What a print is made for: the paper, the printer, the ruler that checks it, and its words.

use super::PrintOptions;
use crate::diagnostic::Finding;
use crate::fit::MeasurementUncertainty;
use crate::layout::Layout;
use crate::paginate::{Correction, Heading, Paper, Request};
use crate::printer::Printer;
use crate::words::Wording;

#[derive(Clone, Debug)]
pub(crate) struct PrintSetup {
    pub(crate) paper: Paper,
    pub(crate) printer: Option<Printer>,
    pub(crate) measuring: MeasurementUncertainty,
    pub(crate) wording: Wording,
}

impl PrintSetup {
    /// On a paper, else on that of the printer. With it comes what is wrong with this printer
    /// on this paper.
    pub(crate) fn new(
        paper: Option<Paper>,
        printer: Option<Printer>,
        measuring: MeasurementUncertainty,
        wording: Wording,
    ) -> (Self, Option<Finding>) {
        let own = || Some(printer.as_ref()?.paper.clone());
        let paper = paper.or_else(own).unwrap_or_default();
        let setup = Self { paper, printer, measuring, wording };
        let finding = setup.on_its_paper();
        (setup.claiming(), finding)
    }

    /// What is wrong with this printer on this paper.
    pub(crate) fn on_its_paper(&self) -> Option<Finding> {
        self.printer.as_ref()?.on(&self.paper)
    }

    /// What undoes the printer's error.
    pub(crate) fn correction(&self) -> Option<&Correction> {
        self.printer.as_ref().map(|p| &p.correction)
    }

    pub(crate) fn request<'a>(
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

    pub(crate) fn print_options(&self, with_ticket: bool) -> PrintOptions<'_> {
        PrintOptions {
            paper: &self.paper,
            correction: self.correction(),
            measuring: self.measuring,
            wording: self.wording,
            with_ticket,
        }
    }

    /// The same on one page that takes all of `layout`.
    pub(crate) fn on_whole_page(self, layout: &Layout) -> Self {
        Self { paper: Paper::whole(layout, self.correction()), ..self }
    }

    /// The same on another paper, without claims by the printer file if it is for another one.
    pub(crate) fn on_paper(&self, paper: &Paper) -> Self {
        Self { paper: paper.clone(), ..self.clone() }.claiming()
    }

    fn claiming(self) -> Self {
        let is_other = self.on_its_paper().is_some();
        let printer = self.printer.map(|p| if is_other { p.unproven() } else { p });
        Self { printer, ..self }
    }
}
