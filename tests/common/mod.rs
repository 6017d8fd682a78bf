//! One way from the text of a job to its layout and findings, for every test.

use strapwright::diagnostic::{Finding, Looks, Sources, text};
use strapwright::fit::Fit;
use strapwright::job::Job;
use strapwright::layout::Layout;
use strapwright::{Prepared, prepare};

/// A job as far as it goes.
pub(crate) struct Run {
    pub(crate) sources: Sources,
    pub(crate) findings: Vec<Finding>,
    pub(crate) laid: Option<(Job, Option<Fit>, Layout)>,
}

/// Reads, fits, lays out and checks.
pub(crate) fn run(job: &str, sets: &[String]) -> Run {
    let Prepared { sources, findings, laid } = prepare("job.toml", job, sets);
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
