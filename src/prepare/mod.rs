//! From a job's text to its findings: the stages in their order, then the line to blame for each
//! finding, and what becomes of each value.

mod attribute;
mod inputs;

use crate::assembly;
use crate::check::{self, CheckInput};
use crate::diagnostic::{self, Finding, Sources};
use crate::fit::Fit;
use crate::job::{self, Job, JobText, ParsedJob};
use crate::layout::Layout;
use crate::template::{BuiltIn, TemplateLoader};

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
    let given = JobText { name, text, sets, loader };
    let mut prepared = staged(given.read());
    attribute::attribute(&given, &mut prepared);
    inputs::find_unused(&given, &mut prepared);
    inputs::find_assumed(&given, &mut prepared);
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
