//! The program as a person or a script meets it: arguments and files in; exit code, files
//! and words out.

use crate::common::program::{command, folder_with, is_pdf, names, run, run_with};
use std::fs;

/// Three mistakes on lines 4, 5 and 7.
const THREE_MISTAKES: &str = "template = \"belt\"\ntitle = \"Wrong\"\n[strap]\n\
    width = 38\nthicknes = \"3 mm\"\n[tip]\nshape = \"rond\"\n";
/// A blank that ends before the belt does.
const TOO_SHORT: &str = "template = \"belt\"\n[blank]\nlength = \"20 in\"\n";

#[test]
fn draw_keeps_what_is_there_unless_forced() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("demo-belt.pdf");
    let first = run(folder.path(), &["draw"]);
    assert_eq!((first.code, first.out()), (Some(0), ""), "{}", first.err);
    assert!(first.err.contains("demo-belt.pdf"), "{}", first.err);
    let drawn = fs::read(&path).unwrap();
    assert!(is_pdf(&drawn));

    // Its own print is drawn anew: the same, in another language, as a bare strap's sheets.
    for args in
        [&["draw"][..], &["draw", "--language=de"], &["draw", "--no-ticket"], &["draw"]]
    {
        let again = run(folder.path(), args);
        assert_eq!(again.code, Some(0), "{args:?}: {}", again.err);
    }
    assert!(fs::read(&path).unwrap() == drawn, "the same drawing again");

    // Not that of another job, nor one that was changed since, at its end or within.
    fs::write(folder.path().join("other.toml"), "template = \"belt\"\n").unwrap();
    let kept = |args: &[&str], bytes: &[u8]| {
        fs::write(&path, bytes).unwrap();
        let ran = run(folder.path(), args);
        assert_eq!(ran.code, Some(3), "{args:?}: {}", ran.err);
        assert!(ran.err.contains("demo-belt.pdf exists already"), "{}", ran.err);
        assert!(fs::read(&path).unwrap() == bytes, "{args:?}");
    };
    kept(&["draw", "other.toml", "-o", "demo-belt.pdf"], &drawn);
    kept(&["draw", "--set=title=\"Another\""], &drawn);
    let mut changed = drawn.clone();
    changed.extend(b"% a remark\nstartxref\n0\n%%EOF\n");
    kept(&["draw"], &changed);
    changed = drawn.clone();
    changed[drawn.len() / 2] ^= 1;
    kept(&["draw"], &changed);

    fs::write(&path, "a letter to keep").unwrap();
    let second = run(folder.path(), &["draw"]);
    assert_eq!(second.code, Some(3), "{}", second.err);
    assert!(second.err.contains("--force"), "{}", second.err);
    assert_eq!(fs::read(&path).unwrap(), b"a letter to keep");

    let forced = run(folder.path(), &["draw", "--force"]);
    assert_eq!(forced.code, Some(0), "{}", forced.err);
    assert!(fs::read(&path).unwrap() == drawn, "the same drawing again");
    assert_eq!(names(&folder), ["demo-belt.pdf", "other.toml"]);
}

/// The ending chooses, or `--format` where there is none.
#[test]
fn the_ending_chooses_the_format() {
    let folder = tempfile::tempdir().unwrap();
    fs::create_dir(folder.path().join("out")).unwrap();
    for (args, made) in [
        (&["-o", "out/x"][..], "x.pdf"),
        (&["-o", "out/y.SVG", "--whole"], "y.SVG"),
        (&["-o", "out/z", "--format=svg", "--whole"], "z.svg"),
        (&["-o", "out", "--format=svg", "--whole"], "demo-belt.svg"),
    ] {
        let ran = run(folder.path(), &[&["draw"], args].concat());
        assert_eq!(ran.code, Some(0), "{args:?}: {}", ran.err);
        let bytes = fs::read(folder.path().join("out").join(made)).unwrap();
        let starts: &[u8] = if made.ends_with("pdf") { b"%PDF" } else { b"<svg" };
        assert!(bytes.starts_with(starts), "{made}");
    }
    for (args, words) in [
        (&["-o", "-"][..], "--format with one of: "),
        (&["-o", "/dev/stdout"], "--format with one of: "),
        (&["-o", "x.dwg"], "x.dwg ends in .dwg"),
        (&["-o", "x.pdf", "--format=svg"], "end it in .svg"),
        (&["--format=dwg"], "pdf, "),
    ] {
        let ran = run(folder.path(), &[&["draw"], args].concat());
        assert_eq!((ran.code, ran.out()), (Some(2), ""), "{args:?}: {}", ran.err);
        assert!(ran.err.contains(words), "{args:?}: {}", ran.err);
    }
    assert_eq!(names(&folder), ["out"]);
}

#[test]
fn a_dash_is_standard_output_and_input() {
    let folder = tempfile::tempdir().unwrap();
    let drawn = run(folder.path(), &["draw", "-o", "-", "--format=pdf"]);
    assert_eq!(drawn.code, Some(0), "{}", drawn.err);
    assert!(is_pdf(&drawn.out));
    assert_eq!(names(&folder), [""; 0]);
    run(folder.path(), &["draw"]);
    let file = fs::read(folder.path().join("demo-belt.pdf")).unwrap();
    assert!(drawn.out == file, "standard output is the file and nothing else");

    let job = "template = \"belt\"\ntitle = \"Piped\"\n";
    let piped = command(folder.path(), &["draw", "-", "-o", "piped.pdf"]);
    let piped = run_with(piped, job.as_bytes());
    assert_eq!((piped.code, piped.out()), (Some(0), ""), "{}", piped.err);
    assert!(is_pdf(&fs::read(folder.path().join("piped.pdf")).unwrap()));
}

#[test]
fn wrong_use_is_two_and_machine_is_three() {
    let folder = folder_with("job.toml", "template = \"belt\"\n");
    let at = |args: &[&str]| run(folder.path(), args);
    for (args, code, words) in [
        (&["draw", "--nope"][..], 2, "--nope"),
        (&["sew"][..], 2, "sew"),
        (&[][..], 2, "Usage"),
        (&["draw", "--paper", "lettr"][..], 2, "did you mean `letter`?"),
        (&["draw", "--paper", "tabliod"][..], 2, "did you mean `tabloid`?"),
        (&["draw", "--paper", "1x1mm"][..], 2, "100 mm"),
        (&["check", "--format", "xml"][..], 2, "json"),
        (&["templates", "bel"][..], 2, "`belt`"),
        (&["templates", "--toml"][..], 2, "NAME"),
        (&["draw", "gone.toml"][..], 3, "gone.toml"),
        (&["marks", "gone.toml"][..], 3, "gone.toml"),
        (&["check", "gone.toml"][..], 3, "gone.toml"),
        (&["draw", "job.toml", "-o", "gone/belt.pdf"][..], 3, "gone/belt.pdf"),
        (&["draw", "job.toml", "-o", "job.toml/belt.pdf"][..], 3, "job.toml/belt.pdf"),
    ] {
        let ran = at(args);
        assert_eq!(ran.code, Some(code), "{args:?}: {}", ran.err);
        assert_eq!(ran.out(), "", "{args:?}");
        assert!(ran.err.contains(words), "{args:?}: {}", ran.err);
        assert!(!ran.err.contains("panicked"), "{args:?}: {}", ran.err);
    }
    assert_eq!(names(&folder), ["job.toml"]);
}

#[test]
fn a_forbidden_job_leaves_nothing_behind() {
    for text in [THREE_MISTAKES, TOO_SHORT] {
        let folder = folder_with("job.toml", text);
        for args in [
            &["draw", "job.toml"][..],
            &["draw", "job.toml", "-o", "-", "--format=pdf"][..],
        ] {
            let ran = run(folder.path(), args);
            assert_eq!((ran.code, ran.out()), (Some(1), ""), "{}", ran.err);
            assert!(ran.err.contains("nothing was drawn"), "{}", ran.err);
        }
        let marks = run(folder.path(), &["marks", "job.toml"]);
        assert_eq!((marks.code, marks.out()), (Some(1), ""), "{}", marks.err);
        assert_eq!(run(folder.path(), &["check", "job.toml"]).code, Some(1));
        assert_eq!(names(&folder), ["job.toml"]);

        // Not even with --force over an older drawing.
        fs::write(folder.path().join("job.pdf"), "older").unwrap();
        let forced = run(folder.path(), &["draw", "job.toml", "--force"]);
        assert_eq!(forced.code, Some(1), "{}", forced.err);
        assert_eq!(fs::read(folder.path().join("job.pdf")).unwrap(), b"older");
        assert_eq!(names(&folder), ["job.pdf", "job.toml"]);
    }
}

#[test]
fn pipes_and_no_color_get_no_escape_codes() {
    let folder = folder_with("job.toml", THREE_MISTAKES);
    for args in [
        &["check", "job.toml"][..],
        &["draw", "job.toml"][..],
        &["marks", "job.toml"][..],
        &["draw", "--nope"][..],
        &["--help"][..],
    ] {
        for no_color in [false, true] {
            let mut command = command(folder.path(), args);
            if no_color {
                command.env("NO_COLOR", "1");
            }
            let ran = run_with(command, b"");
            assert!(ran.out.len() + ran.err.len() > 0, "{args:?}");
            assert!(!ran.out.contains(&0x1b), "{args:?}: {}", ran.out());
            assert!(!ran.err.contains('\x1b'), "{args:?}: {}", ran.err);
        }
    }
    // The same words do have colours where they are asked for.
    for args in [["check", "job.toml"], ["draw", "job.toml"]] {
        let mut command = command(folder.path(), &args);
        command.env("CLICOLOR_FORCE", "1");
        let ran = run_with(command, b"");
        assert!(ran.out.contains(&0x1b) || ran.err.contains('\x1b'), "{args:?}");
    }
}

#[test]
fn one_run_finds_every_mistake_and_json_says_where() {
    let folder = folder_with("job.toml", THREE_MISTAKES);
    let ran = run(folder.path(), &["check", "job.toml", "--format", "json"]);
    assert_eq!((ran.code, ran.err.as_str()), (Some(1), ""));
    let rows: Vec<serde_json::Value> = serde_json::from_str(ran.out()).unwrap();
    let mut found: Vec<_> = rows
        .iter()
        .map(|row| {
            assert_eq!(row["file"], "job.toml", "{row}");
            assert_eq!(row["severity"], "error", "{row}");
            for key in ["message", "found", "required", "remedy"] {
                assert!(!row[key].as_str().unwrap().is_empty(), "{key}: {row}");
            }
            (row["line"].as_u64().unwrap(), row["rule"].as_str().unwrap())
        })
        .collect();
    found.sort_unstable();
    assert_eq!(found, [(4, "bad-length"), (5, "unknown-key"), (7, "bad-value")]);

    let words = run(folder.path(), &["check", "job.toml"]);
    for rule in ["bad-length", "unknown-key", "bad-value", "`thickness`", "`round`"] {
        assert!(words.out().contains(rule), "{rule}: {}", words.out());
    }
    assert!(words.out().ends_with("3 errors\n"), "{}", words.out());
    let clean = run(folder.path(), &["check", "--format", "json"]);
    let rows: Vec<serde_json::Value> = serde_json::from_str(clean.out()).unwrap();
    assert_eq!((clean.code, rows.len()), (Some(0), 0));
}

#[test]
fn what_is_not_a_job_is_said_plainly() {
    let folder = folder_with("latin.toml", b"template = \"belt\"\ntitle = \"\xc5\"\n");
    // Exactly 1 MiB is read, one byte more is not.
    let mut text = "template = \"belt\"\n".to_owned();
    text += &"#\n".repeat(((1 << 20) - text.len()) / 2);
    text += &"#".repeat((1 << 20) - text.len());
    fs::write(folder.path().join("full.toml"), &text).unwrap();
    fs::write(folder.path().join("large.toml"), text + " ").unwrap();
    fs::create_dir(folder.path().join("folder.toml")).unwrap();
    for command in ["check", "draw", "marks"] {
        for (name, words) in [
            ("latin.toml", "not UTF-8"),
            ("large.toml", "larger than 1 MiB"),
            ("folder.toml", "cannot read"),
        ] {
            let ran = run(folder.path(), &[command, name]);
            assert_eq!((ran.code, ran.out()), (Some(3), ""), "{command} {name}");
            assert!(ran.err.contains(words) && ran.err.contains(name), "{}", ran.err);
        }
    }
    let full = run(folder.path(), &["check", "full.toml"]);
    assert_eq!(full.code, Some(0), "{}", full.err);
    for (text, code) in [(&b"\xff\xfe"[..], 3), (b"", 1), (b"not toml", 1)] {
        let ran = run_with(
            command(folder.path(), &["draw", "-", "-o", "-", "--format=pdf"]),
            text,
        );
        assert_eq!((ran.code, ran.out.len()), (Some(code), 0), "{}", ran.err);
        assert!(!ran.err.is_empty() && !ran.err.contains("panicked"), "{}", ran.err);
    }
}

const STRIPS: &str = "name,length,width,thickness,count\noak,2.5 m,38 mm,3.5 mm,1\n";

#[test]
fn pieces_are_shared_among_the_strips() {
    let folder = folder_with(
        "job.toml",
        "template = \"belt\"\ntitle = \"Ash belt\"\nmeasure.value = \"34 in\"\nkeeper.width = \"0 mm\"\n",
    );
    fs::write(folder.path().join("strips.csv"), STRIPS).unwrap();
    let cut = |args: &[&str]| {
        let mut all = vec!["cut", "--stock", "strips.csv"];
        all.extend(args);
        run(folder.path(), &all)
    };
    let two = cut(&["job.toml", "job.toml"]);
    assert_eq!((two.code, two.err.as_str()), (Some(0), ""));
    for words in ["2 pieces from 1 strip", "oak, strip 1 of 1", "Ash belt", "  left: "] {
        assert!(two.out().contains(words), "{words}: {}", two.out());
    }
    let table = cut(&["job.toml", "--format", "csv", "--between", "2 mm"]);
    assert_eq!((table.code, table.err.as_str()), (Some(0), ""));
    assert_eq!(column(table.out(), "from_mm")[0].to_string(), "5");
    assert!(table.out().contains(",offcut,"), "{}", table.out());

    // A third belt has no strip: the words point at the job that has to wait, and the others
    // have their plan.
    let three = cut(&["job.toml"; 3]);
    assert_eq!(three.code, Some(1), "{}", three.err);
    for words in
        ["stock-runs-out", "title = \"Ash belt\"", "no strip is left for 1 of 3 pieces"]
    {
        assert!(three.err.contains(words), "{words}: {}", three.err);
    }
    for words in ["2 pieces from 1 strip", "Nothing to cut from\n"] {
        assert!(three.out().contains(words), "{words}: {}", three.out());
    }
    let table = cut(&["job.toml", "job.toml", "job.toml", "--format", "csv"]);
    assert_eq!((table.code, table.out().matches(",lacking,").count()), (Some(1), 1));
    // A keeper is named by itself: what the strap is cut from is another leather.
    let keeper = cut(&["job.toml", "--set", "keeper.width=\"16 mm\""]);
    for words in ["the thickness of `keeper`", "--thickness-allowance, with --rip"] {
        assert!(keeper.err.contains(words), "{words}: {}", keeper.err);
    }
    assert!(keeper.out().contains("1 piece from 1 strip"), "{}", keeper.out());
    // With nothing to plan there is no plan.
    let none = cut(&["job.toml", "--set", "strap.thickness=\"4.5 mm\""]);
    assert_eq!((none.code, none.out()), (Some(1), ""), "{}", none.err);
    assert!(none.err.contains("nothing was planned"), "{}", none.err);
    // A table still lists what lacks leather.
    let none =
        cut(&["job.toml", "--set", "strap.thickness=\"4.5 mm\"", "--format", "csv"]);
    assert_eq!(none.code, Some(1), "{}", none.err);
    assert_eq!(none.out().matches(",lacking,").count(), 1, "{}", none.out());
    let wide = cut(&["job.toml", "--set", "strap.width=\"30 mm\""]);
    assert!(wide.code == Some(1) && wide.err.contains("--rip"), "{}", wide.err);
    let ripped = cut(&["job.toml", "--set", "strap.width=\"30 mm\"", "--rip"]);
    assert_eq!(ripped.code, Some(0), "{}", ripped.err);

    // Mistakes of the list and of every job in one run.
    fs::write(folder.path().join("wrong.toml"), THREE_MISTAKES).unwrap();
    let piped = command(folder.path(), &["cut", "wrong.toml", "--stock", "-"]);
    let wrong = run_with(piped, b"name,length,width,thickness\noak,2,38 mm,3 mm\n");
    assert_eq!((wrong.code, wrong.out()), (Some(1), ""));
    for words in ["stock-value", "standard input:2:5", "bad-length", "unknown-key"] {
        assert!(wrong.err.contains(words), "{words}: {}", wrong.err);
    }
    for (args, code, words) in [
        (&["cut", "job.toml"][..], 2, "--stock"),
        (&["cut", "-", "--stock", "-"][..], 2, "only one input"),
        (&["cut", "--stock", "strips.csv", "--ends", "5"][..], 2, "unit"),
        (&["cut", "--stock", "gone.csv"][..], 3, "gone.csv"),
        (&["cut", "gone.toml", "--stock", "strips.csv"][..], 3, "gone.toml"),
    ] {
        let ran = run(folder.path(), args);
        assert_eq!((ran.code, ran.out()), (Some(code), ""), "{args:?}: {}", ran.err);
        assert!(ran.err.contains(words), "{args:?}: {}", ran.err);
    }
    assert_eq!(names(&folder), ["job.toml", "strips.csv", "wrong.toml"]);
}

/// A column of the table of marks as numbers.
fn column(table: &str, name: &str) -> Vec<f64> {
    let mut lines = table.lines().map(|l| l.split(',').collect::<Vec<_>>());
    let at = lines.next().unwrap().iter().position(|h| *h == name).unwrap();
    lines.filter(|l| !l[at].is_empty()).map(|l| l[at].parse().unwrap()).collect()
}

#[test]
fn marks_are_a_table_in_order() {
    let folder = tempfile::tempdir().unwrap();
    let ran = run(folder.path(), &["marks"]);
    assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""));
    let table = ran.out();
    assert_eq!(
        table.lines().next().unwrap(),
        "piece,feature,kind,x_mm,y_mm,from_bend_mm,diameter_mm,length_mm"
    );
    assert!(table.lines().all(|l| l.split(',').count() == 8), "{table}");
    let xs = column(table, "x_mm");
    let pieces: Vec<&str> =
        table.lines().skip(1).map_while(|l| l.split(',').next()).collect();
    assert!(xs.len() > 10 && xs.len() == pieces.len(), "{xs:?}");
    let along: Vec<(&str, f64)> = pieces.into_iter().zip(xs).collect();
    assert!(along.is_sorted(), "each piece from its start: {along:?}");
    for word in ["end", "fastener", "slot", "bend", "hole", "fitting", "tip"] {
        assert!(table.contains(&format!(",{word},")), "{word}: {table}");
    }
    assert_eq!(names(&folder), [""; 0]);
}

#[test]
fn a_set_lies_over_the_job() {
    let folder = folder_with(
        "job.toml",
        "template = \"belt\"\n[size-holes]\ninside = 1\noutside = 1\n",
    );
    let holes = |sets: &[&str]| {
        let mut args = vec!["marks", "job.toml"];
        args.extend(sets.iter().flat_map(|s| ["--set", s]));
        let ran = run(folder.path(), &args);
        assert_eq!(ran.code, Some(0), "{}", ran.err);
        ran.out().lines().filter(|l| l.starts_with("strap,size-holes,")).count()
    };
    assert_eq!(holes(&[]), 3);
    assert_eq!(holes(&["size-holes.inside=2"]), 4);
    assert_eq!(holes(&["size-holes.inside=2", "size-holes.outside=0"]), 3);
    assert_eq!(holes(&["size-holes.inside=2", "size-holes.inside=0"]), 2, "the last");

    for (set, words) in [
        ("size-holes.insid=2", "`inside`"),
        ("strap.width=38", "unit"),
        ("nonsense", "KEY=VALUE"),
    ] {
        let ran = run(folder.path(), &["check", "job.toml", "--set", set]);
        assert_eq!(ran.code, Some(1), "{set}");
        assert!(ran.out().contains(words), "{set}: {}", ran.out());
        assert!(ran.out().contains("--set"), "{set}: {}", ran.out());
    }
}

/// The schema of all jobs, and those of the jobs of a template, the user's own too.
#[test]
fn schemas_are_written() {
    let own = "template = \"belt\"\n[lamp]\nround = \"90 mm\"\n[about.keys]\n\
               \"lamp.round\" = \"once round the lamp\"\n[tip]\nby = \"lamp.round\"\n";
    let folder = folder_with("lamp.toml", own);
    let schema = |args: &[&str]| -> serde_json::Value {
        let ran = run(folder.path(), &[&["schema"], args].concat());
        assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""), "{args:?}");
        serde_json::from_str(ran.out()).unwrap()
    };
    let all = schema(&[]);
    assert_eq!(all["$schema"], "http://json-schema.org/draft-07/schema#");
    let rows = &all["definitions"]["kind-row"]["properties"]["rows"];
    assert_eq!(rows["description"], "rows side by side (when left out: `1`)");
    assert_eq!((&rows["minimum"], &rows["maximum"]), (&1.into(), &20.into()));
    let neck = &all["definitions"]["hardware-stud"]["properties"]["neck"];
    assert_eq!(neck["description"], "its neck across (needed)");
    let told = |schema: &serde_json::Value, table: &str, key: &str| {
        let property = &schema["properties"][table]["then"]["properties"][key];
        property["description"].as_str().map(ToOwned::to_owned)
    };
    assert_eq!(told(&all, "tip", "past-last-hole"), None);
    let belt = schema(&["belt"]);
    assert!(told(&belt, "tip", "past-last-hole").is_some(), "{belt}");
    let lamp = schema(&["lamp.toml"]);
    let what = "once round the lamp (default: \"90 mm\")";
    assert_eq!(told(&lamp, "lamp", "round").as_deref(), Some(what));
    assert_eq!(
        told(&lamp, "tip", "past-last-hole"),
        told(&belt, "tip", "past-last-hole")
    );
    let none = run(folder.path(), &["schema", "bel"]);
    assert_eq!((none.code, none.out()), (Some(2), ""));
    assert!(none.err.contains("did you mean `belt`"), "{}", none.err);
}

#[test]
fn templates_are_listed_told_and_given() {
    let folder = tempfile::tempdir().unwrap();
    let at = |args: &[&str]| {
        let ran = run(folder.path(), args);
        assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""), "{args:?}");
        ran.out().to_owned()
    };
    assert!(at(&["templates"]).lines().any(|l| l.starts_with("belt ")));
    let keys = at(&["templates", "belt"]);
    for words in ["measure.value = \"34 in\"", "buckle.bar = ", "blank.length = (none)"] {
        assert!(keys.contains(words), "{words}: {keys}");
    }
    let own = format!("template = \"belt\"\n{}", at(&["templates", "belt", "--toml"]));
    fs::write(folder.path().join("own.toml"), own).unwrap();
    let drawn = run(folder.path(), &["draw", "own.toml"]);
    assert_eq!(drawn.code, Some(0), "{}", drawn.err);
    assert!(is_pdf(&fs::read(folder.path().join("own.pdf")).unwrap()));
}

#[test]
fn help_tells_of_every_command() {
    let folder = tempfile::tempdir().unwrap();
    for flag in ["--help", "-h", "help"] {
        let ran = run(folder.path(), &[flag]);
        assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""), "{flag}");
        for command in
            ["draw", "marks", "check", "calibrate", "verify", "templates", "schema"]
        {
            let told = |l: &str| l.trim_start().starts_with(&format!("{command} "));
            assert!(ran.out().lines().any(told), "{command}: {}", ran.out());
        }
        assert!(ran.out().contains("Exit codes: 0"), "{}", ran.out());
    }
    for (command, flags) in [
        ("draw", &["--output", "--paper", "--printer", "--force", "--set"][..]),
        ("calibrate", &["--wide-bar", "--tall-bar", "--strip", "--printer"][..]),
        ("marks", &["--set"][..]),
        ("check", &["--format", "--set"][..]),
        ("verify", &["--format", "--set", "--sheets", "--size", "--nested"][..]),
        ("templates", &["--toml"][..]),
    ] {
        let ran = run(folder.path(), &[command, "--help"]);
        assert_eq!(ran.code, Some(0), "{command}");
        for flag in flags {
            assert!(ran.out().contains(flag), "{command} {flag}: {}", ran.out());
        }
    }
    let version = run(folder.path(), &["--version"]);
    let expected = concat!("strapwright ", env!("CARGO_PKG_VERSION"), "\n");
    assert_eq!((version.code, version.out()), (Some(0), expected));
}

/// A word of a rule's name leads to the rules that have it.
#[test]
fn rules_are_found_by_a_word_of_their_names() {
    let folder = tempfile::tempdir().unwrap();
    let asked = |rule: &str| run(folder.path(), &["explain", rule]);
    let blank = asked("blank");
    assert_eq!((blank.code, blank.out()), (Some(2), ""));
    for name in ["blank-too-long", "blank-too-short", "holes-on-blank"] {
        assert!(blank.err.contains(name), "{name}: {}", blank.err);
    }
    assert!(!blank.err.contains("girth"), "{}", blank.err);
    let slip = asked("girht");
    assert!(slip.err.contains("did you mean `girth`?"), "{}", slip.err);
}
