//! `verify` as a person or a script meets it.

use crate::common::program::{command, folder_with, is_pdf, names, run, run_with};
use std::fs;

#[test]
fn verify_holds_a_file_against_its_job() {
    let folder = folder_with("job.toml", "template = \"belt\"\ntitle = \"Lantern\"\n");
    let set = "--set=measure.value=32 in";
    let drawn = run(folder.path(), &["draw", "job.toml", "-o", "job.pdf", set]);
    assert_eq!(drawn.code, Some(0), "{}", drawn.err);
    assert!(drawn.err.contains("read back: "), "{}", drawn.err);
    assert!(drawn.err.contains(", worst 0.000 mm off"), "{}", drawn.err);

    let sound = run(folder.path(), &["verify", "job.pdf", "job.toml", set]);
    assert_eq!((sound.code, sound.err.as_str()), (Some(0), ""), "{}", sound.out());
    assert!(sound.out().ends_with("no findings\n"), "{}", sound.out());
    let alone = run(folder.path(), &["verify", "job.pdf"]);
    assert_eq!(alone.code, Some(0), "{}", alone.out());
    assert!(alone.out().contains("2 sheets"), "{}", alone.out());

    // Without the --set it is another belt.
    let other = run(folder.path(), &["verify", "job.pdf", "job.toml"]);
    assert_eq!((other.code, other.err.as_str()), (Some(1), ""));
    let json = run(folder.path(), &["verify", "job.pdf", "job.toml", "--format", "json"]);
    assert_eq!(json.code, Some(1));
    let read: serde_json::Value = serde_json::from_str(json.out()).unwrap();
    let findings = read["findings"].as_array().unwrap();
    assert!(findings.iter().any(|f| f["severity"] == "error" && f["rule"].is_string()));
    let json =
        run(folder.path(), &["verify", "job.pdf", "job.toml", set, "--format", "json"]);
    let read: serde_json::Value = serde_json::from_str(json.out()).unwrap();
    assert_eq!(read["sheets"], 2);
    let marks = read["marks"].as_array().unwrap();
    assert!(marks.iter().any(|m| m["found_mm"][0].is_number()), "{read}");

    let bytes = fs::read(folder.path().join("job.pdf")).unwrap();
    assert!(is_pdf(&bytes));
    let piped =
        run_with(command(folder.path(), &["verify", "-", "job.toml", set]), &bytes);
    assert_eq!((piped.code, piped.out()), (Some(0), sound.out()));
    assert_eq!(names(&folder), ["job.pdf", "job.toml"], "it writes nothing");
}

/// What several sizes share, as `reprint --all` draws it, is a print of the job too; a nested
/// print without `--nested` is told first.
#[test]
fn verify_knows_the_prints_of_a_rack() {
    let rack = "template = \"belt\"\nmeasure.taken = \"bend-to-hole\"\n\
                stock.sizes = [\"34 in\", \"36 in\", \"38 in\"]\n";
    let folder = folder_with("rack.toml", rack);
    let at = |args: &[&str]| run(folder.path(), args);
    let drawn = at(&["reprint", "rack.toml", "--all"]);
    assert_eq!(drawn.code, Some(0), "{}", drawn.err);
    let common = "rack-sizes/rack-common.pdf";
    let shared = at(&["verify", common, "rack.toml"]);
    assert_eq!((shared.code, shared.err.as_str()), (Some(0), ""), "{}", shared.out());
    assert!(shared.out().ends_with("no findings\n"), "{}", shared.out());
    let both = at(&["verify", common, "rack-sizes/rack-36-in.pdf", "rack.toml"]);
    assert_eq!(both.code, Some(0), "{}", both.out());
    let nested = at(&["draw", "rack.toml", "--nested"]);
    assert_eq!(nested.code, Some(0), "{}", nested.err);
    let plain = at(&["verify", "rack-nested.pdf", "rack.toml"]);
    assert_eq!(plain.code, Some(1), "{}", plain.out());
    let first = plain.out().find("give the job, --size or --nested").unwrap();
    let errors = plain.out().find("error[").unwrap();
    assert!(first < errors, "{}", plain.out());
    let own = at(&["verify", "rack-nested.pdf", "rack.toml", "--nested"]);
    assert_eq!(own.code, Some(0), "{}", own.out());
    // Another size is another print, and not one that was scaled.
    let other = at(&["verify", "rack-sizes/rack-36-in.pdf", "rack.toml", "--size=34"]);
    assert_eq!(other.code, Some(1), "{}", other.out());
    assert!(!other.out().contains("sheet-scaled"), "{}", other.out());
}

#[test]
fn verify_says_what_it_cannot_read() {
    let folder = folder_with("job.toml", "template = \"belt\"\n");
    fs::write(
        folder.path().join("bad.toml"),
        "template = \"belt\"\n[strap]\nwidth = 38\n",
    )
    .unwrap();
    for (args, code, word) in [
        (&["verify", "job.toml"][..], 3, "it is no PDF"),
        (&["verify", "none.pdf"], 3, "cannot read none.pdf"),
        (&["verify", "-", "-"], 2, "standard input"),
        (&["verify"], 2, "PDF"),
        (&["verify", "job.toml", "--set=strap.width=38 mm"], 2, "JOB"),
        (&["verify", "job.toml", "bad.toml"], 1, "the PDF cannot be compared with it"),
        (&["verify", "job.toml", "--sheets", "1,x"], 2, "such as 2,5"),
        (&["verify", "job.toml", "--sheets=0"], 2, "numbers of sheets, from 1"),
        (&["verify", "job.toml", "job.toml", "--nested"], 2, "stock.sizes"),
        (&["verify", "job.toml", "--nested"], 2, "JOB"),
    ] {
        let ran = run(folder.path(), args);
        assert_eq!(ran.code, Some(code), "{args:?}: {}", ran.err);
        assert!(ran.err.contains(word), "{args:?}: {}", ran.err);
    }
}
