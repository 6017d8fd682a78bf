//! What the test binaries share. First of all, one way from the text of a job to its layout
//! and findings.

pub(crate) mod composed;
pub(crate) mod ink;
pub(crate) mod joins;
pub(crate) mod pdf;
pub(crate) mod program;
pub(crate) mod random;
pub(crate) mod raw_pdf;
pub(crate) mod samples;
pub(crate) mod straps;
pub(crate) mod strokes;

use proptest::prelude::ProptestConfig;
use strapwright::Laid;
use strapwright::assembly::fit_and_lay_out;
use strapwright::diagnostic::{Finding, Sources, Style, text};
use strapwright::geom::{Length, Point};
use strapwright::job::read;
use strapwright::paginate::{Heading, Paper, Request, SheetSet, paginate};
use strapwright::{Prepared, prepare};

/// A job as far as it goes.
pub(crate) struct Run {
    pub(crate) sources: Sources,
    pub(crate) findings: Vec<Finding>,
    pub(crate) laid: Option<Laid>,
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
        text(&self.findings, &self.sources, Style::Plain)
    }
}

/// The layout of a job, which may break rules of design but must have one.
pub(crate) fn laid(job: &str, sets: &[&str]) -> Laid {
    let sets: Vec<String> = sets.iter().map(|s| (*s).to_owned()).collect();
    let reading = read("job.toml", job, &sets);
    let job = reading.job.unwrap_or_else(|| unreachable!("{:?}", reading.findings));
    let (fit, layout) = fit_and_lay_out(&job).unwrap();
    (job, fit, layout)
}

/// Its sheets on a paper.
pub(crate) fn printed((job, fit, layout): &Laid, paper: &str) -> SheetSet {
    let heading = Heading::new(job, fit.as_ref(), layout);
    paginate(&Request::new(layout, &heading, &Paper::parse(paper).unwrap())).unwrap()
}

/// The rules of findings, in their order.
pub(crate) fn rules(findings: &[Finding]) -> Vec<&'static str> {
    findings.iter().map(|f| f.rule.as_str()).collect()
}

/// The text and the line that a finding points at: the name of the one, the other whole.
pub(crate) fn line<'a>(
    sources: &'a Sources,
    finding: &Finding,
) -> Option<(&'a str, &'a str)> {
    let span = finding.span.as_ref()?;
    let source = sources.get(span.source)?;
    let (line, _) = sources.line_column(span)?;
    Some((&source.name, source.text.lines().nth(line - 1).unwrap_or_default()))
}

/// The jobs of files where each follows `== ` and a head of one line: heads and jobs.
pub(crate) fn blocks<'a>(files: &[&'a str]) -> Vec<(&'a str, &'a str)> {
    let blocks = files.iter().flat_map(|file| file.split("\n== ").skip(1));
    blocks.map(|block| block.split_once('\n').expect("a head")).collect()
}

/// So many cases of a property, without a file of those that failed.
pub(crate) fn cases(cases: u32) -> ProptestConfig {
    ProptestConfig { cases, failure_persistence: None, ..ProptestConfig::default() }
}

/// A length in mm, as a number.
pub(crate) fn mm(length: Length) -> f64 {
    length.nm() as f64 / 1e6
}

/// A place in mm.
pub(crate) fn spot<S: Copy>(at: Point<S>) -> (f64, f64) {
    (mm(at.x), mm(at.y))
}

/// How far two places are apart.
pub(crate) fn far(a: (f64, f64), b: (f64, f64)) -> f64 {
    libm::hypot(a.0 - b.0, a.1 - b.1)
}
