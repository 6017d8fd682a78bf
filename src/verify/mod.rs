//! Two judges of a drawn file, and a recorder.
//!
//! `exact` is asked after every drawing: does the file show its sheets, and do the sheets show
//! the strap? All is known, so nothing is guessed. `ink` is asked of files that come from
//! anywhere: would a printer draw the sheets of this job? `alone` holds sheets without a job
//! against themselves. All of them read pages by `record`, whose interpreter shares no code
//! with the stages that draw; `guard` keeps out files that are made to do harm. The judges
//! measure, so here lengths are floats, in mm.

mod alone;
mod exact;
mod guard;
#[cfg(feature = "ink")]
mod ink;
mod record;
mod report;
pub(crate) mod rule;
mod setup;

pub use exact::{ReadBack, exact};
pub use report::{FoundMark, Report};
pub use rule::RULES;

use crate::layout::Layout;
use crate::paginate::SheetSet;
use hayro_interpret::hayro_syntax::Pdf;
use std::fmt;

/// A print that files are held against: its sheets, and the strap that they show.
#[derive(Clone, Copy, Debug)]
pub struct Print<'a> {
    /// The sheets.
    pub set: &'a SheetSet,
    /// The strap.
    pub layout: &'a Layout,
}

/// A file that cannot be read at all; says why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unreadable(String);

impl fmt::Display for Unreadable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for Unreadable {}

/// Whether a file can be opened and does no harm: what else is to be read of it may then be
/// read by other means.
///
/// # Errors
/// [`Unreadable`] when it is no PDF, or holds far more than any print.
pub fn opens(pdf: &[u8]) -> Result<(), Unreadable> {
    guard::opens(pdf).map_err(Unreadable)
}

/// Holds the pages of files, each with its name, against a print: whether a printer would
/// draw its sheets. `asked` are the numbers of the sheets that should be there; none for all.
///
/// # Errors
/// [`Unreadable`] when a file is no PDF that can be read.
#[cfg(feature = "ink")]
pub fn verify_print(
    files: &[(&str, &[u8])],
    print: &Print<'_>,
    asked: &[usize],
) -> Result<Report, Unreadable> {
    let pdfs = opened(files)?;
    Ok(ink::verify_print(&pdfs, pages(files, &pdfs)?, print, asked))
}

/// Holds the pages of files, each with its name, against themselves.
///
/// # Errors
/// [`Unreadable`] when a file is no PDF that can be read.
pub fn verify_alone(files: &[(&str, &[u8])]) -> Result<Report, Unreadable> {
    Ok(alone::alone(&pages(files, &opened(files)?)?))
}

/// What the pages of files say.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PagesSay {
    /// Every text that is the name of a print, such as `7F3A-91C2`.
    pub prints: Vec<String>,
    /// Width and height of the last page, in mm.
    pub size: [f64; 2],
}

/// Reads the names of prints and the size of the pages of files.
///
/// # Errors
/// [`Unreadable`] when a file is no PDF that can be read.
pub fn pages_say(files: &[(&str, &[u8])]) -> Result<PagesSay, Unreadable> {
    let mut all = PagesSay::default();
    for shown in pages(files, &opened(files)?)? {
        all.size = shown.page.size;
        all.prints.extend(shown.page.print_name());
    }
    Ok(all)
}

/// A page of a file.
struct Shown {
    /// How messages call it: `page 3`, or `page 3 of belt.pdf`.
    name: String,
    page: record::Page,
    /// The index of its file, and its own in there.
    #[cfg_attr(
        not(feature = "ink"),
        expect(dead_code, reason = "only the judge of ink draws pages")
    )]
    place: (usize, usize),
}

/// The files, each with its name, as they are opened.
fn opened(files: &[(&str, &[u8])]) -> Result<Vec<Pdf>, Unreadable> {
    let open = |(name, bytes): &(&str, &[u8])| {
        let pdf = guard::opens(bytes).and_then(|()| record::open(bytes));
        pdf.map_err(|why| Unreadable(format!("{name}: {why}")))
    };
    files.iter().map(open).collect()
}

/// The pages of all files.
fn pages(files: &[(&str, &[u8])], pdfs: &[Pdf]) -> Result<Vec<Shown>, Unreadable> {
    let mut all = Vec::new();
    for (file, ((name, _), pdf)) in files.iter().zip(pdfs).enumerate() {
        let own = record::record(pdf);
        let own = own.map_err(|why| Unreadable(format!("{name}: {why}")))?;
        let of = if files.len() > 1 { format!(" of {name}") } else { String::new() };
        let shown = |(index, page)| {
            let name = format!("page {}{of}", index + 1);
            Shown { name, page, place: (file, index) }
        };
        all.extend(own.into_iter().enumerate().map(shown));
    }
    Ok(all)
}
