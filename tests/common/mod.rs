//! What the test binaries share. First of all, one way from the text of a job to its layout
//! and findings.

pub(crate) mod ink;
pub(crate) mod joins;
pub(crate) mod pdf;
pub(crate) mod program;
pub(crate) mod random;
pub(crate) mod raw_pdf;
pub(crate) mod samples;
pub(crate) mod straps;
pub(crate) mod strokes;

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

/// A belt with these lines of its own, for 34 in where they give no measure.
pub(crate) fn belt(lines: &str) -> Run {
    let measure = "measure.value = \"34 in\"\n";
    let of_a_table = lines.starts_with('[') || lines.contains("\n[");
    let (before, after) = match (lines.contains("measure.value"), of_a_table) {
        (true, _) => ("", ""),
        (false, true) => (measure, ""),
        (false, false) => ("", measure),
    };
    run(&format!("template = \"belt\"\n{before}{lines}\n{after}"), &[])
}

impl Run {
    /// All findings as a person reads them.
    pub(crate) fn text(&self) -> String {
        text(&self.findings, &self.sources, Looks::Plain)
    }
}
