//! Printer files and calibrations with mistakes: every rule of the stage fires where it
//! should.

use super::calibrated::{
    SOUND, UNFITTED, calibrated, calibrated_on, fitted, known, plain,
};
use std::collections::BTreeSet;
use strapwright::diagnostic::{Finding, Severity, Sources};
use strapwright::fit::{MeasurementUncertainty, RulerClass};
use strapwright::geom::Length;
use strapwright::paginate::Paper;
use strapwright::printer::{RULES, read};

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

#[expect(clippy::too_many_lines, reason = "one after the other, every rule")]
fn cases() -> Vec<Case> {
    use Severity::{Error, Note, Warning};
    let letter = Paper::parse("letter").unwrap();
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
            of_file(["by = 0.998\n", ""]),
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
            "within 8 %",
            of_file(["1.0125", "1.125"]),
        ),
        case(
            ("implausible-scale", Error),
            "26 mm (~1 1/32 in) where 260 mm",
            "239.2 to 280.8 mm",
            plain(["2.6 cm", "160 mm", ""]).findings,
        ),
        case(
            ("implausible-scale", Error),
            "0 mm (0 in) where 160 mm",
            "147.2 to 172.8 mm",
            plain(["260 mm", "0 mm", ""]).findings,
        ),
        case(
            ("implausible-scale", Error),
            "30 mm",
            "309.0 to 362.8 mm",
            calibrated(["259 mm", "159 mm", ""], Some(["336 mm", "30 mm"]), None, |_| {})
                .findings,
        ),
        // 260/257 = 1.01167, 160/163 = 0.98160.
        case(
            ("axes-apart", Error),
            "3.01 % apart",
            "at most 2 %",
            plain(["257 mm", "163 mm", ""]).findings,
        ),
        case(
            ("axes-apart", Warning),
            "3.01 % apart",
            "at most 2 %",
            calibrated(["257 mm", "163 mm", ""], None, None, |a| a.must_part = true)
                .findings,
        ),
        case(
            ("axes-apart", Warning),
            "3.25 % apart",
            "at most 2 %",
            of_file(["0.998", "0.98"]),
        ),
        // 95.9 % of both.
        case(
            ("fitted-to-page", Error),
            "both axes at 95.9 %",
            "100 %",
            plain(["249.3 mm", "153.4 mm", ""]).findings,
        ),
        case(
            ("fitted-to-page", Error),
            "both axes at 103.0 %",
            "100 %",
            plain(["267.8 mm", "164.8 mm", "1133 mm"]).findings,
        ),
        case(
            ("fitted-to-page", Warning),
            "both axes at 95.9 %",
            "100 %",
            calibrated(["249.3 mm", "153.4 mm", ""], None, None, |a| a.must_fit = true)
                .findings,
        ),
        // 94.0 and 95 %, the one much surer than the other; then farther apart.
        case(
            ("fitted-to-page", Error),
            "both axes at 94.5 %",
            "100 %",
            plain(["244.5 mm", "152 mm", "1034 mm"]).findings,
        ),
        case(
            ("fitted-to-page", Error),
            "both axes at 95.0 %",
            "100 %",
            plain(["244.5 mm", "153.5 mm", "1034 mm"]).findings,
        ),
        // Upright, with room for ×1.0526: bars of 160 and 230 mm, 5.2 % too long.
        case(
            ("printed-unfitted", Warning),
            "width at 105.3 %, height at 105.3 %",
            "100 %, which the fit",
            calibrated(UNFITTED, None, Some(&fitted()), |_| {}).findings,
        ),
        case(
            ("printed-unfitted", Error),
            "width at 105.3 %, height at 105.3 %",
            "100 %, which the fit",
            calibrated(UNFITTED, None, Some(&fitted()), |a| a.must_fit = true).findings,
        ),
        // 97.9 % and 100.1 %, where √(0.351² + 0.112²) = 0.37 % is what rulers leave open.
        case(
            ("readings-disagree", Error),
            "the bar says 97.88 % (±0.35), A to B says 100.09 % (±0.11)",
            "agree",
            plain(["254.5 mm", "160 mm", "1101 mm"]).findings,
        ),
        // √(4/3 · 0.25 + 0.5) = 0.9129 of 260 mm is 0.351 %, of 1100 mm 3.9 mm.
        case(
            ("proves-too-little", Warning),
            "±3.9 mm open from A to B",
            "at most ±1.6 mm",
            plain(["257 mm", "158 mm", ""]).findings,
        ),
        // Strip √(4/3 · 1.4² + 2 · 1.8² + 4 · 1²) = 3.618 of 1100 mm, bar √(4/3 · 1² +
        // 2 · 1.8²) = 2.795 of 260 mm: 0.329 and 1.075 %, together 0.315 %.
        case(
            ("proves-too-little", Warning),
            "±3.5 mm open from A to B",
            "at most ±1.6 mm",
            calibrated(["257 mm", "158 mm", "1087 mm"], None, None, |a| {
                a.measuring = MeasurementUncertainty {
                    ruler: RulerClass::III,
                    reading: Length::from_um(1_800),
                    join: Length::from_mm(1),
                }
            })
            .findings,
        ),
        case(
            ("nothing-to-correct", Note),
            "long edge ×1.001927 ±0.35 %, short edge ×1.003135 ±0.57 %",
            "more than its uncertainty",
            plain(["259.5 mm", "159.5 mm", ""]).findings,
        ),
        // (337² - 334²) / (4 · 277 · 190) = 0.00956 rad = 0.548°; each diagonal sure to
        // 0.9129: 2 · 0.9129 · √(337² + 334²) / (4 · 277 · 190) = 0.00411 rad = 0.236°.
        case(
            ("skewed", Note),
            "0.55° off square, ±0.24°",
            "0°",
            calibrated(
                ["260 mm", "160 mm", ""],
                Some(["337 mm", "334 mm"]),
                None,
                |_| {},
            )
            .findings,
        ),
        // Bars of 210 and 200 mm.
        case(
            ("square-paper", Note),
            "sides of one length",
            "width (`long`)",
            calibrated_on("250x250mm", ["208 mm", "199 mm", ""], None, None, |_| {})
                .findings,
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
fn sound_readings_and_files_have_no_findings() {
    assert_eq!(known(SOUND).1, []);
    assert_eq!(known(SOUND).0.unwrap().on(&Paper::parse("210x297mm").unwrap()), None);
    let done = plain(["257.5 mm", "159.5 mm", "1090 mm"]);
    assert_eq!(done.findings, []);
    let correction = done.printer.unwrap().correction;
    // Strip ×1.009174 ±0.1118 %, bar ×1.009709 ±0.3511 %: weights 9.857 : 1, by hand.
    assert!((correction.long.by.millionths() - 1_009_224).abs() <= 2, "{correction:?}");
    // √(1 / (1/0.1118² + 1/0.3511²)) = 0.1066 %, rounded up to the 1e-5.
    assert_eq!(correction.long.proven.to_string(), "0.00107");
    // 160 / 159.5.
    assert_eq!(correction.short.by.to_string(), "1.003135");
    // 0.9129 / 160 = 0.5705 %.
    assert_eq!(correction.short.proven.to_string(), "0.00571");
}

/// One error alone forbids a file, and a mistake does not hide the next.
#[test]
fn mistakes_are_found_together_and_with_their_place() {
    let text = SOUND
        .replace("\"8 mm\"", "\"8 cm\"")
        .replace("by = 0.998", "bye = 0.998")
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
            (6, "printer-value"),
            (8, "printer-key"),
            (7, "printer-missing")
        ]
    );
    assert_eq!(known.findings[2].remedy, "did you mean `by`?");
    for junk in ["", "long = 3\nshort = [1]", "skew = 1", "\u{0}", "[long]\nby = 1e300"] {
        let known = read(&mut Sources::default(), "p.toml", junk);
        assert!(known.printer.is_none() && !known.findings.is_empty(), "{junk}");
    }
}
