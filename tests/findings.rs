//! Every rule has a job that breaks it, and the finding says where, what, and what would
//! do.

mod common;

use common::{Run, belt, run};
use std::collections::BTreeSet;
use std::path::Path;
use strapwright::diagnostic::Finding;
use strapwright::{check, job, layout, template};

struct Case {
    rule: &'static str,
    job: &'static str,
    /// The line that the finding points at; empty where there is none to point at.
    line: &'static str,
    found: &'static str,
    required: &'static str,
}

const fn case(
    rule: &'static str,
    job: &'static str,
    line: &'static str,
    found: &'static str,
    required: &'static str,
) -> Case {
    Case { rule, job, line, found, required }
}

/// The figures follow from the belt template: width 38.1 mm, thickness 3.5 mm, bar 4 mm.
const CASES: &[Case] = &[
    case(
        "hole-to-edge",
        "size-holes.diameter = \"20 mm\"",
        "size-holes.diameter = \"20 mm\"",
        "9.05 mm",
        "at least 20 mm",
    ),
    case(
        "web-between-holes",
        "size-holes.pitch = \"8 mm\"",
        "size-holes.pitch = \"8 mm\"",
        "3.2 mm",
        "at least 4.8 mm",
    ),
    case(
        "marks-overlap",
        "fittings.from = \"size-holes.first\"\nfittings.count = 1",
        "fittings.count = 1",
        "-4 mm",
        "at least 1 mm",
    ),
    case(
        "fitting-to-fitting",
        "fittings.count = 60",
        "fittings.count = 60",
        "-8.14 mm",
        "at least 1 mm",
    ),
    case(
        "hole-in-bend",
        "turn-back.first-fastener = \"6 mm\"",
        "turn-back.first-fastener = \"6 mm\"",
        "4 mm",
        "at least 5.89 mm",
    ),
    case(
        "buckle-size",
        "measure.taken = \"tape\"\nbuckle.reach = \"30 cm\"",
        "buckle.reach = \"30 cm\"",
        "300 mm",
        "4 mm (~5/32 in) to 120 mm",
    ),
    case(
        "blank-too-long",
        "blank.length = \"12 m\"",
        "blank.length = \"12 m\"",
        "a blank of 12000 mm",
        "twice the strap",
    ),
    case(
        "ease",
        "measure.ease = \"-50 cm\"",
        "measure.ease = \"-50 cm\"",
        "-500 mm",
        "0 mm (0 in) to 100 mm",
    ),
    case(
        "tongue-in-hole",
        "size-holes.diameter = \"2 mm\"",
        "size-holes.diameter = \"2 mm\"",
        "holes of 2 mm",
        "at least the tongue, 4 mm",
    ),
    case(
        "holes-on-blank",
        "blank.punched = [\"size-holes\"]",
        "blank.punched = [\"size-holes\"]",
        "targets for `size-holes`",
        "lie on their targets",
    ),
    case(
        "turn-back-too-short",
        "turn-back.length = \"60 mm\"",
        "turn-back.length = \"60 mm\"",
        "60 mm",
        "at least 66 mm",
    ),
    case(
        "keeper-gap",
        "turn-back.second-fastener = \"40 mm\"",
        "turn-back.second-fastener = \"40 mm\"",
        "12 mm",
        "at least 18 mm",
    ),
    case(
        "slot-too-short",
        "turn-back.slot-length = \"12 mm\"",
        "turn-back.slot-length = \"12 mm\"",
        "12 mm",
        "at least 15.78 mm",
    ),
    case(
        "last-hole-to-tip",
        "tip.past-last-hole = \"1 in\"",
        "tip.past-last-hole = \"1 in\"",
        "25.4 mm (1 in)",
        "50.8 mm (2 in)",
    ),
    case(
        "blank-too-short",
        "blank.length = \"800 mm\"",
        "blank.length = \"800 mm\"",
        "800 mm",
        "1053.69 mm",
    ),
    case(
        "blank-too-narrow",
        "blank.width = \"35 mm\"",
        "blank.width = \"35 mm\"",
        "35 mm",
        "at least 38.1 mm",
    ),
    case(
        "strap-to-buckle",
        "strap.width = \"41 mm\"",
        "strap.width = \"41 mm\"",
        "41 mm",
        "at most 40 mm",
    ),
    case(
        "girth",
        "measure.value = \"86 in\"",
        "measure.value = \"86 in\"",
        "2184.4 mm (86 in)",
        "611 mm",
    ),
    case(
        "thickness",
        "strap.thickness = \"8 mm\"",
        "strap.thickness = \"8 mm\"",
        "8 mm",
        "6 mm",
    ),
    case(
        "trousers-estimate",
        "measure.taken = \"trousers\"",
        "measure.taken = \"trousers\"",
        "863.6 mm (34 in)",
        "a tape",
    ),
    case("missing-glyph", "wearer = \"漢\"", "wearer = \"漢\"", "`漢` (U+6F22)", "Latin"),
    case("job-syntax", "title = Belt", "title = Belt", "", "key = \"value\""),
    case("unknown-template", "template = \"bel\"", "template = \"bel\"", "`bel`", "belt"),
    case(
        "unknown-key",
        "size-holes.ptich = \"1 in\"",
        "size-holes.ptich = \"1 in\"",
        "`ptich`",
        "a key",
    ),
    case(
        "missing-key",
        "title = \"no template\"\ntemplate = \"\"",
        "",
        "nothing",
        "the name of a template",
    ),
    case(
        "bad-length",
        "size-holes.pitch = 25",
        "size-holes.pitch = 25",
        "the bare number 25",
        "a length with its unit",
    ),
    case(
        "bad-value",
        "tip.shape = \"square\"",
        "tip.shape = \"square\"",
        "`square`",
        "english-point",
    ),
    case(
        "unknown-reference",
        "tip.past-last-hole = \"2 x strap.widht\"",
        "tip.past-last-hole = \"2 x strap.widht\"",
        "`strap.widht`",
        "dotted name",
    ),
    case(
        "reference-cycle",
        "strap.width = \"buckle.inside\"\nbuckle.inside = \"strap.width\"",
        "buckle.inside = \"strap.width\"",
        "strap.width -> buckle.inside -> strap.width",
        "ends in a number",
    ),
    case(
        "unknown-range",
        "stock.sizes = \"leters-men\"",
        "stock.sizes = \"leters-men\"",
        "`leters-men`",
        "the name of a range",
    ),
    case(
        "stock-order",
        "stock.sizes = [\"32 in\", \"30 in\"]",
        "stock.sizes = [\"32 in\", \"30 in\"]",
        "`30 in` after `32 in`",
        "larger than the last",
    ),
    case(
        "unknown-size",
        "stock.sizes = \"belts-24-48\"\nstock.size = \"33 in\"",
        "stock.size = \"33 in\"",
        "`33 in`",
        "24 in, 26 in",
    ),
    case(
        "stock-girth",
        "measure.taken = \"tape\"\nstock.sizes = [\"34 in\", \"36 m\"]",
        "stock.sizes = [\"34 in\", \"36 m\"]",
        "36000 mm",
        "611 mm",
    ),
    case(
        "stock-taken",
        "stock.size = \"m\"\nstock.sizes = \"letters-men\"",
        "stock.sizes = \"letters-men\"",
        "size M: 860 mm",
        "a girth of the body",
    ),
    case(
        "unknown-datum",
        "fittings.to = \"size-holes.frist\"",
        "fittings.to = \"size-holes.frist\"",
        "`size-holes.frist`",
        "a datum",
    ),
    case(
        "datum-cycle",
        "size-holes.from = \"tip.end\"",
        "size-holes.from = \"tip.end\"",
        "tip from size-holes.last",
        "a chain",
    ),
    case(
        "no-length",
        "tip.by = \"-2 m\"",
        "tip.by = \"-2 m\"",
        "from end to point",
        "at most 1 km",
    ),
    case(
        "two-ends",
        "second.kind = \"tip\"\nsecond.from = \"size-holes.last\"\nsecond.by = \"3 in\"\nsecond.shape = \"round\"",
        "",
        "2 tips",
        "one of kind tip",
    ),
    case(
        "other-piece",
        "h.kind = \"row\"\nh.from = \"keeper.end\"\nh.count = 1\nh.diameter = \"3 mm\"",
        "h.from = \"keeper.end\"",
        "a datum of `keeper`",
        "a datum of `strap`",
    ),
    case(
        "bad-taper",
        "neck.kind = \"taper\"\nneck.from = \"strap.zero\"\nneck.by = \"200 mm\"\nneck.to = \"strap.zero\"\nneck.to-by = \"201 mm\"\nneck.width = \"30 mm\"",
        "neck.width = \"30 mm\"",
        "1 mm",
        "at least 4.05 mm",
    ),
    case(
        "no-room",
        "c.kind = \"crease\"\nc.along = \"outline\"\nc.inset = \"20 mm\"",
        "c.inset = \"20 mm\"",
        "an inset of 20 mm",
        "half",
    ),
    case(
        "too-many-marks",
        "s.kind = \"stitch\"\ns.along = \"outline\"\ns.inset = \"3 mm\"\ns.diameter = \"1 mm\"\ns.pitch = \"0.01 mm\"",
        "s.pitch = \"0.01 mm\"",
        "holes",
        "at most 100000",
    ),
    case(
        "too-many-pieces",
        "a.kind = \"piece\"\na.length = \"9 cm\"\na.count = 20\nb.kind = \"piece\"\nb.length = \"9 cm\"\nb.count = 20\nc.kind = \"piece\"\nc.length = \"9 cm\"\nc.count = 20",
        "c.count = 20",
        "62 pieces",
        "at most 60",
    ),
    case(
        "job-limit",
        LONG_LINE,
        "template = \"belt\"",
        "line 2 is longer than 4 KiB",
        "in at most 1 MiB",
    ),
];

/// Longer than any line of a job.
const LONG_LINE: &str = match std::str::from_utf8(&[b'#'; 5_000]) {
    Ok(line) => line,
    Err(_) => "",
};

fn made(job: &str) -> Run {
    if job.contains("template =") { run(job, &[]) } else { belt(job) }
}

/// The line that a finding points at.
fn line(run: &Run, finding: &Finding) -> String {
    let Some(place) = &finding.place else { return String::new() };
    let source = run.sources.get(place.source).expect("a source");
    let (line, _) = run.sources.line_column(place).expect("a line");
    source.text.lines().nth(line - 1).unwrap_or_default().to_owned()
}

#[test]
fn every_rule_fires_where_it_should() {
    let sound = belt("");
    assert!(sound.findings.is_empty() && sound.laid.is_some(), "{}", sound.text());
    let mut wrong = Vec::new();
    for case in CASES {
        let run = made(case.job);
        let fits = run.findings.iter().any(|f| {
            f.rule == case.rule
                && line(&run, f) == case.line
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
        assert!(fires(rule.about.breaks), "{} is not broken", rule.id);
        assert!(
            !fires(rule.about.keeps),
            "{}: {}",
            rule.id,
            made(rule.about.keeps).text()
        );
    }
}

#[test]
fn every_rule_has_a_case() {
    let cases: BTreeSet<&str> = CASES.iter().map(|c| c.rule).collect();
    let tables = job::RULES.iter().chain(layout::RULES).map(|(id, _)| *id);
    let rules: BTreeSet<&str> =
        check::REGISTER.iter().map(|r| r.id).chain(tables).collect();
    assert_eq!(cases, rules, "give each rule of a register a case in tests/findings.rs");
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
    let rules: BTreeSet<&str> = run.findings.iter().map(|f| f.rule).collect();
    assert_eq!(run.findings.len(), 3, "{}", run.text());
    assert_eq!(rules, BTreeSet::from(["bad-length", "unknown-key", "bad-value"]));
}

#[test]
fn an_unknown_key_does_not_hide_a_mistake_of_design() {
    let run = belt("size-holes.ptich = \"1 in\"\nstrap.width = \"60 mm\"");
    let rules: Vec<&str> = run.findings.iter().map(|f| f.rule).collect();
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
    assert_eq!(idle.findings[0].rule, "unknown-key");
}

/// However deep a text nests or refers, it is found and the stack holds.
#[test]
fn endless_chains_are_findings() {
    let links = (0..5_000).map(|n| format!("strap.a{n} = \"strap.a{}\"", n + 1));
    let first = "strap.width = \"strap.a0\"".to_owned();
    let chain: Vec<String> = std::iter::once(first).chain(links).collect();
    let done = belt(&chain.join("\n"));
    assert!(done.findings.iter().any(|f| f.rule == "reference-cycle"), "no end, no word");
    let dots = run(template::DEMO_JOB, &[format!("{}=1", "a.".repeat(200_000))]);
    assert_eq!(dots.findings.len(), 1, "{}", dots.findings.len());
    assert_eq!(dots.findings[0].rule, "job-syntax");
}

/// A length of any key may be as long as text can say: it is found, and nothing overflows.
#[test]
fn lengths_of_100_km_are_findings() {
    let belt_template = template::find("belt").expect("the belt");
    let mut tried = 0;
    for key in template::about(belt_template).keys {
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
    let place = wrong.findings[0].place.clone().expect("a place");
    assert_eq!(&word[place.range], "\"tipp\"");
    assert_eq!(wrong.findings[0].remedy, "did you mean `tip`?");
}
