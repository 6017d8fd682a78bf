//! Slips that were once told of something else: one finding each, and it names the slip.

use super::made;
use crate::common::run;
use std::collections::BTreeSet;

/// A piece or a feature of one's own, which is sound.
const ROW: &str = "kind = \"row\"\nfrom = \"turn-back.end-over\"\nby = \"100 mm\"\ncount = 1\n\
    diameter = \"3 mm\"\n";

/// Whether the one finding on a job has words in its message, in what was found and in its
/// remedy.
fn says(job: &str, message: &str, found: &str, remedy: &str) -> Result<(), String> {
    let run = made(job);
    let fits = run.findings.len() == 1
        && run.findings[0].message.contains(message)
        && run.findings[0].found.contains(found)
        && run.findings[0].remedy.contains(remedy);
    if fits { Ok(()) } else { Err(format!("{job}\n{}", run.text())) }
}

#[test]
fn a_slip_is_told_in_its_own_words() {
    let dotted = format!("[\"a.b\"]\n{ROW}");
    let nested = format!("[a.b]\n{ROW}");
    let glyph = format!("[\"縫\"]\n{ROW}");
    let row = ROW.replace("kind = \"row\"\n", "");
    let [kindless, other] = ["row", "my-row"].map(|name| format!("[{name}]\n{row}"));
    let cuff =
        "[cuff]\nkind = \"piece\"\nlength = \"200 mm\"\nmirrored = true\ncount = 1";
    let all = [
        (
            "fittings.count = \"4\"",
            "a whole number",
            "`4`",
            "no quotes: fittings.count = 4",
        ),
        (
            "strap.k = \"0.5\"",
            "a number from 0 to 1",
            "`0.5`",
            "no quotes: strap.k = 0.5",
        ),
        (
            "size-holes.inside = \"two\"",
            "a whole number",
            "`two`",
            "write a whole number",
        ),
        (
            "turn-back.slot-width = \"50 mm\"",
            "`turn-back.slot-length` is less than `turn-back.slot-width`",
            "50 mm (~1 31/32 in) wide",
            "make turn-back.slot-width smaller: the strap is 38.1 mm",
        ),
        (
            "turn-back.slot-length = \"2 mm\"",
            "`turn-back.slot-length` is less than `turn-back.slot-width`",
            "2 mm (~5/64 in) long",
            "make turn-back.slot-length larger",
        ),
        ("[[strap]]\nwidth = \"38 mm\"", "no list of tables", "a list", "write [strap]"),
        ("[[tip]]\nshape = \"round\"", "no list of tables", "a list", "write [tip]"),
        (&dotted, "`a.b` has a dot", "`a.b`", "call it [a-b]"),
        (&nested, "`a.b` has a dot", "`a.b`", "call it [a-b]"),
        (&kindless, "the table `row`, which has no `kind`", "", "add kind = \"row\""),
        (&other, "the table `my-row`, which has no `kind`", "", "add the kind"),
        ("[straps]\nwidth = \"38 mm\"", "no key is called `straps`", "", "`strap`?"),
        (&glyph, "the name of the feature `縫`", "`縫` (U+7E2B)", "alphabets"),
        (cuff, "`cuff.mirrored` has no effect", "cuff.count = 1", "cuff.count = 2"),
        ("size-holes.pitch = \"-0.004 mm\"", "more than nothing", "-0.004 mm", ""),
        ("tip.past-last-hole = \"width + 1 in\"", "of which table", "", "`strap.width`"),
        (
            "tip.past-last-hole = \"3 in 1 mm\"",
            "a sign is missing",
            "",
            "\"3 in + 1 mm\"",
        ),
        (
            "stock.sizes = [\"32\", \"34\", \"36\"]",
            "`32` has no unit (and `34`, `36`)",
            "`32`",
            "",
        ),
        (
            "[row]\nkind = \"row\"\nfrom = \"turn-back.end-over\"",
            "`row.count` is missing (and `row.diameter`)",
            "nothing",
            "",
        ),
        (
            "Template = \"belt\"\ntemplate = \"\"",
            "`template` is missing",
            "`Template`",
            "did you mean",
        ),
        (
            "template = \"\"\n[belt]\ntemplate = \"belt\"",
            "`template` is missing",
            "`belt.template`",
            "above the first [table]",
        ),
    ];
    let wrong: Vec<String> = all
        .iter()
        .filter_map(|(job, message, found, remedy)| {
            says(job, message, found, remedy).err()
        })
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// A `--set` gives what stands in a cell of a table, which may have no TOML.
#[test]
fn a_number_of_a_spreadsheet_is_a_number() {
    let sets = ["fittings.count=04", "strap.k=0,5", "measure.value=34 in", "wearer=007"];
    let done = run("template = \"belt\"", &sets.map(str::to_owned));
    assert!(done.findings.is_empty(), "{}", done.text());
    let (job, _, layout) = done.laid.as_ref().unwrap();
    assert_eq!(job.wearer.value, "007");
    let marks = layout.pieces[0].marks.iter();
    let fittings = marks.filter(|m| layout.feature(m).as_str() == "fittings");
    assert_eq!(fittings.count(), 4);
}

/// The line that silences a limit does so where the finding says that it is put.
#[test]
fn the_line_that_a_limit_names_can_be_pasted() {
    let over = "turn-back.length = \"130 mm\"\n";
    let table = "[turn-back]\nlength = \"130 mm\"\n";
    let limits = "[about.limits]\n\"strap.width\".to = \"90 mm\"\n";
    let dotted =
        "about.summary = \"A belt\"\nabout.limits.\"strap.width\".to = \"90 mm\"\n";
    let about = "[about]\nsummary = \"A belt\"\n";
    for (job, put, before) in [
        (over.to_owned(), "put above the first [table] of the job: ", ""),
        (table.to_owned(), "put above the first [table] of the job: ", ""),
        (format!("{table}{limits}"), "add to [about.limits] of this text: ", limits),
        (format!("{table}{about}"), "add to [about] of this text: ", about),
        (format!("{dotted}{table}"), "put above the first [table] of the job: ", ""),
    ] {
        let run = made(&job);
        let rules: BTreeSet<&str> =
            run.findings.iter().map(|f| f.rule.as_str()).collect();
        assert_eq!(rules, BTreeSet::from(["out-of-limits"]), "{}", run.text());
        let remedy = &run.findings[0].remedy;
        let (look, line) = remedy.split_once(put).unwrap_or_else(|| {
            unreachable!("{}", run.text());
        });
        assert!(look.starts_with("measure again"), "{remedy}");
        assert!(look.contains("turn-back.length: middle of the bend"), "{remedy}");
        let text = match job.split_once(before).filter(|_| !before.is_empty()) {
            Some((above, below)) => format!("{above}{before}{line}\n{below}"),
            None => format!("{line}\n{job}"),
        };
        assert!(made(&text).findings.is_empty(), "{text}: {}", made(&text).text());
    }
}
