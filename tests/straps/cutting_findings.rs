//! Lists of strips and pieces with mistakes, and the words they get.

use super::cutting::{mm, piece};
use crate::common::cases;
use proptest::prelude::*;
use std::collections::BTreeSet;
use strapwright::check::REGISTER;
use strapwright::cutting::{
    Allowances, Cut, Kind, LONGEST, MOST, RULES, Stock, plan, read,
};
use strapwright::diagnostic::{self, Finding, Sources, Style};
use strapwright::geom::Length;
use strapwright::{job, layout};

const HEADER: &str = "name,length,width,thickness,count\n";

/// The findings of a list of strips, or of planning `pieces` from it.
fn found(list: &str, pieces: &[Cut]) -> (Vec<Finding>, Sources) {
    let mut reading = read("strips", list);
    if !pieces.is_empty() {
        assert!(reading.findings.is_empty(), "{:?}", reading.findings);
        let made = plan(pieces, &reading.stock, &Allowances::default());
        reading.findings = made.map_or_else(|wrong| wrong, |plan| plan.findings);
    }
    (reading.findings, reading.sources)
}

struct Case {
    rule: &'static str,
    list: String,
    pieces: Vec<Cut>,
    /// Line and column, where there are any.
    at: Option<(usize, usize)>,
    found: &'static str,
    required: &'static str,
    remedy: &'static str,
}

fn case(
    rule: &'static str,
    list: impl Into<String>,
    at: (usize, usize),
    [found, required, remedy]: [&'static str; 3],
) -> Case {
    let at = (at.0 > 0).then_some(at);
    Case { rule, list: list.into(), pieces: Vec::new(), at, found, required, remedy }
}

fn rows(rows: &str) -> String {
    format!("{HEADER}{rows}")
}

fn reading_cases() -> Vec<Case> {
    [of_keys(), of_values(), of_limits()].into_iter().flatten().collect()
}

fn of_keys() -> Vec<Case> {
    vec![
        case(
            "stock-syntax",
            "[[strip]]\nname = oak",
            (2, 8),
            ["", "key = \"value\"", "[[strip]]"],
        ),
        case(
            "stock-syntax",
            "strip = 3",
            (1, 9),
            ["the number 3", "a table", "[[strip]]"],
        ),
        case(
            "stock-syntax",
            rows("oak,1,5 m,38 mm,3 mm,2\n"),
            (2, 22),
            ["6 fields", "5, as in the first line", "double quotes"],
        ),
        case("stock-key", "[[strop]]\n", (1, 3), ["`strop`", "strip, blank", "`strip`?"]),
        case(
            "stock-key",
            "[[strip]]\nname = \"oak\"\nlenght = \"1 m\"",
            (3, 1),
            ["`lenght`", "one of: name", "`length`?"],
        ),
        case(
            "stock-key",
            "[[blank]]\nname = \"oak\"\nwidth = \"38 mm\"\nthickness = \"3 mm\"",
            (1, 1),
            ["nothing", "a length for each", "1.5 m"],
        ),
        case(
            "stock-key",
            "name,lenght,width,thickness,count\noak,1.5 m,38 mm,3 mm,2\n",
            (1, 6),
            ["`lenght`", "one each of", "`length`?"],
        ),
        case(
            "stock-key",
            "name,length,width\noak,1 m,38 mm",
            (1, 1),
            ["no thickness", HEADER.trim_ascii_end(), "first line"],
        ),
        case(
            "stock-key",
            "name,name,length,width,thickness\n",
            (1, 6),
            ["`name`", "one each", "take one out"],
        ),
    ]
}

fn of_values() -> Vec<Case> {
    let good = "oak,1.5 m,38 mm,3 mm,2\n";
    let unit = "above 0 mm and up to 1 km";
    vec![
        case(
            "stock-value",
            rows(&format!("{good}ash,150,38 mm,3 mm,2")),
            (3, 5),
            ["`150` has no unit", unit, "1500 mm"],
        ),
        case(
            "stock-value",
            rows("ash,0 mm,38 mm,3 mm,2"),
            (2, 5),
            ["0 mm (0 in)", unit, "1.5 m"],
        ),
        case(
            "stock-value",
            rows("ash,1 m,-38 mm,3 mm,2"),
            (2, 9),
            ["-38 mm", unit, "1.5 m"],
        ),
        case(
            "stock-value",
            rows("ash,1001 m,38 mm,3 mm,2"),
            (2, 5),
            ["1001000 mm", unit, "1.5 m"],
        ),
        case(
            "stock-value",
            rows("ash,1 m,38 mm"),
            (2, 1),
            ["nothing", unit, "measure it"],
        ),
        case(
            "stock-value",
            rows("ash,\"1,5 m\", 38 mm ,drei,2"),
            (2, 21),
            ["`drei`", unit, "1.5 m"],
        ),
        case(
            "stock-value",
            rows(",1 m,38 mm,3 mm,2"),
            (2, 1),
            ["nothing", "up to 100 letters", "short name"],
        ),
        case(
            "stock-value",
            rows("ash,1 m,38 mm,3 mm,1.5"),
            (2, 20),
            ["`1.5`", "0 to 10000", "a whole number"],
        ),
        case(
            "stock-value",
            rows("ash,1 m,38 mm,3 mm,10001"),
            (2, 20),
            ["`10001`", "0 to 10000", "a whole number"],
        ),
        case(
            "stock-value",
            "name;length;width;thickness;kind\nash;1 m;38 mm;3 mm;blnak\n",
            (2, 20),
            ["`blnak`", "one of: strip, blank, cut-blank", "`blank`?"],
        ),
        case(
            "stock-value",
            "[[strip]]\nname = \"oak\"\nlength = 1.5\nwidth = \"38 mm\"\nthickness = \"3 mm\"",
            (3, 10),
            ["the bare number 1.5", unit, "\"1.5 mm\""],
        ),
    ]
}

fn of_limits() -> Vec<Case> {
    vec![
        case("stock-empty", "", (0, 0), ["no entry", "at least one", "[[strip]]"]),
        case("stock-empty", HEADER, (0, 0), ["no entry", "at least one", "columns"]),
        case(
            "stock-limit",
            rows(&"ash,1 m,38 mm,3 mm,9000\n".repeat(2)),
            (3, 1),
            ["18000", "10000 in all", "leave out"],
        ),
        case(
            "stock-limit",
            "x".repeat(5_000),
            (1, 1),
            ["line 1 is longer", "lines of at most 4 KiB", "the file"],
        ),
        case(
            "stock-limit",
            "a\n".repeat(1 << 19) + "a",
            (1, 1),
            ["longer than 1 MiB", "at most 1 MiB", "the file"],
        ),
        case(
            "stock-limit",
            rows(&"ash\n".repeat(400)),
            (27, 1),
            ["1500 more", "few enough to read", "first ones"],
        ),
    ]
}

fn planning_cases() -> Vec<Case> {
    let list =
        rows("oak,1.5 m,38 mm,3 mm,1\nash,2 m,44 mm,3 mm,1\nelm,2 m,38 mm,4 mm,1\n");
    let case = |rule, pieces: Vec<Cut>, words| Case {
        pieces,
        ..case(rule, list.clone(), (0, 0), words)
    };
    let a = |length| piece("A", mm(length));
    let of =
        |width, thickness| Cut { width: mm(width), thickness: mm(thickness), ..a(900) };
    let blank = |kind| Cut { kind, ..a(900) };
    vec![
        case(
            "stock-runs-out",
            vec![a(900), piece("B", mm(800))],
            [
                "strips for 1 of 2",
                "B, strap: 800 mm",
                "add strips of 38 x 3 mm, at least 810 mm",
            ],
        ),
        case(
            "stock-runs-out",
            vec![a(1_600)],
            [
                "strips up to 1500 mm",
                "A, strap: 1600 mm (~62 63/64 in)",
                "at least 1610 mm",
            ],
        ),
        case(
            "stock-runs-out",
            vec![of(20, 3)],
            [
                "no strip of 20 x 3 mm",
                "900 mm",
                "`oak`, 38 x 3 mm: allow that it is ripped",
            ],
        ),
        case(
            "stock-runs-out",
            vec![of(50, 3)],
            ["no strip of 50 x 3 mm", "900 mm", "strap.width"],
        ),
        case(
            "stock-runs-out",
            vec![of(38, 2)],
            ["no strip of 38 x 2 mm", "900 mm", "say so in strap.thickness"],
        ),
        case(
            "stock-runs-out",
            vec![blank(Kind::Blank)],
            ["no blank of 38 x 3 mm", "900 mm", "add blanks"],
        ),
        case(
            "stock-runs-out",
            vec![blank(Kind::CutBlank)],
            ["no cut-blank", "900 mm", "add cut blanks"],
        ),
        case(
            "stock-runs-out",
            (0..9).map(|n| piece(&n.to_string(), mm(1_400))).collect(),
            ["strips for 1 of 9", "and 2 more; in all 11200 mm", "leave out an order"],
        ),
        case("cut-limit", vec![a(0)], ["A, strap: 0 mm", "above 0 mm", "measure"]),
        case(
            "cut-limit",
            vec![Cut { width: LONGEST * 2, ..a(900) }],
            ["A, strap", "1 km", "measure"],
        ),
        case(
            "cut-limit",
            vec![a(900); MOST + 1],
            ["10001 pieces", "at most 10000", "a part"],
        ),
    ]
}

#[test]
fn every_mistake_says_what_where_and_what_would_do() {
    let mut wrong = Vec::new();
    for case in reading_cases().into_iter().chain(planning_cases()) {
        let (findings, sources) = found(&case.list, &case.pieces);
        let fits = |f: &Finding| {
            f.rule.as_str() == case.rule
                && f.span.as_ref().and_then(|p| sources.line_column(p)) == case.at
                && f.found.contains(case.found)
                && f.required.contains(case.required)
                && f.remedy.contains(case.remedy)
        };
        if !findings.iter().any(fits) {
            let words = diagnostic::text(&findings, &sources, Style::Plain);
            wrong.push(format!("{} ({}) is not there:\n{words}", case.rule, case.found));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_rule_has_a_case_and_a_name_of_its_own() {
    let cases = reading_cases().into_iter().chain(planning_cases());
    let tried: BTreeSet<&str> = cases.map(|c| c.rule).collect();
    let rules: BTreeSet<&str> = RULES.iter().map(|(id, _)| id.as_str()).collect();
    assert_eq!(
        tried, rules,
        "give each rule of src/cutting a case in tests/straps/cutting_findings.rs"
    );
    assert_eq!(rules.len(), RULES.len());
    let others = REGISTER.iter().map(|r| r.id.as_str());
    let others =
        others.chain(job::RULES.iter().chain(layout::RULES).map(|(id, _)| id.as_str()));
    assert!(others.into_iter().all(|id| !rules.contains(id)));
}

/// The same strips, whichever way the list is written.
#[test]
fn a_list_reads_the_same_in_every_form() {
    let toml = "[[strip]]\nname = \"oak\"\nlength = \"1.5 m\"\nwidth = \"1 1/2 in\"\n\
                thickness = \"3.5 mm\"\ncount = 4\n\
                [[blank]]\nname = \"ash, long\"\nlength = \"50 in\"\nwidth = \"38 mm\"\n\
                thickness = \"3 mm\"\n";
    let comma = "name,length,width,thickness,count,kind\n\
                 oak,1.5 m,1 1/2 in,3.5 mm,4,\n\"ash, long\",50 in,38 mm,3 mm,1,blank\n";
    let semicolon = "\u{feff}Name;Length;Width;Thickness;Kind;Count\r\n\
                     oak;1,5 m;1 1/2 in;3,5 mm;strip;4\r\n;;;;;\r\n\
                     ash, long;50 in;38 mm;3 mm;BLANK;1\r\n";
    let tabs = "thickness\twidth\tlength\tname\tcount\tkind\n\
                3.5 mm\t1.5\"\t150 cm\toak\t4\n3 mm\t38 mm\t50 in\tash, long\t1\tblank";
    let stock = |name: &str, text: &str| -> Vec<Stock> {
        let reading = read(name, text);
        let words = diagnostic::text(&reading.findings, &reading.sources, Style::Plain);
        assert!(reading.findings.is_empty(), "{name}: {words}");
        reading.stock.into_iter().map(|s| Stock { span: None, ..s }).collect()
    };
    let expected = stock("strips.toml", toml);
    assert_eq!(expected.len(), 2);
    assert_eq!((expected[0].width, expected[0].count), (Length::from_um(38_100), 4));
    assert_eq!((expected[1].kind, expected[1].count), (Kind::Blank, 1));
    for (name, text) in [
        ("standard input", toml),
        ("strips.csv", comma),
        ("standard input", semicolon),
        ("strips", tabs),
    ] {
        assert_eq!(stock(name, text), expected, "{text}");
    }
}

proptest! {
    #![proptest_config(cases(512))]

    #[test]
    fn any_text_is_read_without_a_panic(
        text in prop_oneof![any::<String>(), "[a-z,;\"\n\r\t =\\[\\].0-9m]{0,80}"],
        header in any::<bool>(),
        name in prop::sample::select(vec!["s", "s.toml", "s.csv"]),
    ) {
        let text = if header { format!("{HEADER}{text}") } else { text };
        let reading = read(name, &text);
        prop_assert!(!reading.stock.is_empty() || !reading.findings.is_empty());
        let words = diagnostic::text(&reading.findings, &reading.sources, Style::Plain);
        prop_assert_eq!(words.is_empty(), reading.findings.is_empty());
    }
}
