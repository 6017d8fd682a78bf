//! The text of a job, up to its findings as people and scripts read them.

use super::Target;
use crate::common::random::Random;
use crate::common::samples;
use crate::mutate::text;
use std::sync::OnceLock;
use strapwright::diagnostic::{self, Style};
use strapwright::export::marks_csv::marks;
use strapwright::job::FeatureKind;
use strapwright::template::REGISTER;
use strapwright::{Prepared, prepare};

pub(crate) const TARGET: Target = Target { name: "job", weight: 10, input, run };

/// What jobs and templates are made of, the kinds of feature too.
pub(crate) fn words() -> &'static [&'static str] {
    static ALL: OnceLock<Vec<&str>> = OnceLock::new();
    ALL.get_or_init(|| WORDS.iter().copied().chain(FeatureKind::names()).collect())
}

const WORDS: &[&str] = &[
    "strap",
    "measure",
    "buckle",
    "blank",
    "stock",
    "serves",
    "about",
    "kind",
    "on",
    "mirror-about",
    "from",
    "by",
    "to",
    "to-by",
    "count",
    "pitch",
    "diameter",
    "rows",
    "rows-apart",
    "across",
    "piece",
    "keeper",
    "lining",
    "along",
    "outline",
    "edges",
    "box",
    "line",
    "inset",
    "fit.size-hole",
    "fit.bar",
    "strap.zero",
    "strap.start",
    "strap.end",
    "strap.width",
    "pi x strap.width",
    "1000",
    "strap.width / 3",
    "2.5 x strap.width",
    " + ",
    " - ",
    "1 km",
    "1000 m",
    "100 km",
    "0 mm",
    "-5 mm",
    "0.000001 mm",
    "1/64 in",
    "true",
    "false",
    "mirrored",
    "english-point",
    "round",
    "straight",
    "spear",
    "gaps",
    "middles",
    "pattern",
    "stock.sizes",
    "28 to 46 in by 2 in",
    "1 to 1000 m by 1 mm",
    "alpha",
    "template",
    "title",
    "wearer",
];

pub(crate) fn jobs() -> &'static [String] {
    static JOBS: OnceLock<Vec<String>> = OnceLock::new();
    JOBS.get_or_init(|| {
        let own = samples::jobs().into_iter().map(|(_, text)| text);
        let templates = REGISTER.iter().map(|t| format!("template = \"{}\"\n", t.name));
        own.chain(templates).collect()
    })
}

fn input(random: &mut Random) -> Vec<u8> {
    text(random, jobs(), words())
}

fn run(input: &[u8]) -> bool {
    read(&String::from_utf8_lossy(input), &[])
}

/// Reads a job as far as it goes, and says what is wrong with it; whether it may be drawn.
pub(crate) fn read(text: &str, sets: &[String]) -> bool {
    let Prepared { sources, findings, laid } = prepare("job.toml", text, sets);
    assert!(
        laid.is_some() || diagnostic::forbids_print(&findings),
        "nothing laid or said"
    );
    let words = diagnostic::text(&findings, &sources, Style::Plain);
    assert!(findings.is_empty() || !words.is_empty());
    assert!(words.len() < 1 << 20, "{} bytes of words", words.len());
    assert!(diagnostic::json(&findings, &sources).starts_with('['));
    for finding in &findings {
        assert!(!finding.remedy.is_empty(), "{finding:?}");
    }
    if let Some((_, _, layout)) = laid {
        assert!(!marks(&layout).is_empty());
    }
    !diagnostic::forbids_print(&findings)
}
