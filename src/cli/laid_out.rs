//! A job that is laid out, in one stock size or in all of them.

use super::job_source::{JobArgs, JobSource, Size};
use super::print_setup::PrintSetupArgs;
use super::terminal::show_findings;
use super::{Failure, Result, check_allowed};
use crate::diagnostic::{Finding, RuleId, Sources, Span, forbids_print};
use crate::geom::Length;
use crate::job::Stock;
use crate::layout::{Layout, Nest, nest};
use crate::paginate::{
    Heading, PaginateError, PrintedSizes, Request, SheetSet, paginate,
};
use crate::print::PrintSetup;
use crate::ticket::{Ticket, TicketInput, girths, nested};
use crate::words::{Units, Wording};
use crate::{Laid, Prepared};

/// A job that is laid out and that no finding forbids.
pub(super) struct LaidOutJob {
    pub(super) laid: Laid,
    pub(super) heading: Heading,
    pub(super) sources: Sources,
}

impl LaidOutJob {
    /// Reads a job and lays it out; shows all findings, those of its sheets too if a paper is
    /// given.
    ///
    /// # Errors
    /// When a file cannot be read, or findings forbid the print.
    pub(super) fn read(args: &JobArgs, setup: &PrintSetupArgs) -> Result<Self> {
        let source = args.read()?;
        let wording = setup.wording.wording(&source.workshop.profile);
        let job =
            Self::new(&source, args.size(), wording, &mut ShownFindings::default())?;
        if setup.paper.is_some() {
            let setup = setup.read_and_show(&source.workshop)?;
            let set = job.paginate(&setup.request(job.layout(), &job.heading))?;
            show_findings(&set.findings, &job.sources);
        }
        Ok(job)
    }

    /// Lays out a job in `size`, or with its own measure. Shows the findings that `shown`
    /// does not have yet.
    ///
    /// # Errors
    /// When findings forbid the print.
    pub(super) fn new(
        source: &JobSource,
        size: Option<Size<'_>>,
        wording: Wording,
        shown: &mut ShownFindings,
    ) -> Result<Self> {
        let Prepared { sources, findings, laid } = source.prepare(size);
        shown.show_new(&findings, &sources);
        check_allowed(&findings)?;
        let laid = laid.ok_or(Failure::Forbidden)?;
        let (job, fit, layout) = &laid;
        let heading = Heading::with_wording(job, fit.as_ref(), layout, wording);
        Ok(Self { laid, heading, sources })
    }

    pub(super) fn layout(&self) -> &Layout {
        &self.laid.2
    }

    /// The label of its stock size; empty without one.
    pub(super) fn label(&self) -> &str {
        self.heading.sizes.one()
    }

    pub(super) fn ticket_input(&self) -> TicketInput<'_> {
        let (job, fit, layout) = &self.laid;
        TicketInput { job, fit: fit.as_ref(), layout, wording: self.heading.wording }
    }

    pub(super) fn ticket(&self) -> Ticket {
        crate::ticket::ticket(&self.ticket_input())
    }

    /// Makes the sheets; shows a finding if the paper cannot take the strap.
    ///
    /// # Errors
    /// When the paper cannot take the strap.
    pub(super) fn paginate(&self, request: &Request<'_>) -> Result<SheetSet> {
        paginate(request).map_err(|e| self.show_paginate_error(&e))
    }

    pub(super) fn show_paginate_error(&self, error: &PaginateError) -> Failure {
        let span = self.laid.0.strap.width.span.clone();
        show_findings(&[error.finding().at(span)], &self.sources);
        Failure::Forbidden
    }
}

/// The findings that were shown already, so that no stock size repeats them.
#[derive(Default)]
pub(super) struct ShownFindings {
    errors_only: bool,
    keys: Vec<(RuleId, Option<Span>, String)>,
}

impl ShownFindings {
    /// Shows findings only where they forbid the print.
    pub(super) fn errors_only() -> Self {
        Self { errors_only: true, ..Self::default() }
    }

    fn show_new(&mut self, findings: &[Finding], sources: &Sources) {
        let key = |f: &Finding| (f.rule, f.span.clone(), f.message.clone());
        let is_new = |f: &&Finding| !self.keys.contains(&key(f));
        let new: Vec<Finding> = findings.iter().filter(is_new).cloned().collect();
        self.keys.extend(new.iter().map(key));
        if !self.errors_only || forbids_print(findings) {
            show_findings(&new, sources);
        }
    }
}

/// All stock sizes of a job, from the smallest; never empty.
pub(super) struct StockSizes(pub(super) Vec<LaidOutJob>);

impl StockSizes {
    /// Lays out every stock size. Shows the findings that `shown` does not have yet.
    ///
    /// # Errors
    /// When the job has no stock sizes, or findings forbid the print of one of them.
    pub(super) fn new(
        source: &JobSource,
        wording: Wording,
        mut shown: ShownFindings,
    ) -> Result<Self> {
        let own =
            LaidOutJob::new(source, None, wording, &mut ShownFindings::errors_only())?;
        let labels: Vec<&str> = own.laid.0.stock.iter().flat_map(Stock::labels).collect();
        if labels.is_empty() {
            return Err(Failure::Usage(
                "this job has no stock sizes; add a line such as stock.sizes = \"28 to 46 in \
                 by 2 in\""
                    .to_owned(),
            ));
        }
        let lay_out = |&label: &&str| {
            let size = Size { label, origin: "size of the stock" };
            LaidOutJob::new(source, Some(size), wording, &mut shown)
        };
        labels.iter().map(lay_out).collect::<Result<_>>().map(Self)
    }

    /// The first and the last label, `28 in – 46 in`, as in every language.
    pub(super) fn range(&self) -> String {
        size_range(&self.0)
    }

    /// All sizes on one strap; shows the findings where that is impossible.
    ///
    /// # Errors
    /// When the sizes cannot be drawn on one strap.
    pub(super) fn nest(&self) -> Result<Nest> {
        let layouts: Vec<(&str, &Layout)> =
            self.0.iter().map(|s| (s.label(), s.layout())).collect();
        nest(&layouts).map_err(|findings| {
            let first = &self.0[0];
            // Where no line of the job is to blame, the list of sizes is.
            let list = first.laid.0.stock.as_ref().and_then(|s| s.sizes.first());
            let span = |f: &Finding| f.span.clone().or(list.and_then(|s| s.span.clone()));
            let placed = findings.iter().map(|f| f.clone().at(span(f)));
            show_findings(&placed.collect::<Vec<_>>(), &first.sources);
            Failure::Forbidden
        })
    }

    /// The sheets that show all sizes on one strap, the ticket before them if it is wanted.
    ///
    /// # Errors
    /// When the paper cannot take the strap.
    pub(super) fn paginate_nested(
        &self,
        nest: &Nest,
        setup: &PrintSetup,
        with_ticket: bool,
    ) -> Result<SheetSet> {
        let sizes = PrintedSizes::Nested(self.range());
        let heading =
            Heading { serves: String::new(), sizes, ..self.0[0].heading.clone() };
        let ticket = self.nested_ticket().filter(|_| with_ticket);
        let request = setup.request(&nest.layout, &heading);
        let rows = &nest.rows;
        self.0[0].paginate(&Request { rows, ticket: ticket.as_ref(), ..request })
    }

    /// One ticket for all sizes.
    pub(super) fn nested_ticket(&self) -> Option<Ticket> {
        let inputs: Vec<(&str, TicketInput<'_>)> =
            self.0.iter().map(|s| (s.label(), s.ticket_input())).collect();
        nested(&inputs, &self.range())
    }
}

pub(super) fn size_range(sizes: &[LaidOutJob]) -> String {
    let ends = sizes.first().zip(sizes.last());
    ends.map_or_else(String::new, |(a, b)| format!("{} – {}", a.label(), b.label()))
}

/// The girths or lengths that the strap serves, at the tightest hole, the size hole and the
/// loosest, and how much of a blank is left over; one line each.
pub(super) fn served_lines((job, fit, layout): &Laid, units: Units) -> Vec<String> {
    let wording = Wording { units, ..Wording::default() };
    let both = |l: Length| wording.girth_in_both(l);
    let ease = fit.as_ref().map_or(Length::ZERO, |fit| fit.ease);
    let eased = if ease == Length::ZERO {
        String::new()
    } else {
        format!(", worn with {} of ease", wording.both(ease))
    };
    let names = ["tightest hole", "size hole", "loosest hole"];
    let line = |(name, girth): (&str, Option<Length>)| {
        Some(format!("{name}: girth {}{eased}", both(girth?)))
    };
    let girths = names.into_iter().zip(girths(fit.as_ref(), layout)).filter_map(line);
    let lengths = layout.serves(job, fit.as_ref()).map(|(least, most)| {
        let name = job.serves.as_ref().map_or("", |s| s.what.value.as_str());
        let least_text = both(least);
        let range = if least == most {
            least_text
        } else {
            format!("{least_text} to {}", both(most))
        };
        format!("{name}: {range}")
    });
    let blank = job.blank.length.as_ref().map(|b| b.value);
    let spare = layout.strap().and_then(|p| Some(blank? - p.extent.length()));
    let spare = spare
        .filter(|s| *s > Length::ZERO)
        .map(|s| format!("blank: {} are left over past the tip", wording.both(s)));
    girths.chain(lengths).chain(spare).collect()
}
