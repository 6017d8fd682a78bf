//! Jobs broken as they are at a bench, over every template: each is found by its rule, at
//! its line, without a flood of what follows from it.

use crate::common::{blocks, line};
use std::collections::BTreeSet;
use strapwright::diagnostic::{Style, text};
use strapwright::{check, job, layout, prepare, template};

const FILES: [&str; 5] = [
    include_str!("belt.txt"),
    include_str!("text.txt"),
    include_str!("worn.txt"),
    include_str!("carried.txt"),
    include_str!("hardware.txt"),
];

/// What a person reads before losing heart.
const MOST_FINDINGS: usize = 4;

struct Broken<'a> {
    template: &'a str,
    rule: &'a str,
    text: String,
    /// The line that the rule must point at; `None` where there is none to point at.
    line: Option<&'a str>,
}

fn all() -> Vec<Broken<'static>> {
    blocks(&FILES).into_iter().map(one).collect()
}

/// The text of each, with its template.
pub(crate) fn texts() -> impl Iterator<Item = (&'static str, String)> {
    all().into_iter().map(|broken| (broken.template, broken.text))
}

fn one<'a>((head, lines): (&'a str, &'a str)) -> Broken<'a> {
    let (template, rule) = head.split_once(": ").expect("template: rule");
    let mut own = lines.trim().lines();
    let line = own.clone().find_map(|l| l.strip_prefix("> "));
    let nowhere = own.any(|l| l.starts_with('#') && l.ends_with("(nowhere)"));
    assert!(line.is_some() || nowhere, "no line to point at: {lines}");
    let said = lines.trim().lines().map(|l| l.strip_prefix("> ").unwrap_or(l));
    let body: Vec<&str> = said.collect();
    let named = body.iter().any(|l| l.starts_with("template = "));
    let first =
        if named { String::new() } else { format!("template = \"{template}\"\n") };
    Broken { template, rule, text: first + &body.join("\n") + "\n", line }
}

#[test]
fn every_broken_job_is_found_by_its_rule_at_its_line() {
    let mut wrong = Vec::new();
    for broken in all() {
        let run = prepare("job.toml", &broken.text, &[]);
        let hit = run.findings.iter().any(|f| {
            f.rule.as_str() == broken.rule
                && line(&run.sources, f).map(|(_, line)| line) == broken.line
                && !f.found.is_empty()
                && !f.required.is_empty()
                && !f.remedy.is_empty()
        });
        let is_flood = run.findings.len() > MOST_FINDINGS;
        if !hit || is_flood {
            wrong.push(format!(
                "---- {} should find in {}{}:\n{}\n{}",
                broken.rule,
                broken.template,
                if is_flood { " with fewer findings" } else { "" },
                broken.text,
                text(&run.findings, &run.sources, Style::Plain)
            ));
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
fn every_template_and_rule_has_a_broken_job() {
    let texts: BTreeSet<String> = all().into_iter().map(|b| b.text).collect();
    assert_eq!(texts.len(), all().len(), "one stands there twice");
    assert!(texts.len() >= 200, "{}", texts.len());
    let templates: BTreeSet<&str> = all().iter().map(|b| b.template).collect();
    let known = template::REGISTER.iter().map(|t| t.name).collect();
    assert_eq!(templates, known);
    let rules: BTreeSet<&str> = all().iter().map(|b| b.rule).collect();
    let tables = job::RULES.iter().chain(layout::RULES).map(|(id, _)| id.as_str());
    // Templates of the user's own are broken in `own_templates.rs`, nested sizes in
    // `stock_sizes.rs`, names of a profile in `house.rs`, what is beyond all bounds in `limits.rs`.
    let own = [
        "unread-template",
        "template-cycle",
        "not-nestable",
        "job-limit",
        "hardware-kind",
        "house-differs",
    ];
    let known: BTreeSet<&str> = check::REGISTER
        .iter()
        .map(|r| r.id.as_str())
        .chain(tables)
        .filter(|id| !own.contains(id))
        .collect();
    assert_eq!(rules, known, "give every rule a broken job");
}
