//! From the bytes of a PDF back to the strap, and whether it is the one that was asked for.
//!
//! This stage knows nothing but what is drawn. It shares no constant and no helper with
//! the stages that lay the sheets out and write them: what they do wrong, it is to find. It
//! measures, so here too lengths are floats, in mm.
//!
//! `read` follows the content of the pages; `sheet` finds on each the head, scale bars,
//! crosses, marks and outlines; `set` asks whether the sheets are one whole print, `page`
//! whether each is on its paper and can be seen; `strap` puts them together by their
//! crosses; `against` holds them against a layout, `alone` against each other.

mod against;
mod alone;
mod exact;
mod page;
mod read;
mod record;
mod report;
pub(crate) mod rule;
mod set;
mod sheet;
mod strap;

pub use exact::{ReadBack, exact};
pub use report::{FoundMark, Report};
pub use rule::RULES;

use crate::diagnostic::{Finding, Severity};
use crate::layout::Layout;
use report::{ANEW, error};
use sheet::Sheet;
use std::fmt;
use strap::Strap;

/// More marks than this are on no sheet.
const MOST_FORMS: usize = 100_000;

/// What a file is held against.
#[derive(Clone, Copy, Debug, Default)]
pub struct Against<'a> {
    /// The layout; without one the sheets are held against themselves only.
    pub layout: Option<&'a Layout>,
    /// Numbers of the sheets that should be there; empty for all.
    pub sheets: &'a [usize],
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
    read::opens(pdf).map_err(Unreadable)
}

/// Reads a PDF back, puts its sheets together by their crosses and holds every mark and
/// outline against what was asked for.
///
/// # Errors
/// [`Unreadable`] when the bytes are no PDF that can be read.
///
/// ```
/// use strapwright::verify::{Against, verify};
/// use strapwright::paginate::{Heading, Paper, Request, paginate};
///
/// let belt = "template = \"belt\"\nmeasure.value = \"34 in\"\n";
/// let laid = strapwright::prepare("belt.toml", belt, &[]).laid;
/// let (job, fit, layout) = laid.expect("no mistakes");
/// let heading = Heading::new(&job, fit.as_ref(), &layout);
/// let paper = Paper::parse("a4")?;
/// let set = paginate(&Request::new(&layout, &heading, &paper))?;
/// let file = strapwright::export::pdf::pdf(&set)?;
/// let report = verify(&file, &Against { layout: Some(&layout), sheets: &[] })?;
/// assert!(report.findings.is_empty());
/// assert!(report.worst_mm() < 0.001);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn verify(pdf: &[u8], against: &Against<'_>) -> Result<Report, Unreadable> {
    let print = read::read(pdf).map_err(Unreadable)?;
    let mut findings = Vec::new();
    for (number, page) in (1..).zip(&print.pages) {
        findings.extend(page.broken.as_ref().map(|why| unreadable(number, why)));
    }
    let count = print.pages.len();
    let pages = (1..).zip(print.pages);
    let all: Vec<Sheet> = pages.filter_map(|(n, page)| Sheet::of(n, page)).collect();
    let other_pages = count - all.len();
    for sheet in &all {
        let (frames, forms) = (sheet.frames.len(), sheet.forms.len());
        if frames > strap::MOST_FRAMES || forms > MOST_FORMS {
            findings
                .push(unreadable(sheet.page, "there is more on it than on any sheet"));
        }
    }
    let mut set = set::sorted(all, against.sheets);
    findings.append(&mut set.findings);
    let is_full = set.sheets.iter().any(|s| s.title.is_full);
    if print.scaling.as_deref() != Some("None") && is_full {
        let found = print.scaling.as_deref().unwrap_or("no /PrintScaling");
        findings.push(
            error(
                rule::PRINT_SCALING,
                "the file leaves it to the reader to scale it".to_owned(),
            )
            .expected(format!("`{found}` among the viewer preferences"), "`None`")
            .remedy("print the file that `strapwright draw` wrote, at 100 %"),
        );
    }
    let (strap, marks, wrong) = match against.layout {
        Some(layout) if !set.sheets.is_empty() => {
            let held = against::held(&mut set.sheets, layout, set.complete);
            (held.strap, held.marks, held.findings)
        }
        _ => {
            let strap = strap::assemble(&set.sheets);
            let (marks, wrong) = alone::marks(&strap, &set.sheets);
            (strap, marks, wrong)
        }
    };
    findings.extend(set::sheets(&set.sheets));
    findings.extend(crosses(&strap, &set.sheets, set.complete));
    findings.extend(wrong);
    findings.sort_by_key(|f| std::cmp::Reverse(f.severity));
    let sheets = set.sheets.len();
    Ok(Report { print: set.print, sheets, other_pages, marks, findings })
}

fn unreadable(page: usize, why: &str) -> Finding {
    Finding::new(
        rule::PAGE_UNREADABLE,
        Severity::Error,
        format!("page {page} cannot be read"),
    )
    .expected(why, "a page as `strapwright draw` writes it")
    .remedy(ANEW)
}

/// Crosses that do not come in twos, and those that miss each other.
fn crosses(strap: &Strap, sheets: &[Sheet], complete: bool) -> Vec<Finding> {
    let mut all = Vec::new();
    for (label, times) in &strap.odd {
        // The other one may be on a sheet that is not there.
        if complete || *times > 2 {
            all.push(
                error(
                    rule::CROSS_ODD,
                    format!("cross {label} does not stand on two strips"),
                )
                .expected(format!("{times} of them"), "2, one on each strip of the join")
                .remedy(ANEW),
            );
        }
    }
    for (join, one, two, miss) in &strap.misses {
        if *miss > against::TOLERANCE {
            let [one, two] = [one, two].map(|s| sheets[*s].title.number);
            let message = format!(
                "the crosses of join {join} on sheets {one} and {two} do not meet"
            );
            all.push(
                error(rule::JOIN_OFF, message)
                    .expected(
                        format!("{miss:.3} mm apart at one cross when laid together at another"),
                        format!("at most {} mm", against::TOLERANCE),
                    )
                    .remedy(ANEW),
            );
        }
    }
    all
}
