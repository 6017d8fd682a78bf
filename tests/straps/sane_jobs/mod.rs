//! Jobs as they should be, over every template, in all units: nothing is found in them.

use crate::common::blocks;
use std::collections::BTreeSet;
use strapwright::diagnostic::{Style, text};
use strapwright::{prepare, template};

const FILES: [&str; 2] = [include_str!("worn.txt"), include_str!("carried.txt")];

/// Each job with its template.
pub(crate) fn all() -> Vec<(&'static str, String)> {
    let job =
        |(template, lines)| (template, format!("template = \"{template}\"\n{lines}"));
    blocks(&FILES).into_iter().map(job).collect()
}

#[test]
fn nothing_is_found_in_a_sane_job() {
    let mut wrong = Vec::new();
    for (_, job) in all() {
        let run = prepare("job.toml", &job, &[]);
        if !run.findings.is_empty() || run.laid.is_none() {
            let found = text(&run.findings, &run.sources, Style::Plain);
            wrong.push(format!("----\n{job}\n{found}"));
        }
    }
    assert!(
        wrong.is_empty(),
        "{} of {}:\n{}",
        wrong.len(),
        all().len(),
        wrong.join("\n")
    );
}

#[test]
fn every_template_has_a_sane_job() {
    let texts: BTreeSet<String> = all().into_iter().map(|(_, job)| job).collect();
    assert!(texts.len() >= 50, "{}", texts.len());
    let templates: BTreeSet<&str> = all().iter().map(|(template, _)| *template).collect();
    assert_eq!(templates, template::REGISTER.iter().map(|t| t.name).collect());
}
