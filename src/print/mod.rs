//! From a layout to files whose sheets were read back: the one way on which every print
//! goes, whether one is asked for or a day's worth.

use crate::Laid;
use crate::diagnostic::{Finding, forbids_print};
use crate::export::{ExportError, Format, PDF, Writes, pdf};
use crate::fit::MeasurementUncertainty;
use crate::layout::{Layout, NestedSize};
use crate::paginate::{Correction, Heading, Paper, Request, SheetSet, paginate};
use crate::ticket::{TicketInput, ticket};
use crate::verify::{ReadBack, Unreadable, exact};
use crate::words::Wording;
use std::fmt;

/// What a strap is printed on, and how.
#[derive(Clone, Copy, Debug)]
pub struct PrintOptions<'a> {
    /// The paper.
    pub paper: &'a Paper,
    /// What undoes the printer's error; `None` for a printer that is taken to be true.
    pub correction: Option<&'a Correction>,
    /// With what the joined strip will be measured.
    pub measuring: MeasurementUncertainty,
    /// How words and numbers are written.
    pub wording: Wording,
    /// Whether the ticket goes before the sheets.
    pub with_ticket: bool,
}

/// The sheets of a strap, after its ticket if that is wanted.
///
/// # Errors
/// A finding at the strap's width when the paper cannot take it.
pub fn paginate_job(
    laid: &Laid,
    options: &PrintOptions<'_>,
) -> Result<SheetSet, Box<Finding>> {
    let (job, fit, layout) = laid;
    let &PrintOptions { paper, correction, measuring, wording, with_ticket } = options;
    let fit = fit.as_ref();
    let heading = Heading::with_wording(job, fit, layout, wording);
    let ticket = with_ticket.then(|| ticket(&TicketInput { job, fit, layout, wording }));
    let request = Request {
        correction,
        measuring,
        ticket: ticket.as_ref(),
        ..Request::new(layout, &heading, paper)
    };
    paginate(&request).map_err(|e| Box::new(e.finding().at(job.strap.width.span.clone())))
}

/// A print as a PDF, and what was read back from it.
#[derive(Clone, Debug)]
pub struct VerifiedPdf {
    /// The file.
    pub bytes: Vec<u8>,
    /// What it shows; none of its findings forbids the print.
    pub read_back: ReadBack,
}

/// Why there is no print. None of these is a mistake of the job's.
#[derive(Clone, Debug)]
pub enum PrintError {
    /// It could not be drawn.
    Export(ExportError),
    /// What was drawn cannot be read.
    Unreadable(Unreadable),
    /// What was drawn is not what the layout asks for; says in what.
    Differs(Vec<Finding>),
}

impl fmt::Display for PrintError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Export(why) => write!(f, "no drawing: {why}"),
            Self::Unreadable(why) => write!(f, "the drawn file cannot be read: {why}"),
            Self::Differs(_) => f.write_str(
                "the drawn file does not show what the job asks for, so nothing was \
                 written; this is a mistake of the program: please report it with the job",
            ),
        }
    }
}

impl std::error::Error for PrintError {}

/// Draws a set as a PDF and reads it back: it is given out only if it shows what the layout
/// asks for.
///
/// # Errors
/// When it cannot be drawn or read back, or shows something else.
pub fn draw_pdf(
    set: &SheetSet,
    layout: &Layout,
    rows: &[NestedSize],
) -> Result<VerifiedPdf, PrintError> {
    let bytes = pdf::pdf(set).map_err(PrintError::Export)?;
    let read_back = exact(&bytes, set, layout, rows).map_err(PrintError::Unreadable)?;
    if forbids_print(&read_back.findings) {
        Err(PrintError::Differs(read_back.findings))
    } else {
        Ok(VerifiedPdf { bytes, read_back })
    }
}

/// The files of a set in `format`, one or one a sheet and none for a table, and what was read
/// back. Whatever the format, the set is drawn as a PDF first and that is read back.
///
/// # Errors
/// Those of [`draw_pdf`], and when the set cannot be drawn in `format`.
pub fn draw(
    set: &SheetSet,
    layout: &Layout,
    rows: &[NestedSize],
    format: &Format,
) -> Result<(Vec<Vec<u8>>, ReadBack), PrintError> {
    let VerifiedPdf { bytes, read_back } = draw_pdf(set, layout, rows)?;
    let files = match format.writes {
        _ if format.name == PDF.name => Ok(vec![bytes]),
        Writes::OneFile(draw) => draw(set).map(|file| vec![file]),
        Writes::FilePerSheet(draw) => draw(set),
        Writes::Table => Ok(Vec::new()),
    };
    Ok((files.map_err(PrintError::Export)?, read_back))
}
