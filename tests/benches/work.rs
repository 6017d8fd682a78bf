//! The jobs that are measured, and the stages that `draw` runs them through.

use std::fmt;
use strapwright::assembly::fit_and_lay_out;
use strapwright::check::{CheckInput, check};
use strapwright::export::pdf::pdf;
use strapwright::fit::Fit;
use strapwright::job::{Job, read};
use strapwright::layout::Layout;
use strapwright::paginate::{Heading, Paper, Request, SheetSet, paginate};
use strapwright::template::DEMO_JOB;
use strapwright::ticket::{self, Ticket, ticket};
use strapwright::verify::exact;
use strapwright::words::Wording;

/// A job and its paper.
#[derive(Clone, Copy)]
pub(crate) struct Work {
    name: &'static str,
    text: fn() -> String,
    paper: &'static str,
    /// Whether the ticket is drawn; a seam has none of its readings on it.
    ticket: bool,
    pub(crate) sheets: usize,
}

pub(crate) const ONE_SHEET: Work = Work {
    name: "collar, 1 sheet",
    text: || include_str!("../../sample-jobs/harbour-dog-collar.toml").to_owned(),
    paper: "a4",
    ticket: true,
    sheets: 1,
};

pub(crate) const DEMO: Work = Work {
    name: "demo belt, 2 sheets",
    text: || DEMO_JOB.to_owned(),
    paper: "a4",
    ticket: true,
    sheets: 2,
};

pub(crate) const SIX_SHEETS: Work = Work {
    name: "wide strap, 6 sheets",
    text: || {
        "template = \"plain-strap\"\nplain.length = \"1.7 m\"\nstrap.width = \"100 mm\"\n"
            .to_owned()
    },
    paper: "a4",
    ticket: true,
    sheets: 6,
};

/// A strap with a seam of two rows, of `metres`.
const fn seam(name: &'static str, text: fn() -> String, sheets: usize) -> Work {
    Work { name, text, paper: "roll", ticket: false, sheets }
}

fn seam_text(metres: u32) -> String {
    format!(
        "template = \"plain-strap\"\nplain.length = \"{metres} m\"\nholes.count = 0\n\n\
         [seam]\nkind = \"stitch\"\nalong = \"edges\"\ninset = \"4 mm\"\n\
         pitch = \"2 mm\"\ndiameter = \"1 mm\"\nfrom = \"start.end\"\nby = \"20 mm\"\n\
         to = \"end.end\"\nto-by = \"-20 mm\"\n"
    )
}

pub(crate) const SEAMS: [Work; 4] = [
    seam("seam of 1 m", || seam_text(1), 1),
    seam("seam of 4 m", || seam_text(4), 1),
    seam("seam of 20 m", || seam_text(20), 1),
    seam("seam of 100 m", || seam_text(100), 2),
];

impl fmt::Display for Work {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name)
    }
}

impl fmt::Debug for Work {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name)
    }
}

/// A job that is laid out.
pub(crate) struct Laid {
    job: Job,
    fit: Option<Fit>,
    layout: Layout,
    heading: Heading,
    paper: Paper,
}

impl Work {
    pub(crate) fn text(self) -> String {
        (self.text)()
    }

    /// Every stage from the text up to the findings.
    pub(crate) fn laid(self, text: &str) -> Laid {
        let job = read(self.name, text, &[]).job.unwrap();
        let (fit, layout) = fit_and_lay_out(&job).unwrap();
        check(&CheckInput::new(&job, fit.as_ref(), &layout));
        let heading = Heading::new(&job, fit.as_ref(), &layout);
        Laid { job, fit, layout, heading, paper: Paper::parse(self.paper).unwrap() }
    }

    /// Every stage from what is laid out up to the sheets.
    pub(crate) fn sheets(self, laid: &Laid) -> SheetSet {
        let ticket = self.ticket.then(|| laid.ticket());
        let request = Request::new(&laid.layout, &laid.heading, &laid.paper);
        paginate(&Request { ticket: ticket.as_ref(), ..request }).unwrap()
    }

    /// Every stage from the text to the bytes.
    pub(crate) fn bytes(self, text: &str) -> Vec<u8> {
        pdf(&self.sheets(&self.laid(text))).unwrap()
    }
}

impl Laid {
    fn ticket(&self) -> Ticket {
        let Self { job, fit, layout, .. } = self;
        let wording = Wording::default();
        ticket(&ticket::TicketInput { job, fit: fit.as_ref(), layout, wording })
    }

    pub(crate) fn marks(&self) -> usize {
        self.layout.pieces.iter().map(|p| p.marks.len()).sum()
    }

    /// What `draw` does with the bytes before it puts them in their place.
    pub(crate) fn read_back(&self, set: &SheetSet, bytes: &[u8]) {
        let read = exact(bytes, set, &self.layout, &[]).unwrap();
        assert!(read.findings.is_empty(), "{:?}", read.findings);
    }
}
