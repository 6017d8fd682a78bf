//! Every rule has a job that breaks it, and the finding says where, what, and what would
//! do.

mod case;
mod design;
mod text;
mod words;

use crate::common::{Run, belt, line, run};
use case::Case;
use design::DESIGN;
use std::collections::BTreeSet;
use std::path::Path;
use strapwright::diagnostic::{Finding, Severity};
use strapwright::{check, job, layout, template};
use text::TEXT;

fn cases() -> impl Iterator<Item = &'static Case> {
    DESIGN.iter().chain(TEXT)
}

fn made(job: &str) -> Run {
    if job.contains("template =") { run(job, &[]) } else { belt(job) }
}

#[test]
fn every_rule_fires_where_it_should() {
    let sound = belt("");
    assert!(sound.findings.is_empty() && sound.laid.is_some(), "{}", sound.text());
    let mut wrong = Vec::new();
    for case in cases() {
        let run = made(case.job);
        let fits = run.findings.iter().any(|f| {
            f.rule.as_str() == case.rule
                && line(&run.sources, f).map_or("", |(_, line)| line) == case.line
                && f.found.contains(case.found)
                && f.required.contains(case.required)
                && !f.remedy.is_empty()
        });
        if !fits {
            wrong.push(format!("{} is not as it should be:\n{}", case.rule, run.text()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// What `explain` shows of a rule is true: the one example breaks it, the other does not.
#[test]
fn the_examples_of_a_rule_break_and_keep_it() {
    for rule in check::REGISTER {
        let fires = |job| made(job).findings.iter().any(|f| f.rule == rule.id);
        let [breaks, keeps] = rule.examples().expect("two examples");
        assert!(fires(breaks), "{} is not broken", rule.id);
        assert!(!fires(keeps), "{}: {}", rule.id, made(keeps).text());
    }
}

/// Rules whose cases stand elsewhere: those about own templates in `own_templates.rs`, that
/// about nested sizes in `stock_sizes.rs`, those about a profile in `house.rs`.
const ELSEWHERE: [&str; 5] = [
    "unread-template",
    "template-cycle",
    "not-nestable",
    "hardware-kind",
    "house-differs",
];

#[test]
fn every_rule_has_a_case() {
    let cases: BTreeSet<&str> = cases().map(|c| c.rule).chain(ELSEWHERE).collect();
    let tables = job::RULES.iter().chain(layout::RULES).map(|(id, _)| id.as_str());
    let rules: BTreeSet<&str> =
        check::REGISTER.iter().map(|r| r.id.as_str()).chain(tables).collect();
    assert_eq!(
        cases, rules,
        "give each rule of a register a case in tests/straps/findings"
    );
}

/// Another unit is asked after only where the number can have been written in it.
#[test]
fn a_girth_that_no_body_has_asks_after_what_can_be_wrong() {
    for (lines, asks) in [
        ("measure.value = \"86 in\"", "centimetres instead of inches?"),
        ("measure.value = \"25 cm\"", "inches instead of centimetres?"),
        ("measure.value = \"92 cm\"\nmeasure.body = \"neck\"", "measure.body"),
        ("measure.value = \"9 m\"", "a tenth of that?"),
        ("measure.value = \"1,000 m\"\nmeasure.body = \"wrist\"", "measure.body"),
    ] {
        let run = belt(lines);
        let found = run.findings.iter().find(|f| f.rule.as_str() == "girth");
        let remedy = found.map(|f| f.remedy.as_str()).unwrap_or_default();
        assert!(remedy.contains(asks), "{lines}: {}", run.text());
    }
}

/// A job without a measure is another body's; a size of its stock is one.
#[test]
fn a_measure_that_nobody_gave_is_told() {
    let stock = "template = \"belt\"\nstock.sizes = [\"34 in\", \"36 in\"]\n";
    for (job, told) in [
        ("template = \"belt\"", true),
        ("template = \"belt\"\nmeasure.value = \"34 in\"", false),
        (stock, true),
        (&format!("{stock}stock.size = \"36 in\""), false),
        ("template = \"lead\"", false),
    ] {
        let run = run(job, &[]);
        let found = run.findings.iter().any(|f| f.rule.as_str() == "measure-not-given");
        assert_eq!(found, told, "{job}: {}", run.text());
    }
    // From the frame of a buckle: the hole moves with what that is taken to be.
    for (lines, told) in [
        ("measure.taken = \"frame-to-hole\"", true),
        ("measure.taken = \"frame-to-hole\"\nbuckle.frame = \"38 mm\"", false),
        ("measure.taken = \"bar-to-hole\"", false),
    ] {
        let run = belt(lines);
        let found = run.findings.iter().find(|f| f.rule.as_str() == "measure-not-given");
        assert_eq!(found.is_some(), told, "{lines}: {}", run.text());
        let frame = |f: &Finding| f.remedy.contains("buckle.frame");
        assert!(found.is_none_or(frame), "{lines}: {}", run.text());
    }
    let set = run("template = \"belt\"", &["measure.value=34 in".to_owned()]);
    assert!(set.findings.is_empty(), "{}", set.text());
}

#[test]
fn the_demo_job_is_sound() {
    let demo = run(template::DEMO_JOB, &[]);
    assert!(demo.findings.is_empty(), "{}", demo.text());
}

#[test]
fn three_mistakes_are_three_findings() {
    let run =
        belt("strap.width = 38\nsize-holes.ptich = \"1 in\"\ntip.shape = \"square\"");
    let rules: BTreeSet<&str> = run.findings.iter().map(|f| f.rule.as_str()).collect();
    assert_eq!(run.findings.len(), 3, "{}", run.text());
    assert_eq!(rules, BTreeSet::from(["bad-length", "unknown-key", "bad-value"]));
}

#[test]
fn an_unknown_key_does_not_hide_a_mistake_of_design() {
    let run = belt("size-holes.ptich = \"1 in\"\nstrap.width = \"60 mm\"");
    let rules: Vec<&str> = run.findings.iter().map(|f| f.rule.as_str()).collect();
    assert_eq!(rules, ["unknown-key", "strap-to-buckle"], "{}", run.text());
}

/// A key that only the template's own text uses is idle once the job replaces that text;
/// the job did nothing wrong. A key that the job itself leaves idle is found.
#[test]
fn only_the_jobs_own_idle_keys_are_findings() {
    let sound = belt("tip.by = \"3 in\"");
    assert!(sound.findings.is_empty(), "{}", sound.text());
    let idle = belt("tip.by = \"3 in\"\ntip.past-last-hole = \"4 in\"");
    assert_eq!(idle.findings.len(), 1, "{}", idle.text());
    assert_eq!(idle.findings[0].rule.as_str(), "unknown-key");
}

/// However deep a text nests or refers, it is found and the stack holds.
#[test]
fn endless_chains_are_findings() {
    let links = (0..1_500).map(|n| format!("strap.a{n} = \"strap.a{}\"", n + 1));
    let first = "strap.width = \"strap.a0\"".to_owned();
    let chain: Vec<String> = std::iter::once(first).chain(links).collect();
    let done = belt(&chain.join("\n"));
    assert!(
        done.findings.iter().any(|f| f.rule.as_str() == "reference-cycle"),
        "no end, no word"
    );
    let dots = run(template::DEMO_JOB, &[format!("{}=1", "a.".repeat(200_000))]);
    assert_eq!(dots.findings.len(), 1, "{}", dots.findings.len());
    assert_eq!(dots.findings[0].rule.as_str(), "job-syntax");
}

/// A length of any key may be as long as text can say: it is found, and nothing overflows.
#[test]
fn lengths_of_100_km_are_findings() {
    let belt_template = template::find("belt").expect("the belt");
    let mut tried = 0;
    for key in template::about_chain(&[belt_template.text]).keys {
        let default = key.default.unwrap_or_else(|| "\"1 m\"".to_owned());
        if !default.starts_with('"') || !default.contains([' ', '.']) {
            continue;
        }
        for value in [
            "900 m + 900 m",
            "100000 m",
            "-100000 m",
            "1001 m",
            "1000 m",
            "999999 x strap.width",
        ] {
            let run = belt(&format!("{} = \"{value}\"", key.name));
            // A kilometre is read, and may stand in a key that this belt has no use for.
            let read = value == "1000 m";
            assert!(read || !run.findings.is_empty(), "{} = {value}", key.name);
        }
        tried += 1;
    }
    assert!(tried > 15, "only {tried} keys hold lengths");
}

/// What a person reads, whole: look at the files after a change, and set `BLESS=1` to
/// write them anew.
#[test]
#[expect(clippy::disallowed_methods, reason = "a test file, written on request alone")]
fn findings_read_as_they_should() {
    let all = [
        ("cm-for-inch", "measure.value = \"86 in\""),
        ("bare-number", "strap.width = 38"),
        ("misspelt-key", "size-holes.ptich = \"1 in\""),
        ("unknown-unit", "measure.value = \"34 zoll\""),
        ("bad-shape", "tip.shape = \"english\""),
        ("cycle", "strap.width = \"buckle.inside\"\nbuckle.inside = \"strap.width\""),
        ("unknown-datum", "fittings.to = \"size-holes.frist\""),
        ("tip-too-near", "tip.past-last-hole = \"1 in\""),
        ("stock-unknown-range", "stock.sizes = \"leters-men\""),
        ("stock-order", "stock.sizes = [\"34 in\", \"36 in\", \"32 in\"]"),
        ("stock-doubled", "stock.sizes = [\"34 in\", \"36 in\", \"36 in\"]"),
        ("stock-no-unit", "stock.sizes = [32, 34]"),
        ("stock-span", "stock.sizes = \"28 to 45 in by 2 in\""),
        ("stock-size", "stock.sizes = \"belts-24-48\"\nstock.size = \"33\""),
        ("stock-girth", "stock.sizes = \"70 to 110 in by 10 in\""),
        ("stock-taken", "stock.sizes = \"letters-men\"\nstock.size = \"M\""),
        ("not-toml", "title = Belt"),
        (
            "three-mistakes",
            "strap.width = 38\nsize-holes.ptich = \"1 in\"\ntip.shape = \"square\"",
        ),
    ];
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden");
    let bless = std::env::var_os("BLESS").is_some();
    for (name, job) in all {
        let file = folder.join(format!("{name}.txt"));
        let text = belt(job).text();
        if bless {
            std::fs::write(&file, &text).expect("tests/golden can be written");
        }
        let golden = std::fs::read_to_string(&file).unwrap_or_default();
        assert_eq!(text, golden, "{name}: if it reads well, run again with BLESS=1");
    }
}

/// Two openings that a blank has already are a doubt of the job; one of them that is punched
/// is a ragged hole.
#[test]
fn openings_of_a_blank_that_meet_are_a_warning() {
    let fittings = "fittings.from = \"size-holes.first\"\nfittings.count = 1\n";
    for (on_blank, severity) in [
        ("[\"size-holes\", \"fittings\"]", Severity::Warning),
        ("[\"size-holes\"]", Severity::Error),
        ("[]", Severity::Error),
    ] {
        let run = belt(&format!("{fittings}blank.punched = {on_blank}"));
        let mut meet = run.findings.iter().filter(|f| f.rule.as_str() == "marks-overlap");
        assert_eq!(meet.next().map(|f| f.severity), Some(severity), "{on_blank}");
    }
}

/// A `--set` that holds TOML is read as such, and a finding points into the word itself.
#[test]
fn a_set_is_read_where_it_stands() {
    let text = "template = \"belt\"\n";
    let sound = job::read("job", text, &["blank.punched=true".to_owned()]);
    let features = sound.job.expect("no mistake").features;
    let on_blank: Vec<&str> =
        features.iter().filter(|f| f.on_blank).map(|f| f.name.as_str()).collect();
    assert_eq!(on_blank, ["turn-back"]);
    let word = "blank.punched=[\"turn-back\", \"tipp\"]";
    let wrong = job::read("job", text, &[word.to_owned()]);
    let span = wrong.findings[0].span.clone().expect("a place");
    assert_eq!(&word[span.range], "\"tipp\"");
    assert_eq!(wrong.findings[0].remedy, "did you mean `tip`?");
}

#[test]
fn a_key_outside_its_table_is_told_where_it_belongs() {
    let run = belt("widht = \"35 mm\"\nthickness = \"3 mm\"\npitch = \"1 in\"");
    let said: Vec<&str> = run.findings.iter().map(|f| f.remedy.as_str()).collect();
    let tables = ["keeper.thickness", "strap.thickness", "size-holes.pitch"];
    for key in tables {
        assert!(said.iter().any(|words| words.contains(key)), "{key}: {said:?}");
    }
    assert_eq!(run.findings.len(), 3, "{said:?}");
}
