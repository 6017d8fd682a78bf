//! What only a slip of the pen or ill will asks for is a finding, and the finding is short.

use crate::common::{Run, belt, run};
use strapwright::paginate::{Heading, PaginateError, Paper, Request, paginate};

/// Some lines over and over, numbered.
fn many(count: usize, line: impl Fn(usize) -> String) -> String {
    (0..count).map(line).collect::<Vec<_>>().join("\n")
}

/// It is found by this rule, in words that a person can read.
fn found(what: &str, done: &Run, rule: &str) {
    let by_rule = done.findings.iter().find(|f| f.rule.as_str() == rule);
    let rules: Vec<&str> = done.findings.iter().map(|f| f.rule.as_str()).collect();
    assert!(by_rule.is_some(), "{what}: found {rules:?}");
    assert!(done.findings.len() <= 101, "{what}: {} findings", done.findings.len());
    for f in &done.findings {
        let longest = [&f.message, &f.found, &f.required, &f.remedy];
        let longest = longest.map(|text| text.chars().count()).into_iter().max();
        assert!(longest <= Some(1_001), "{what}: {longest:?} letters");
    }
    // Each finding shows at most a line of 4 KiB, four times over for a terminal.
    assert!(done.text().len() < 101 * 16_384, "{what}: {} bytes", done.text().len());
}

#[test]
fn texts_are_bounded() {
    let set = |n| format!("k{n} = 1");
    for (what, text, rule) in [
        ("a long text", "# a job\n".repeat(200_000), "job-limit"),
        ("a long line", format!("title = \"{}\"", "a".repeat(5_000)), "job-limit"),
        ("many keys", many(12_000, set), "job-limit"),
        ("a long list", format!("a = [\n{}\n]", "\"b\",\n".repeat(12_000)), "job-limit"),
        ("many slips", "= =\n".repeat(20_000), "job-syntax"),
        ("deep lists", format!("a = {}", "[".repeat(4_000)), "job-syntax"),
        ("deep keys", format!("{}a = 1", "a.".repeat(1_500)), "job-syntax"),
    ] {
        found(what, &run(&text, &[]), rule);
    }
    let slips = belt(&many(1_500, set));
    found("many unknown keys", &slips, "job-limit");
    let set = format!("title={}", "b".repeat(5_000));
    found("a long --set", &run("template = \"belt\"", &[set]), "bad-value");
}

#[test]
fn lengths_are_bounded() {
    for (what, sum) in [
        ("many parts", format!("strap.thickness{}", " / 2".repeat(500))),
        ("many terms", many(300, |_| "1 mm".to_owned()).replace('\n', " + ")),
        ("pi times pi", format!("{}1000 m", "pi x ".repeat(40))),
        ("a long number", format!("{} mm", "1".repeat(100))),
        ("a great factor", "999999 x strap.thickness".to_owned()),
    ] {
        found(what, &belt(&format!("strap.width = \"{sum}\"")), "bad-length");
    }
}

#[test]
fn marks_and_places_are_bounded() {
    let spread = "fittings.count = 1000\nfittings.holes-along = 6\nfittings.rows = 20\n\
        fittings.rows-apart = \"1 mm\"\nfittings.holes-across = 6\nfittings.along-apart = \"1 mm\"\n\
        fittings.across-apart = \"1 mm\"";
    found("hundreds of thousands of holes", &belt(spread), "too-many-marks");
    let rows = "size-holes.rows = 1000\nsize-holes.rows-apart = \"1 mm\"\n\
        size-holes.inside = 900";
    found("a million size holes", &belt(rows), "bad-value");
    let far = "size-holes.rows = 10\nsize-holes.rows-apart = \"900 m\"";
    found("rows as far apart as towns", &belt(far), "no-length");
    let row = |n| {
        format!(
            "[row-{n}]\nkind = \"row\"\nfrom = \"fit.size-hole\"\ncount = 1000\n\
             pitch = \"0.1 mm\"\ndiameter = \"3 mm\""
        )
    };
    found("a hundred rows of a thousand", &belt(&many(120, row)), "too-many-marks");
    let slot = |n| {
        let from = if n == 0 { "strap.zero".into() } else { format!("s{}.end", n - 1) };
        format!(
            "[s{n}]\nkind = \"slot\"\nfrom = \"{from}\"\nby = \"900 m\"\n\
             length = \"900 m\"\nwidth = \"3 mm\""
        )
    };
    found("slots that lead away", &belt(&many(200, slot)), "no-length");
    let piece = |n| format!("[p{n}]\nkind = \"piece\"\nlength = \"9 mm\"\ncount = 20");
    found("hundreds of pieces", &belt(&many(100, piece)), "too-many-pieces");
    let copies = "[p]\nkind = \"piece\"\nlength = \"900 mm\"\ncount = 20\n[r]\n\
        kind = \"row\"\non = \"p\"\nfrom = \"p.zero\"\ncount = 1000\npitch = \"0.1 mm\"\n\
        rows = 10\nrows-apart = \"1 mm\"\ndiameter = \"1 mm\"";
    found("copies of ten thousand holes", &belt(copies), "too-many-marks");
}

#[test]
fn paper_is_bounded() {
    let refused = |lines: &str, paper: &str| {
        let done = run(&format!("template = \"plain-strap\"\n{lines}"), &[]);
        let (job, fit, layout) = done.laid.as_ref().expect("a strap");
        let heading = Heading::new(job, fit.as_ref(), layout);
        let paper = Paper::parse(paper).expect("a paper");
        let refused = paginate(&Request::new(layout, &heading, &paper));
        refused.expect_err("more than anybody draws")
    };
    for paper in ["a4", "roll", "roll-5080mm", "100x100mm", "5080x5080mm"] {
        let error = refused("plain.length = \"999 m\"", paper);
        if ["a4", "100x100mm"].contains(&paper) {
            assert!(matches!(error, PaginateError::TooManySheets { .. }), "{error}");
        } else {
            // Few sheets of these would do.
            assert!(matches!(error, PaginateError::TooLong { .. }), "{paper}: {error}");
            assert!(error.to_string().contains("999000 mm"), "{error}");
        }
        let error = refused("strap.width = \"90 m\"\nplain.length = \"99 m\"", paper);
        let PaginateError::TooManySheets { sheets, most, .. } = error else {
            unreachable!("{paper}: {error}")
        };
        assert!(sheets > most, "{paper}: {sheets} sheets");
    }
}
