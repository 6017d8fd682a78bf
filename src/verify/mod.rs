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

pub use exact::{ReadBack, exact};
pub use report::{FoundMark, Report};
pub use rule::RULES;

use crate::layout::{Layout, NestedSize};
use crate::paginate::SheetSet;
use std::fmt;

/// A print that files are held against: its sheets, and the strap that they show.
#[derive(Clone, Copy, Debug)]
pub struct Print<'a> {
    /// The sheets.
    pub set: &'a SheetSet,
    /// The strap.
    pub layout: &'a Layout,
    /// The sizes of a nested print.
    pub rows: &'a [NestedSize],
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
    for (name, bytes) in files {
        guard::opens(bytes).map_err(|why| Unreadable(format!("{name}: {why}")))?;
    }
    ink::verify_print(files, print, asked).map_err(Unreadable)
}

/// Holds the pages of files, each with its name, against themselves.
///
/// # Errors
/// [`Unreadable`] when a file is no PDF that can be read.
pub fn verify_alone(files: &[(&str, &[u8])]) -> Result<Report, Unreadable> {
    let mut pages = Vec::new();
    for (name, bytes) in files {
        let fail = |why: String| Unreadable(format!("{name}: {why}"));
        guard::opens(bytes).map_err(fail)?;
        let own = record::record(bytes).map_err(fail)?;
        let of = if files.len() > 1 { format!(" of {name}") } else { String::new() };
        let named = own.into_iter().zip(1..).map(|(p, n)| (format!("page {n}{of}"), p));
        pages.extend(named);
    }
    Ok(alone::alone(&pages))
}

/// What the pages of files say.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PagesSay {
    /// Every text that is the name of a print, such as `7F3A-91C2`.
    pub prints: Vec<String>,
    /// Width and height of the last page, in mm.
    pub size: [f64; 2],
}

/// Reads the names of prints and the size of the pages of files that were opened.
pub fn pages_say(files: &[(&str, &[u8])]) -> PagesSay {
    let pages =
        files.iter().filter_map(|(_, bytes)| record::record(bytes).ok()).flatten();
    let mut all = PagesSay::default();
    for page in pages {
        all.size = page.size;
        all.prints.extend(page.print_name().map(str::to_owned));
    }
    all
}
