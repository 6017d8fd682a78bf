//! One way from the text of a job to its layout and findings, for every test.

use strapwright::check::{Subject, check};
use strapwright::diagnostic::{Finding, Looks, Sources, text};
use strapwright::fit::{Fit, fit};
use strapwright::job::{Job, Reading, read};
use strapwright::layout::{Layout, lay_out};

/// A job as far as it goes.
pub(crate) struct Run {
    pub(crate) sources: Sources,
    pub(crate) findings: Vec<Finding>,
    pub(crate) laid: Option<(Job, Option<Fit>, Layout)>,
}

/// Reads, fits, lays out and checks.
pub(crate) fn run(job: &str, sets: &[String]) -> Run {
    let Reading { sources, job, mut findings } = read("job.toml", job, sets);
    let laid = job.and_then(|job| {
        let fit = fit(&job);
        match lay_out(&job, fit.as_ref()) {
            Ok(layout) => Some((job, fit, layout)),
            Err(more) => {
                findings.extend(more);
                None
            }
        }
    });
    if let Some((job, fit, layout)) = &laid {
        findings.extend(check(&Subject { job, fit: fit.as_ref(), layout }));
    }
    Run { sources, findings, laid }
}

/// A belt with these lines of its own.
pub(crate) fn belt(lines: &str) -> Run {
    run(&format!("template = \"belt\"\n{lines}\n"), &[])
}

impl Run {
    /// All findings as a person reads them.
    pub(crate) fn text(&self) -> String {
        text(&self.findings, &self.sources, Looks::Plain)
    }
}
