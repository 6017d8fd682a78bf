//! Printer files and calibrations with mistakes: every rule of the stage fires where it
//! should.

use super::calibrated::{SOUND, fitted, known};
use std::collections::BTreeSet;
use strapwright::diagnostic::{Finding, Severity, Sources};
use strapwright::fit::RulerClass;
use strapwright::geom::Ratio;
use strapwright::paginate::{Factor, Paper};
use strapwright::printer::{Dated, RULES, read};

/// What a rule finds: its weight, a part of what was found and of what is required.
struct Case {
    rule: &'static str,
    severity: Severity,
    found: &'static str,
    required: &'static str,
    findings: Vec<Finding>,
}

fn case(
    (rule, severity): (&'static str, Severity),
    found: &'static str,
    required: &'static str,
    findings: Vec<Finding>,
) -> Case {
    Case { rule, severity, found, required, findings }
}

fn of_file(change: [&str; 2]) -> Vec<Finding> {
    let [from, to] = change;
    assert!(SOUND.contains(from));
    known(&SOUND.replace(from, to)).1
}

/// A reading of a printer with this factor along the long edge, sure to 0.1 %.
fn reading(long: i64, anew: bool) -> Dated {
    let factor = |by| Factor {
        by: Ratio::from_millionths(by),
        proven: Ratio::from_millionths(1_000),
    };
    let [print, ruler, stock, note] = [""; 4].map(ToOwned::to_owned);
    let (long, short, class) = (factor(long), factor(998_000), RulerClass::II);
    Dated {
        date: "2026-03-15".into(),
        print,
        long,
        short,
        class,
        ruler,
        stock,
        note,
        anew,
    }
}

#[expect(clippy::too_many_lines, reason = "one after the other, every rule")]
fn cases() -> Vec<Case> {
    use Severity::{Error, Warning};
    let [a4, letter] = ["a4", "letter"].map(|paper| Paper::parse(paper).unwrap());
    let sound = known(SOUND).0.unwrap();
    vec![
        case(("printer-syntax", Error), "", "one a line", of_file(["\"A4\"", "A4"])),
        case(
            ("printer-key", Error),
            "`provn`",
            "a key of a printer file",
            of_file(["proven = 0.001", "proven = 0.001\nprovn = 1"]),
        ),
        case(
            ("printer-missing", Error),
            "nothing",
            "a factor such as",
            of_file(["short = 0.998\n", ""]),
        ),
        case(
            ("printer-value", Error),
            "`1.0125`",
            "a factor such as",
            of_file(["1.0125", "\"1.0125\""]),
        ),
        case(
            ("printer-value", Error),
            "the number 8",
            "a length from \"3 mm\" to \"40 mm\"",
            of_file(["\"8 mm\"", "8"]),
        ),
        case(("printer-value", Error), "`A9`", "a paper such as", of_file(["A4", "A9"])),
        case(
            ("printer-value", Error),
            "`漢`",
            "60 Latin, Greek or Cyrillic",
            of_file(["front-desk", "漢"]),
        ),
        case(
            ("implausible-scale", Error),
            "×1.125",
            "0.96 to 1.04",
            of_file(["1.0125", "1.125"]),
        ),
        case(
            ("implausible-scale", Error),
            "×0.95",
            "0.96 to 1.04",
            of_file(["1.0125", "0.95"]),
        ),
        case(
            ("printer-value", Error),
            "the number 0",
            "a part from 0.0001 to 0.05",
            of_file(["proven = 0.001", "proven = 0"]),
        ),
        case(
            ("printer-value", Error),
            "`yesterday`",
            "a day such as \"2026-03-14\"",
            of_file(["2026-03-14", "yesterday"]),
        ),
        case(
            ("printer-missing", Error),
            "nothing",
            "one or more tables [[reading]]",
            known("name = \"desk\"\npaper = \"A4\"\n").1,
        ),
        case(
            ("printer-changed", Error),
            "×1.02 by this print",
            "×1.0125 by 1 reading until 2026-03-14",
            sound.on_adding(&a4, None, &reading(1_020_000, false), false),
        ),
        case(
            ("other-printer", Warning),
            "a print for `attic`",
            "one for `front-desk`",
            sound.on_adding(&a4, Some("attic"), &reading(1_012_500, false), false),
        ),
        case(
            ("same-reading", Error),
            "on 2026-03-14",
            "another reading",
            sound.on_adding(&a4, None, &sound.readings[0], false),
        ),
        case(
            ("other-fit", Error),
            "a print fitted to the page",
            "one at 100 %",
            sound.on_adding(&a4, None, &reading(1_012_500, false), true),
        ),
        case(
            ("other-paper", Error),
            "`Letter`",
            "`A4`",
            sound.on_adding(&letter, None, &reading(1_012_500, false), false),
        ),
        case(
            ("other-paper", Error),
            "`Letter`",
            "`A4`",
            fitted().on(&letter).into_iter().collect(),
        ),
        case(
            ("other-paper", Warning),
            "`Letter`",
            "`A4`",
            sound.on(&letter).into_iter().collect(),
        ),
    ]
}

#[test]
fn every_rule_fires_where_it_should() {
    for case in cases() {
        let hit = case.findings.iter().find(|f| {
            f.rule.as_str() == case.rule
                && f.severity == case.severity
                && f.found.contains(case.found)
                && f.required.contains(case.required)
        });
        let told = format!("{} {}: {:#?}", case.rule, case.found, case.findings);
        assert!(
            hit.is_some_and(|f| !f.remedy.is_empty() && !f.message.is_empty()),
            "{told}"
        );
    }
}

#[test]
fn every_rule_has_a_case() {
    let cases: BTreeSet<&str> = cases().iter().map(|c| c.rule).collect();
    let rules: BTreeSet<&str> = RULES.iter().map(|(id, _)| id.as_str()).collect();
    assert_eq!(
        cases, rules,
        "give each rule of printer::RULES a case in tests/sheets/printer_findings.rs"
    );
}

#[test]
fn sound_files_have_no_findings() {
    let (printer, findings) = known(SOUND);
    assert_eq!(findings, []);
    let printer = printer.unwrap();
    assert_eq!(printer.on(&Paper::parse("210x297mm").unwrap()), None);
    assert_eq!(printer.correction.long.by.to_string(), "1.0125");
    // √(0.1² + 0.081²) = 0.1287 %, rounded up to the 1e-5.
    assert_eq!(printer.correction.long.proven.to_string(), "0.00129");
    let a4 = Paper::parse("a4").unwrap();
    assert_eq!(printer.on_adding(&a4, None, &reading(1_013_000, false), false), []);
    assert_eq!(printer.on_adding(&a4, None, &reading(1_020_000, true), false), []);
}

/// One error alone forbids a file, and a mistake does not hide the next.
#[test]
fn mistakes_are_found_together_and_with_their_place() {
    let text = SOUND
        .replace("\"8 mm\"", "\"8 cm\"")
        .replace("short = 0.998", "shortt = 0.998")
        .replace("proven = 0.001", "proven = \"x\"");
    let mut sources = Sources::default();
    let known = read(&mut sources, "p.toml", &text);
    assert!(known.printer.is_none());
    let at: Vec<_> = known
        .findings
        .iter()
        .map(|f| {
            (sources.line_column(f.span.as_ref().unwrap()).unwrap().0, f.rule.as_str())
        })
        .collect();
    assert_eq!(
        at,
        [
            (3, "printer-value"),
            (7, "printer-value"),
            (8, "printer-key"),
            (4, "printer-missing")
        ]
    );
    assert_eq!(known.findings[2].remedy, "did you mean `short`?");
    for junk in ["", "reading = 3", "[reading]", "\u{0}", "[[reading]]\nlong = 1e300"] {
        let known = read(&mut Sources::default(), "p.toml", junk);
        assert!(known.printer.is_none() && !known.findings.is_empty(), "{junk}");
    }
}
