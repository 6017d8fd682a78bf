//! A job in one of its sizes or in all of them, ready for paper.

use super::onto::{Onto, OntoArgs};
use super::prepare::{Laid, Prepared, Size, Source};
use super::{Failure, Outcome, terminal};
use crate::diagnostic::{Finding, RuleId, Sources, Span, forbids_print};
use crate::job::Stock;
use crate::paginate::{Heading, PaginateError, Request, SheetSet, paginate};
use crate::ticket::TicketInput;
use crate::words::Wording;

/// Why nothing is drawn.
pub(super) enum Stop {
    /// Findings forbid it; they are shown already.
    Forbidden,
    Failed(Failure),
}

impl From<Failure> for Stop {
    fn from(failure: Failure) -> Self {
        Self::Failed(failure)
    }
}

/// A job in one size, ready for paper.
pub(super) struct Ready {
    pub(super) laid: Laid,
    pub(super) heading: Heading,
    pub(super) sources: Sources,
}

impl Ready {
    /// Lays out a size, or the job as it stands; shows what was found, leaving out what
    /// `said` has already, and always what forbids the print.
    pub(super) fn new(
        source: &Source,
        size: Option<Size<'_>>,
        wording: Wording,
        said: &mut Spoken,
    ) -> Result<Self, Stop> {
        let Prepared { sources, findings, laid, .. } = source.prepare(size);
        let forbidden = forbids_print(&findings);
        said.show(&findings, &sources, forbidden);
        let Some(laid) = laid.filter(|_| !forbidden) else { return Err(Stop::Forbidden) };
        let (job, fit, layout) = &laid;
        let heading = Heading::with_wording(job, fit.as_ref(), layout, wording);
        Ok(Self { laid, heading, sources })
    }

    /// Shows why the paper cannot take the strap.
    pub(super) fn refuse(&self, error: &PaginateError) -> Stop {
        let span = self.laid.0.strap.width.span.clone();
        terminal::show(&[error.finding().at(span)], &self.sources);
        Stop::Forbidden
    }

    /// Shows what was found beside the job itself.
    pub(super) fn refuse_all(&self, findings: &[Finding]) -> Stop {
        // What no line of the job asked for, the list of the sizes did.
        let stock = self.laid.0.stock.as_ref().and_then(|s| s.sizes.first());
        let span = |f: &Finding| f.span.clone().or(stock.and_then(|s| s.span.clone()));
        let placed: Vec<Finding> =
            findings.iter().map(|f| f.clone().at(span(f))).collect();
        terminal::show(&placed, &self.sources);
        Stop::Forbidden
    }

    /// Its own label of the size.
    pub(super) fn label(&self) -> &str {
        self.heading.sizes.one()
    }

    /// What its ticket is written from.
    pub(super) fn input(&self) -> TicketInput<'_> {
        let (job, fit, layout) = &self.laid;
        TicketInput { job, fit: fit.as_ref(), layout, wording: self.heading.wording }
    }

    /// What it is drawn from, with this at its head, its own heading or one made from it.
    pub(super) fn request<'a>(
        &'a self,
        heading: &'a Heading,
        onto: &'a Onto,
    ) -> Request<'a> {
        onto.request(&self.laid.2, heading)
    }

    /// The sheets of one of its requests.
    pub(super) fn sheets(&self, request: &Request<'_>) -> Result<SheetSet, Stop> {
        paginate(request).map_err(|e| self.refuse(&e))
    }

    /// Shows what could not be kept out of the joins.
    pub(super) fn warn(&self, set: &SheetSet) {
        terminal::show(&set.findings, &self.sources);
    }
}

/// Reads what to print onto, and shows what is wrong with it.
pub(super) fn onto(args: &OntoArgs) -> Result<Onto, Stop> {
    let (mut sources, mut findings) = (Sources::default(), Vec::new());
    let onto = args.read(&mut sources, &mut findings)?;
    terminal::show(&findings, &sources);
    if forbids_print(&findings) { Err(Stop::Forbidden) } else { Ok(onto) }
}

/// What was shown already, so that each size need not say it again.
#[derive(Default)]
pub(super) struct Spoken {
    quiet: bool,
    all: Vec<(RuleId, Option<Span>, String)>,
}

impl Spoken {
    /// Shows nothing but what forbids the print.
    pub(super) fn quiet() -> Self {
        Self { quiet: true, all: Vec::new() }
    }

    fn show(&mut self, findings: &[Finding], sources: &Sources, forbidden: bool) {
        let key = |f: &Finding| (f.rule, f.span.clone(), f.message.clone());
        let new: Vec<Finding> =
            findings.iter().filter(|f| !self.all.contains(&key(f))).cloned().collect();
        self.all.extend(new.iter().map(key));
        if forbidden || !self.quiet {
            terminal::show(&new, sources);
        }
    }
}

impl Onto {
    /// Shows what is to be said of its printer on its paper.
    pub(super) fn allows(&self) -> Result<(), Stop> {
        let found = self.printer.as_ref().and_then(|p| p.on(&self.paper));
        let found: Vec<Finding> = found.into_iter().collect();
        terminal::show(&found, &Sources::default());
        if forbids_print(&found) { Err(Stop::Forbidden) } else { Ok(()) }
    }
}

/// Every size of the stock, from the smallest.
pub(super) fn stock(source: &Source, wording: Wording) -> Result<Vec<Ready>, Stop> {
    stock_saying(source, wording, Spoken::default())
}

/// The same, showing no more than `said` lets through.
pub(super) fn stock_saying(
    source: &Source,
    wording: Wording,
    mut said: Spoken,
) -> Result<Vec<Ready>, Stop> {
    let job = Ready::new(source, None, wording, &mut Spoken::quiet())?.laid.0;
    let labels: Vec<String> =
        job.stock.iter().flat_map(Stock::labels).map(ToOwned::to_owned).collect();
    if labels.is_empty() {
        return Err(Stop::Failed(Failure::Usage(
            "this job stocks no sizes; add a line such as stock.sizes = \"28 to 46 in by \
             2 in\""
                .to_owned(),
        )));
    }
    labels
        .iter()
        .map(|word| {
            let size = Size { word, said: "size of the stock" };
            Ready::new(source, Some(size), wording, &mut said)
        })
        .collect()
}

/// `28 in – 46 in`, in any language.
pub(super) fn size_range(sizes: &[Ready]) -> String {
    let ends = sizes.first().zip(sizes.last());
    ends.map_or_else(String::new, |(a, b)| format!("{} – {}", a.label(), b.label()))
}

/// How a command ends that may have been stopped.
pub(super) fn outcome(done: Result<(), Stop>) -> Result<Outcome, Failure> {
    match done {
        Ok(()) => Ok(Outcome::Done),
        Err(Stop::Forbidden) => {
            terminal::say("nothing was drawn");
            Ok(Outcome::Forbidden)
        }
        Err(Stop::Failed(failure)) => Err(failure),
    }
}
