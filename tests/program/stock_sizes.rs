//! Stock sizes as a person meets them: `reprint`, and `draw --nested`.

use crate::common::program::{Ran, folder_with, is_pdf, names, run};
use std::fs;

/// A rack of two belts that differ in length alone.
const RACK: &str = "template = \"belt\"\ntitle = \"Rack\"\nmeasure.taken = \"bend-to-hole\"\n\
    stock.sizes = [\"34 in\", \"36 in\", \"38 in\"]\n";

/// The word after `print` in what was said of a drawing.
fn print_of(ran: &Ran) -> String {
    let line = ran.err.lines().find(|l| l.contains(" sheet") && l.contains(", print "));
    let after = line.and_then(|l| l.split_once(", print ")).map(|(_, after)| after);
    after.unwrap().chars().take(9).collect()
}

#[test]
fn a_reprint_is_the_sheets_that_differ() {
    let folder = folder_with("rack.toml", RACK);
    let at = |args: &[&str]| run(folder.path(), args);
    let early = at(&["reprint", "rack.toml", "--size", "36"]);
    assert_eq!(early.code, Some(2), "{}", early.err);
    for words in ["no rack.pdf", "--after", "--against", "draw"] {
        assert!(early.err.contains(words), "{words}: {}", early.err);
    }
    let unsized_ = at(&["draw", "rack.toml", "-o", "measure.pdf"]);
    assert!(unsized_.err.contains("stock: 34 in, 36 in, 38 in"), "{}", unsized_.err);
    fs::remove_file(folder.path().join("measure.pdf")).unwrap();
    let drawn = at(&["draw", "rack.toml", "--size", "34 in"]);
    assert_eq!(drawn.code, Some(0), "{}", drawn.err);
    let first = print_of(&drawn);

    assert!(!drawn.err.contains("--size"), "{}", drawn.err);

    let second = at(&["reprint", "rack.toml", "--size", "36"]);
    assert_eq!((second.code, second.out()), (Some(0), ""), "{}", second.err);
    let keep = format!("keep      sheet 1 of print {first}");
    for words in [
        keep.as_str(),
        "sheet 2 of 2, in place of sheet 2",
        "1 sheet and the ticket on A4",
        "rack-36-in.pdf",
    ] {
        assert!(second.err.contains(words), "{words}: {}", second.err);
    }
    // The one after is held against that, and still keeps the sheet of the first.
    let third =
        at(&["reprint", "rack.toml", "--size", "38", "--after", "rack-36-in.pdf"]);
    assert_eq!(third.code, Some(0), "{}", third.err);
    assert!(third.err.contains(&keep), "{}", third.err);
    let said =
        at(&["reprint", "rack.toml", "--size=36", "--against=34", "-o", "said.pdf"]);
    assert_eq!(said.code, Some(0), "{}", said.err);
    assert!(
        fs::read(folder.path().join("said.pdf")).unwrap()
            == fs::read(folder.path().join("rack-36-in.pdf")).unwrap(),
        "said or read, the same sheets"
    );
    let bare = ["reprint", "rack.toml", "--size=36", "--no-ticket", "-o", "-"];
    let bare = at(&bare);
    assert!(bare.err.contains("1 sheet on A4"), "{}", bare.err);
    let same = at(&["reprint", "rack.toml", "--size", "34"]);
    assert_eq!(same.code, Some(0), "{}", same.err);
    assert!(same.err.contains("No sheet is to print"), "{}", same.err);
    assert_eq!(
        names(&folder),
        ["rack-36-in.pdf", "rack-38-in.pdf", "rack.pdf", "rack.toml", "said.pdf"]
    );
}

/// After any change of the job the sheets are printed that differ, and no others.
#[test]
fn a_changed_job_is_reprinted_in_part() {
    let folder =
        folder_with("belt.toml", "template = \"belt\"\nmeasure.value = \"98 cm\"\n");
    let at =
        |args: &[&str]| run(folder.path(), &[&["reprint", "belt.toml"], args].concat());
    let drawn = run(folder.path(), &["draw", "belt.toml"]);
    assert_eq!(drawn.code, Some(0), "{}", drawn.err);
    let first = print_of(&drawn);
    let same = at(&[]);
    assert_eq!(same.code, Some(0), "{}", same.err);
    let words = format!("print {first} (belt.pdf) has all sheets. No sheet is to print");
    assert!(same.err.contains(&words), "{}", same.err);
    let other = at(&["--set", "wearer=Ines Fairwater"]);
    assert!(other.err.contains("only the heads differ"), "{}", other.err);
    assert_eq!(names(&folder), ["belt.pdf", "belt.toml"], "nothing is written");

    // One hole more toward the tip: the buckle end stays as it is.
    let hole = ["--set", "size-holes.outside=3"];
    let changed = at(&hole);
    assert_eq!(changed.code, Some(0), "{}", changed.err);
    for words in [
        format!("keep      sheet 1 of print {first}"),
        "swap in   sheet 2 of 2, in place of sheet 2".to_owned(),
        "1 sheet and the ticket on A4".to_owned(),
        "belt-changes.pdf".to_owned(),
    ] {
        assert!(changed.err.contains(&words), "{words}: {}", changed.err);
    }
    let verify = ["verify", "belt-changes.pdf", "belt.toml"];
    let held = run(folder.path(), &[&verify[..], &hole].concat());
    assert_eq!(held.code, Some(0), "{}{}", held.out(), held.err);
    // Which of the two was printed last is for the user to say.
    let unsaid = at(&["--set", "tip.shape=round"]);
    assert_eq!(unsaid.code, Some(2), "{}", unsaid.err);
    assert!(unsaid.err.contains("--after belt-changes.pdf"), "{}", unsaid.err);
    // The next change is held against that.
    let next = [&["--after", "belt-changes.pdf", "-o", "next.pdf"], &hole[..]].concat();
    let next = at(&[&next[..], &["--set", "tip.shape=round"]].concat());
    assert!(
        next.err.contains(&format!("keep      sheet 1 of print {first}")),
        "{}",
        next.err
    );

    // Drawn over the first, it says the same.
    let over = run(folder.path(), &["draw", "belt.toml", "--set", "tip.shape=round"]);
    let words = format!(
        "print {first} was there before: if you have printed it, keep its sheet 1 and print"
    );
    assert!(over.err.contains(&words), "{}", over.err);

    // Another thickness moves all: no sheet stays.
    let moved =
        at(&["--set", "strap.thickness=4 mm", "--after", "belt.pdf", "-o", "moved.pdf"]);
    assert!(moved.err.contains("no sheet: all of them differ"), "{}", moved.err);
}

/// A few sheets of a print fit their own size and no other.
#[test]
fn verify_tells_the_sizes_of_a_reprint_apart() {
    let folder = folder_with("rack.toml", RACK);
    let at = |args: &[&str]| run(folder.path(), args);
    assert_eq!(at(&["draw", "rack.toml", "--size", "34"]).code, Some(0));
    assert_eq!(at(&["reprint", "rack.toml", "--size", "36"]).code, Some(0));
    let held = |more: &[&str]| {
        at(&[&["verify", "rack-36-in.pdf", "rack.toml"], more].concat()).code
    };
    // The file says its size by itself.
    for right in [&["--size", "36"][..], &[]] {
        assert_eq!(held(right), Some(0), "{right:?}");
    }
    for wrong in [&["--size=34"][..], &["--size=38"], &["--set=tip.past-last-hole=5 in"]]
    {
        assert_eq!(held(wrong), Some(1), "{wrong:?}");
    }
}

/// A nested print is held against all sizes; a single one is told what to say.
#[test]
fn verify_holds_a_nested_print() {
    let folder = folder_with("rack.toml", RACK);
    let at = |args: &[&str]| run(folder.path(), args);
    assert_eq!(at(&["draw", "rack.toml", "--nested"]).code, Some(0));
    let whole = at(&["verify", "rack-nested.pdf", "rack.toml", "--nested"]);
    assert_eq!((whole.code, whole.err.as_str()), (Some(0), ""), "{}", whole.out());
    assert!(whole.out().ends_with("no findings\n"), "{}", whole.out());
    let one = at(&["verify", "rack-nested.pdf", "rack.toml", "--size", "34"]);
    assert_eq!(one.code, Some(1));
    assert!(one.out().contains("--nested"), "{}", one.out());
    assert_eq!(at(&["draw", "rack.toml", "--size", "34"]).code, Some(0));
    let other = at(&["verify", "rack.pdf", "rack.toml", "--nested"]);
    assert_eq!(other.code, Some(1), "{}", other.out());
}

/// Sheets of another paper, language or printer serve nobody.
#[test]
fn a_reprint_says_what_changes_every_sheet() {
    let folder = folder_with("rack.toml", RACK);
    let at = |args: &[&str]| run(folder.path(), args);
    assert_eq!(at(&["draw", "rack.toml", "--size", "34"]).code, Some(0));
    let desk = ["calibrate", "rack.pdf", "--wide-bar=257.4mm", "--tall-bar=158.4mm"];
    let made = at(&[&desk[..], &["--printer", "desk.toml"]].concat());
    assert_eq!(made.code, Some(0), "{}", made.err);
    for (args, words) in [
        (&["--paper", "letter"][..], "it was drawn on A4, and is now on Letter"),
        (
            &["--language", "de"],
            "with --language en --units mm, and is now with --language de",
        ),
        (
            &["--printer", "desk.toml"],
            "for no printer file, and is now for printer desk (long ×",
        ),
        // What a bar may read stands beside it.
        (&["--ruler-class", "I"], "with --ruler-class II --resolution \"0.5 mm\""),
    ] {
        let own = ["reprint", "rack.toml", "--size", "36", "-o", "-"];
        let ran = at(&[&own[..], args].concat());
        assert_eq!(ran.code, Some(0), "{args:?}: {}", ran.err);
        for words in [words, "keep      no sheet"] {
            assert!(ran.err.contains(words), "{args:?}: {}", ran.err);
        }
    }
}

#[test]
fn a_reprint_needs_a_print() {
    let folder = folder_with("rack.toml", RACK);
    let at = |args: &[&str]| run(folder.path(), args);
    assert_eq!(at(&["draw", "rack.toml", "--size", "34"]).code, Some(0));
    for (args, code, words) in [
        (&["reprint", "rack.toml", "--size", "35"][..], 1, "34 in and 36 in"),
        (&["reprint", "rack.toml", "--against", "34"][..], 2, "--size"),
        (&["reprint", "rack.toml", "--all", "--size", "34"][..], 2, "--all"),
        (&["reprint", "--all"][..], 2, "has no stock sizes"),
        (
            &["reprint", "rack.toml", "--size", "36", "--after", "gone.pdf"][..],
            3,
            "gone.pdf",
        ),
        (&["reprint", "rack.toml", "--size", "36", "--after", "rack.toml"][..], 3, "PDF"),
        (&["draw", "rack.toml", "--size", "34", "--nested"][..], 2, "--nested"),
        (&["draw", "--nested"][..], 2, "has no stock sizes"),
    ] {
        let ran = at(args);
        assert_eq!(ran.code, Some(code), "{args:?}: {}", ran.err);
        assert!(ran.err.contains(words), "{args:?}: {}", ran.err);
    }
    assert_eq!(names(&folder), ["rack.pdf", "rack.toml"]);
}

#[test]
fn a_whole_range_is_one_folder() {
    let folder = folder_with("rack.toml", RACK);
    let at = |args: &[&str]| run(folder.path(), args);
    let all = at(&["reprint", "rack.toml", "--all"]);
    assert_eq!((all.code, all.out()), (Some(0), ""), "{}", all.err);
    for words in ["3 sizes on 4 sheets; 6 if drawn one by one", "sheet 1 of every size"] {
        assert!(all.err.contains(words), "{words}: {}", all.err);
    }
    // Each size has a ticket of its own, what they share has none.
    assert_eq!(all.err.matches("1 sheet and the ticket on A4").count(), 3, "{}", all.err);
    assert_eq!(all.err.matches("1 sheet on A4").count(), 1, "{}", all.err);
    let within = folder.path().join("rack-sizes");
    for name in ["common", "34-in", "36-in", "38-in"] {
        let path = within.join(format!("rack-{name}.pdf"));
        assert!(is_pdf(&fs::read(&path).unwrap()), "{name}");
    }
    assert_eq!(fs::read_dir(&within).unwrap().count(), 4);

    // One file that is there keeps all of them from being written.
    fs::write(within.join("rack-38-in.pdf"), "a letter to keep").unwrap();
    fs::remove_file(within.join("rack-34-in.pdf")).unwrap();
    let again = at(&["reprint", "rack.toml", "--all"]);
    assert_eq!(again.code, Some(3), "{}", again.err);
    assert!(!within.join("rack-34-in.pdf").exists());
    assert_eq!(at(&["reprint", "rack.toml", "--all", "--force"]).code, Some(0));
    assert!(is_pdf(&fs::read(within.join("rack-38-in.pdf")).unwrap()));
}

#[test]
fn nested_sizes_are_one_strip() {
    let folder = folder_with("rack.toml", RACK);
    let at = |args: &[&str]| run(folder.path(), args);
    let nested = at(&["draw", "rack.toml", "--nested"]);
    assert_eq!((nested.code, nested.out()), (Some(0), ""), "{}", nested.err);
    for words in [
        "size 34 in: girth",
        "size 38 in: girth",
        "ticket",
        "rack-nested.pdf",
        "Choose one",
    ] {
        assert!(nested.err.contains(words), "{words}: {}", nested.err);
    }
    assert!(is_pdf(&fs::read(folder.path().join("rack-nested.pdf")).unwrap()));
    let ticket = at(&["ticket", "rack.toml", "--nested", "--language", "de"]);
    assert_eq!(ticket.code, Some(0), "{}", ticket.err);
    for words in ["34 in: Riemen", "38 in: Riemen", "Größen 34 in – 38 in"] {
        assert!(ticket.out().contains(words), "{words}: {}", ticket.out());
    }
    let german = at(&["draw", "rack.toml", "--nested", "--language", "de", "--force"]);
    assert!(german.err.contains("size 34 in: girth"), "{}", german.err);
    // No sheet of one size is one of it.
    let after = at(&["reprint", "rack.toml", "--size=36", "--after", "rack-nested.pdf"]);
    assert!(after.err.contains("keep      no sheet"), "{}", after.err);

    let sizes = "stock.sizes=[\"70 cm\", \"78 cm\"]";
    let refused =
        at(&["draw", "rack.toml", "--nested", "--set", sizes, "-o", "-", "--format=pdf"]);
    assert_eq!((refused.code, refused.out()), (Some(1), ""), "{}", refused.err);
    assert!(refused.err.contains("not-nestable"), "{}", refused.err);
}

/// The longest of these belts shares no sheet with the others.
#[test]
fn a_common_file_is_named_after_its_sizes() {
    let sizes = "stock.sizes=28 to 50 in by 2 in";
    let folder = folder_with("rack.toml", RACK);
    let all = run(folder.path(), &["reprint", "rack.toml", "--all", "--set", sizes]);
    assert_eq!(all.code, Some(0), "{}", all.err);
    let common = "rack-common-28-in-to-48-in.pdf";
    let path = folder.path().join("rack-sizes").join(common);
    assert!(is_pdf(&fs::read(path).unwrap()), "{}", all.err);
    let last = "sheet 1 of sizes 28 in – 48 in: ";
    assert!(all.err.contains(last) && !all.err.contains("---"), "{}", all.err);
}

/// A slip in the list of the sizes is one finding, and a size is shown as it was said.
#[test]
fn a_slip_in_the_sizes_is_one_finding() {
    for (sizes, span, words) in [
        (r#"["32 in", "34 xx", "36 in"]"#, "5:19", "unknown unit"),
        (r#"["28", "30", "32"]"#, "5:10", "no unit (and `30`, `32`)"),
        (r#"["28 in", "300 in", "32 in", "34 in"]"#, "5:19", "`300 in` before `32 in`"),
        (r#"["46 in", "44 in", "34 in"]"#, "5:19", "begin with the smallest"),
        (r#"["34 in", "30 in", "36 in"]"#, "5:19", "put `30 in` before `34 in`"),
        (r#""28-46 in""#, "5:9", "a span with its step"),
        (r#"["28 in, 30 in"]"#, "5:10", "quotes of its own"),
    ] {
        let text = format!(
            "template = \"belt\"\ntitle = \"Rack belt\"\nmeasure.value = \"34 in\"\n[stock]\n\
             sizes = {sizes}\n"
        );
        let folder = folder_with("rack.toml", &text);
        for args in [&["--size", "34"][..], &[]] {
            let checked = run(folder.path(), &[&["check", "rack.toml"], args].concat());
            assert_eq!(checked.code, Some(1), "{sizes}");
            let out = checked.out();
            assert!(out.ends_with("\n1 error\n"), "{out}");
            assert!(out.contains(&format!("rack.toml:{span}\n")), "{span}: {out}");
            assert!(out.contains(words), "{words}: {out}");
        }
    }
    let folder = folder_with("rack.toml", RACK);
    for args in [
        &["check", "rack.toml", "--size", "99"][..],
        &["draw", "rack.toml", "--size", "99"],
        &["reprint", "rack.toml", "--size", "99"],
        &["reprint", "rack.toml", "--size", "34", "--against", "99"],
        &["verify", "rack.toml", "rack.toml", "--size", "99"],
    ] {
        let ran = run(folder.path(), args);
        assert_eq!(ran.code, Some(1), "{args:?}: {}", ran.err);
        let option = args[args.len() - 2];
        let all = format!("{}{}", ran.out(), ran.err);
        assert!(all.contains(&format!("--> {option}:1:1\n")), "{all}");
        assert!(all.contains("1 | 99\n") && !all.contains("stock.size="), "{all}");
    }
}
