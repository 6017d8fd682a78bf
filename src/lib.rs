//! Full-scale punch templates for leather straps.
//!
//! One job goes one way, and each stage is one function that returns a finished value:
//!
//! ```text
//! job text -> Job -> Fit -> Layout -> (findings) -> SheetSet -> PDF, SVG, CSV
//!   job        fit   layout    check      paginate     export
//!                                             verify <- PDF
//! ```
//!
//! `print` is the way from a layout to a file that was read back; `batch` goes all of it for
//! each order of a day.
//!
//! `printer` keeps what undoes the error of a printer, and gives it to `paginate`; `cutting`
//! shares the strips on hand among the pieces of many jobs.
//! `diagnostic` carries what the stages find, `geom` what they measure in. `guide` holds the
//! topics that the program shows to its users.
//!
//! From the text of a job to the bytes of a PDF:
//!
//! ```
//! use strapwright::export::pdf::pdf;
//! use strapwright::paginate::{Heading, Paper, Request, paginate};
//!
//! let belt = "template = \"belt\"\nmeasure.value = \"34 in\"\n";
//! let prepared = strapwright::prepare("belt.toml", belt, &[]);
//! let (job, fit, layout) = prepared.laid.expect("no mistakes");
//! let heading = Heading::new(&job, fit.as_ref(), &layout);
//! let paper = Paper::parse("a4")?;
//! let set = paginate(&Request::new(&layout, &heading, &paper))?;
//! std::fs::write(std::env::temp_dir().join("belt.pdf"), pdf(&set)?)?;
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! The program is the default feature `cli`. Without it, this is the library alone:
//! `strapwright = { version = "0.1", default-features = false }`.

pub mod assembly;
mod attribute;
pub mod batch;
pub mod check;
#[cfg(feature = "cli")]
pub mod cli;
pub mod cutting;
pub mod diagnostic;
pub mod export;
pub mod fit;
pub mod geom;
pub mod guide;
mod input;
mod inputs;
pub mod job;
pub mod layout;
pub mod lettering;
pub mod paginate;
pub mod print;
pub mod printer;
#[cfg(test)]
#[expect(dead_code, reason = "unit tests use a part of it")]
#[path = "../tests/common/random.rs"]
mod random;
pub mod stock;
pub mod template;
pub mod ticket;
pub mod verify;
pub mod words;

use check::CheckInput;
use diagnostic::{Finding, Sources};
use fit::Fit;
use job::{Job, ParsedJob};
use layout::Layout;
use template::{BuiltIn, TemplateLoader};

/// A job with what follows from the body and its layout.
pub type Laid = (Job, Option<Fit>, Layout);

/// A job as far as it goes, with everything that was found on the way.
#[derive(Debug)]
pub struct Prepared {
    /// The texts, for showing findings.
    pub sources: Sources,
    /// All findings, those of the job's text first.
    pub findings: Vec<Finding>,
    /// There unless a mistake kept the job from being laid out.
    pub laid: Option<Laid>,
}

/// The stages from a job's text, called `name`, and `sets` (each `KEY=VALUE`) up to the
/// findings, with the templates that the program carries.
pub fn prepare(name: &str, text: &str, sets: &[String]) -> Prepared {
    prepare_from(name, text, sets, &BuiltIn)
}

/// The same with templates from a shelf.
pub fn prepare_from(
    name: &str,
    text: &str,
    sets: &[String],
    loader: &dyn TemplateLoader,
) -> Prepared {
    let mut prepared = staged(job::read_from(name, text, sets, loader));
    attribute::attribute(name, text, sets, loader, &mut prepared);
    inputs::find_unused(name, text, sets, loader, &mut prepared);
    inputs::find_assumed(name, text, sets, loader, &mut prepared);
    attribute::gather(&mut prepared.findings);
    prepared
}

/// The stages past the reading.
fn staged(reading: ParsedJob) -> Prepared {
    let ParsedJob { sources, job, mut findings } = reading;
    let laid = job.and_then(|job| match assembly::fit_and_lay_out(&job) {
        Ok((fit, layout)) => Some((job, fit, layout)),
        Err((fit, more)) => {
            findings.extend(check::check_unlaid(&job, fit.as_ref(), more));
            None
        }
    });
    if let Some((job, fit, layout)) = &laid {
        let checked = check::check(&CheckInput::new(job, fit.as_ref(), layout));
        // A rule says more of a value than the limits of its template do.
        findings.retain(|f| {
            f.rule != job::rule::OUT_OF_LIMITS
                || !checked.iter().any(|c| c.span == f.span)
        });
        findings.extend(checked);
    }
    diagnostic::cap_findings(job::rule::JOB_LIMIT, &mut findings);
    Prepared { sources, findings, laid }
}
