//! From a layout to files whose sheets were read back: the only way to a print, also in a
//! batch.

#[cfg(feature = "cli")]
mod setup;

#[cfg(feature = "cli")]
pub(crate) use setup::PrintSetup;

use crate::Laid;
use crate::diagnostic::{Finding, forbids_print};
use crate::export::{ExportError, Format, PDF, Writes, pdf};
use crate::fit::MeasurementUncertainty;
use crate::layout::{Layout, NestedSize};
use crate::paginate::{
    Correction, Heading, Paper, Request, ReusedSheet, SheetSet, paginate, whole_strap,
};
use crate::ticket::{TicketInput, ticket};
use crate::verify::{ReadBack, Unreadable, exact};
use crate::words::Wording;
use std::fmt;

/// What a strap is printed on, and how it is written.
#[derive(Clone, Copy, Debug)]
pub struct PrintOptions<'a> {
    /// The paper.
    pub paper: &'a Paper,
    /// The factors that correct the printer; `None` for a printer without a file.
    pub correction: Option<&'a Correction>,
    /// How exactly the joined strip will be measured.
    pub measuring: MeasurementUncertainty,
    /// The units and the language.
    pub wording: Wording,
    /// Whether the ticket is drawn before the sheets.
    pub with_ticket: bool,
}

/// The sheets of a strap, and its ticket if that is wanted.
///
/// # Errors
/// A finding at the strap's width when the paper cannot take it.
pub fn paginate_job(
    laid: &Laid,
    options: &PrintOptions<'_>,
) -> Result<SheetSet, Box<Finding>> {
    paginate_after(laid, options, None, Vec::new())
}

/// The same, with sheets and joins of an earlier print used again, `reused` among them.
///
/// # Errors
/// Those of [`paginate_job`].
pub fn paginate_after(
    laid: &Laid,
    options: &PrintOptions<'_>,
    last: Option<&SheetSet>,
    reused: Vec<ReusedSheet>,
) -> Result<SheetSet, Box<Finding>> {
    let (job, fit, layout) = laid;
    let &PrintOptions { paper, correction, measuring, wording, with_ticket } = options;
    let fit = fit.as_ref();
    let heading = Heading { reused, ..Heading::with_wording(job, fit, layout, wording) };
    let ticket = with_ticket.then(|| ticket(&TicketInput { job, fit, layout, wording }));
    let request = Request {
        correction,
        measuring,
        ticket: ticket.as_ref(),
        reuse: last,
        ..Request::new(layout, &heading, paper)
    };
    paginate(&request).map_err(|e| Box::new(e.finding().at(job.strap.width.span.clone())))
}

/// The print that a PDF of this program is of, [bare](SheetSet::bare).
///
/// # Errors
/// Says why the file cannot be read, or that it is none of this program.
#[cfg(feature = "cli")]
pub(crate) fn read(file: &[u8]) -> Result<SheetSet, String> {
    crate::verify::opens(file).map_err(|why| why.to_string())?;
    pdf::read(file).ok_or_else(|| {
        "it does not say which print it is: another program or an earlier version made it; \
         draw it again"
            .to_owned()
    })
}

/// Why there is no print, though the job has no mistake.
#[derive(Clone, Debug)]
pub enum PrintError {
    /// The sheets could not be drawn.
    Export(ExportError),
    /// The drawn file cannot be read.
    Unreadable(Unreadable),
    /// The drawn file differs from the layout; the findings say where.
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

/// Draws the sheets as a PDF and reads it back. Returns the bytes of the file and the report
/// of reading it; no finding of that forbids the print.
///
/// # Errors
/// When the sheets cannot be drawn or read back, or differ from the layout.
pub fn draw_pdf(
    set: &SheetSet,
    layout: &Layout,
    rows: &[NestedSize],
) -> Result<(Vec<u8>, ReadBack), PrintError> {
    let bytes = pdf::pdf(set).map_err(PrintError::Export)?;
    let read_back = exact(&bytes, set, layout, rows).map_err(PrintError::Unreadable)?;
    if forbids_print(&read_back.findings) {
        Err(PrintError::Differs(read_back.findings))
    } else {
        Ok((bytes, read_back))
    }
}

/// Draws the sheets or the whole strap in `format`, and returns the bytes of each file: one
/// file, or one for each sheet. Whatever the format, the sheets are drawn as a PDF first; the
/// report is that of reading it back.
///
/// # Errors
/// Those of [`draw_pdf`], and when the sheets cannot be drawn in `format`.
pub fn draw(
    set: &SheetSet,
    layout: &Layout,
    rows: &[NestedSize],
    format: &Format,
) -> Result<(Vec<Vec<u8>>, ReadBack), PrintError> {
    let (bytes, read_back) = draw_pdf(set, layout, rows)?;
    let files = match format.writes {
        _ if format.name == PDF.name => Ok(vec![bytes]),
        Writes::OneFile(draw) => draw(set).map(|file| vec![file]),
        Writes::FilePerSheet(draw) => draw(set),
        Writes::Strap { strap, .. } => {
            strap(&whole_strap(set, layout)).map(|file| vec![file])
        }
        Writes::Preview { draw, dpi } => draw(&bytes, dpi),
    };
    Ok((files.map_err(PrintError::Export)?, read_back))
}
