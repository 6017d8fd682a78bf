//! The samples as finished files, and what is said of them.

use crate::common::{laid, printed, samples};
use std::collections::BTreeSet;
use strapwright::diagnostic::{Finding, Severity};
use strapwright::export::pdf::pdf;
use strapwright::layout::Layout;
use strapwright::paginate::SheetSet;
use strapwright::verify::{Print, Report, exact, verify_print};

/// A sample on a paper.
#[derive(Clone, Debug)]
pub(crate) struct Drawn {
    pub(crate) name: String,
    pub(crate) layout: Layout,
    pub(crate) set: SheetSet,
    pub(crate) bytes: Vec<u8>,
}

pub(crate) fn drawn(name: &str, text: &str, paper: &str) -> Drawn {
    drawn_as(name, text, paper, &[])
}

/// With these values laid over the job.
pub(crate) fn drawn_as(name: &str, text: &str, paper: &str, sets: &[&str]) -> Drawn {
    let laid = laid(text, sets);
    let set = printed(&laid, paper);
    let bytes = pdf(&set).unwrap();
    Drawn { name: format!("{name} on {}", set.paper), layout: laid.2, set, bytes }
}

pub(crate) fn all_on(papers: &[&str]) -> Vec<Drawn> {
    let jobs = samples::jobs();
    jobs.iter().flat_map(|(n, t)| papers.iter().map(|p| drawn(n, t, p))).collect()
}

/// The belts, which have all that a fault can be planted in: slots, holes, joins.
pub(crate) fn belts_on(papers: &[&str]) -> Vec<Drawn> {
    let jobs = samples::jobs();
    let belts = jobs.iter().filter(|(_, text)| text.contains("\ntemplate = \"belt\"\n"));
    belts.flat_map(|(n, t)| papers.iter().map(|p| drawn(n, t, p))).collect()
}

/// What the exact judge finds in a file.
pub(crate) fn exactly(drawn: &Drawn, bytes: &[u8]) -> Vec<Finding> {
    exact(bytes, &drawn.set, &drawn.layout, &[]).unwrap().findings
}

/// What the judge of ink says of a file.
pub(crate) fn by_ink(drawn: &Drawn, bytes: &[u8]) -> Report {
    by_ink_of(drawn, &[bytes])
}

/// The same of several files.
pub(crate) fn by_ink_of(drawn: &Drawn, files: &[&[u8]]) -> Report {
    let print = Print { set: &drawn.set, layout: &drawn.layout };
    let named: Vec<(&str, &[u8])> = files.iter().map(|f| ("print.pdf", *f)).collect();
    verify_print(&named, &print, &[]).unwrap()
}

/// Findings that forbid to punch by a file.
pub(crate) fn errors(findings: &[Finding]) -> Vec<&Finding> {
    findings.iter().filter(|f| f.severity == Severity::Error).collect()
}

pub(crate) fn words(findings: &[Finding]) -> String {
    let line = |f: &Finding| {
        format!(
            "{}: {}; found {}; required {}\n",
            f.rule.as_str(),
            f.message,
            f.found,
            f.required
        )
    };
    findings.iter().map(line).collect()
}

pub(crate) fn rules(findings: &[Finding]) -> BTreeSet<&str> {
    findings.iter().map(|f| f.rule.as_str()).collect()
}
