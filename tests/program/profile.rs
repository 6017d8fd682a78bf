//! The profile of a workshop: where it is found, what it decides, and what wins over it.

use crate::common::program::{folder_with, run};
use std::fs;
use std::path::Path;

const BELT: &str = "template = \"belt\"\nmeasure.value = \"34 in\"\n";
const PROFILE: &str = "paper = \"letter\"\nunits = \"in\"\nticket = false\n";

fn write(folder: &Path, name: &str, text: &str) {
    let path = folder.join(name);
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    fs::write(path, text).unwrap();
}

#[test]
fn a_profile_sets_the_print_and_flags_win() {
    let folder = tempfile::tempdir().unwrap();
    let at = folder.path();
    write(at, "jobs/summer/belt.toml", BELT);
    write(at, "strapwright.toml", PROFILE);
    let drawn = |args: &[&str]| {
        let all = [&["draw", "jobs/summer/belt.toml", "--force"], args].concat();
        let ran = run(at, &all);
        assert_eq!(ran.code, Some(0), "{args:?}: {}", ran.err);
        ran.err
    };
    // From the folder of the job upward; inches come first, and there is no ticket.
    let words = drawn(&[]);
    assert!(words.contains("on Letter, print") && !words.contains("ticket"), "{words}");
    assert!(words.contains("girth 34 in (864 mm)"), "{words}");
    // Each flag wins by itself.
    let words = drawn(&["--paper", "a4", "--ticket"]);
    assert!(words.contains("and the ticket on A4, print"), "{words}");
    assert!(words.contains("girth 34 in (864 mm)"), "{words}");
    assert!(drawn(&["--units", "mm"]).contains("girth 864 mm (34 in)"));
    let without = drawn(&["--no-profile"]);
    assert!(without.contains("and the ticket on A4"), "{without}");
    // A file that is named wins over the nearest.
    write(at, "other.toml", "paper = \"a3\"\n");
    assert!(drawn(&["--profile", "other.toml"]).contains("ticket on A3"));
    // The nearest wins whole keys; what it leaves out is as in the user's own.
    write(at, ".config/strapwright/strapwright.toml", "units = \"both\"\n");
    write(at, "jobs/strapwright.toml", "paper = \"legal\"\n");
    let words = drawn(&[]);
    assert!(words.contains("ticket on Legal"), "{words}");
    assert!(words.contains("girth 864 mm (34 in)"), "{words}");
}

#[test]
fn every_command_takes_the_same_flags() {
    let folder = folder_with("belt.toml", BELT);
    let flags =
        ["--paper", "letter", "--units", "in", "--language", "de", "--no-profile"];
    for command in ["draw", "check", "ticket", "marks", "profile"] {
        let ran = run(folder.path(), &[&[command, "belt.toml"], &flags[..]].concat());
        assert_eq!(ran.code, Some(0), "{command}: {}", ran.err);
    }
    let checked = run(folder.path(), &["check", "belt.toml", "--units", "in"]);
    assert!(checked.out().contains("girth 34 in (864 mm)"), "{}", checked.out());
    write(
        folder.path(),
        "strips.csv",
        "name,length,width,thickness\nhide,1.6 m,38.1 mm,9 oz\n",
    );
    let args = ["cut", "belt.toml", "--stock", "strips.csv", "--units", "in"];
    let args = [
        &args[..],
        &["--set", "stock.sizes=\"28 to 46 in by 2 in\"", "--set", "keeper.count=0"],
    ]
    .concat();
    let planned = |size: &str| {
        let ran = run(folder.path(), &[&args[..], &["--size", size]].concat());
        assert_eq!(ran.code, Some(0), "{}", ran.err);
        ran.out().to_owned()
    };
    assert!(
        planned("28 in").contains("62 63/64 in (1600 mm) long"),
        "{}",
        planned("28 in")
    );
    assert_ne!(planned("28 in"), planned("40 in"));
}

/// `check` finds what `draw` does, what lies in a join too.
#[test]
fn check_finds_what_draw_finds_on_that_paper() {
    let wide = format!("{BELT}strap.width = \"75 mm\"\nbuckle.inside = \"80 mm\"\n");
    let folder = folder_with("belt.toml", wide);
    let told = |paper: &str| {
        let [checked, drawn] = ["check", "draw"].map(|command| {
            let force = if command == "draw" { "--force" } else { "--no-profile" };
            run(folder.path(), &[command, "belt.toml", force, "--paper", paper])
        });
        let lines = drawn.err.lines().filter(|l| l.starts_with("warning["));
        let lines: Vec<&str> = lines.collect();
        assert!(lines.iter().all(|l| checked.out().contains(l)), "{}", checked.out());
        lines.len()
    };
    assert!(told("100x100mm") > 0);
    assert_eq!(told("a4"), 0);
}

#[test]
fn profile_says_what_is_in_force_and_whence() {
    let folder = folder_with("belt.toml", BELT);
    let at = folder.path();
    let none = run(at, &["profile"]);
    assert!(none.out().starts_with("No strapwright.toml was read."), "{}", none.out());
    write(at, "strapwright.toml", &format!("{PROFILE}templates = \"patterns\"\n"));
    write(at, "patterns/house.toml", "template = \"belt\"\n");
    let ran = run(at, &["profile", "belt.toml", "--paper", "a4"]);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    let rows: Vec<Vec<&str>> = ran
        .out()
        .lines()
        .map(|l| l.split("  ").map(str::trim).filter(|c| !c.is_empty()).collect())
        .collect();
    assert_eq!(rows[0], ["Read: strapwright.toml"]);
    for row in [
        ["paper", "A4", "--paper (not strapwright.toml:1)"],
        ["units", "in", "strapwright.toml:2"],
        ["language", "en", "default"],
        ["printer", "none", "default"],
        ["ticket", "left out", "strapwright.toml:3"],
        ["templates", "patterns", "strapwright.toml:4"],
    ] {
        assert!(rows.iter().any(|r| r == &row), "{row:?}: {}", ran.out());
    }
    for flag in ["--ticket", "--no-ticket"] {
        let ran = run(at, &["profile", flag]);
        let whence = format!("  {flag} (not strapwright.toml:3)");
        assert!(ran.out().contains(&whence), "{}", ran.out());
    }
    // The templates of the profile are found by name.
    write(at, "house-belt.toml", "template = \"house\"\nmeasure.value = \"34 in\"\n");
    assert_eq!(run(at, &["check", "house-belt.toml"]).code, Some(0));
}

#[test]
fn what_is_wrong_with_a_profile_is_told_at_its_line() {
    for (text, code, words) in [
        ("papper = \"a4\"\n", 1, "did you mean `paper`?"),
        ("paper = \"lettr\"\n", 1, "did you mean `letter`?"),
        ("units = \"inch\"\n", 1, "one of: mm, in, both"),
        ("ticket = \"no\"\n", 1, "true or false"),
        ("paper = a4\n", 1, "profile-syntax"),
        ("printer = \"gone.toml\"\n", 3, "cannot read gone.toml"),
        ("templates = \"patterns\"\n", 1, "house-belt.toml"),
        ("templates = \"gone\"\n", 1, "make it, or correct the path"),
    ] {
        let folder = folder_with("belt.toml", BELT);
        write(folder.path(), "strapwright.toml", text);
        write(folder.path(), "patterns/belt.toml", "template = \"belt\"\n");
        let ran = run(folder.path(), &["draw", "belt.toml"]);
        assert_eq!(ran.code, Some(code), "{text}: {}", ran.err);
        assert!(ran.err.contains(words), "{text}: {}", ran.err);
        assert!(
            code == 3 || ran.err.contains("strapwright.toml:1"),
            "{text}: {}",
            ran.err
        );
        // Nobody is kept from seeing what there is.
        for (command, row) in [("profile", "  language  "), ("templates", "dog-collar  ")]
        {
            let ran = run(folder.path(), &[command]);
            assert!(ran.out().contains(row), "{text}: {}", ran.out());
            let is_told = ran.code == Some(1) && ran.err.contains(words);
            assert_eq!(is_told, code == 1, "{text}: {}", ran.err);
        }
    }
    let folder = folder_with("belt.toml", format!("paper = \"a4\"\n{BELT}"));
    let ran = run(folder.path(), &["check", "belt.toml"]);
    assert_eq!(ran.code, Some(1));
    assert!(ran.out().contains("a setting of the workshop"), "{}", ran.out());
}

/// What a name is shown as is no path: a folder may be called by what steers a terminal.
#[cfg(unix)]
#[test]
fn paths_begin_in_the_folder_itself_and_not_in_its_name_as_shown() {
    let folder = tempfile::tempdir().unwrap();
    let shop = folder.path().join("lantern\u{7}street");
    write(&shop, "strapwright.toml", "templates = \"own\"\nprinter = \"gone.toml\"\n");
    write(&shop, "own/house.toml", "template = \"../deep/sash.toml\"\n");
    write(&shop, "deep/sash.toml", "template = \"base.toml\"\n");
    write(&shop, "deep/base.toml", "template = \"belt\"\n");
    write(&shop, "job.toml", &BELT.replace("belt", "house"));
    let ran = run(folder.path(), &["marks", "lantern\u{7}street/job.toml"]);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    let ran = run(folder.path(), &["profile", "lantern\u{7}street/job.toml"]);
    assert!(ran.err.is_empty() && ran.out().contains("street/own"), "{}", ran.out());
    let ran = run(folder.path(), &["draw", "lantern\u{7}street/job.toml"]);
    assert!(ran.err.contains("street/gone.toml: there is no such file"), "{}", ran.err);
}

/// A file that others may write could have been planted.
#[cfg(unix)]
#[test]
fn a_profile_that_everybody_may_write_is_passed_over() {
    use std::os::unix::fs::PermissionsExt;
    let folder = folder_with("belt.toml", BELT);
    let path = folder.path().join("strapwright.toml");
    fs::write(&path, PROFILE).unwrap();
    fs::set_permissions(&path, fs::Permissions::from_mode(0o666)).unwrap();
    let ran = run(folder.path(), &["draw", "belt.toml"]);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    assert!(
        ran.err.contains("profile-passed-over") && ran.err.contains("on A4"),
        "{}",
        ran.err
    );
    let named = ["draw", "belt.toml", "--force", "--profile", "strapwright.toml"];
    assert!(run(folder.path(), &named).err.contains("on Letter"));
}

/// The name of a print covers what is in force: change that, and the name changes; change
/// anything else of a profile, and the bytes are the same.
#[test]
fn the_name_of_a_print_covers_what_is_in_force_and_nothing_else() {
    let job = format!("{BELT}buckle.hardware = \"brass\"\nstrap.leather = \"bridle\"\n");
    let folder = folder_with("belt.toml", job);
    let house = "paper = \"a4\"\nunits = \"mm\"\nlanguage = \"en\"\n\
                 [hardware.brass]\nhardware = \"buckle\"\nbar = \"4.5 mm\"\n\
                 reach = \"29.5 mm\"\ninside = \"40 mm\"\ntongue = \"4 mm\"\nnote = \"drawer 3\"\n\
                 [hardware.ring-25]\nhardware = \"ring\"\nbar = \"4 mm\"\n\
                 [leather.bridle]\nthickness = \"3.5 mm\"\nk = 0.5\n";
    let drawn = |profile: &str| {
        write(folder.path(), "strapwright.toml", profile);
        let ran = run(folder.path(), &["draw", "belt.toml", "--force"]);
        assert_eq!(ran.code, Some(0), "{profile}: {}", ran.err);
        let (_, print) = ran.err.split_once(", print ").unwrap();
        (print[..9].to_owned(), fs::read(folder.path().join("belt.pdf")).unwrap())
    };
    let first = drawn(house);
    for (from, to) in [
        ("\"a4\"", "\"letter\""),
        ("\"mm\"\nl", "\"in\"\nl"),
        ("\"en\"", "\"de\""),
        ("4.5 mm", "5 mm"),
        ("29.5 mm", "30 mm"),
        ("\"40 mm\"", "\"41 mm\""),
        ("tongue = \"4 mm\"", "tongue = \"4.2 mm\""),
        ("3.5 mm", "3.6 mm"),
        ("0.5", "0.4"),
    ] {
        assert_ne!(drawn(&house.replace(from, to)).0, first.0, "{from}");
    }
    for (from, to) in [
        ("drawer 3", "drawer 4"),
        ("bar = \"4 mm\"", "bar = \"5 mm\""),
        ("paper", "# a remark\npaper"),
        ("paper = \"a4\"\n", ""),
    ] {
        assert!(drawn(&house.replace(from, to)) == first, "{from}");
    }
}

/// What is wrong with a thing is in nobody's way who does not use it; `profile` lists it.
#[test]
fn things_are_listed_and_their_mistakes_are_told() {
    let folder = folder_with("belt.toml", BELT);
    let at = folder.path();
    let good = "[hardware.brass]\nhardware = \"buckle\"\nbar = \"4.5 mm\"\nnote = \"drawer 3\"\n\
                [leather]\n\"bridle 3.5\" = { thickness = \"9 oz\", k = 0.5 }\n";
    write(at, "strapwright.toml", good);
    let ran = run(at, &["profile"]);
    assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""), "{}", ran.out());
    assert!(
        ran.out().contains("bar 4.5 mm  ") && ran.out().contains("drawer 3"),
        "{}",
        ran.out()
    );
    for (wrong, words) in [
        ("[hardware.ring]\nhardware = \"ring\"\n", "is a kind of hardware"),
        ("[hardware.brass]\nbar = \"4 mm\"\n", "does not say what hardware it is"),
        ("[hardware.brass]\nhardware = \"bukcle\"\n", "did you mean `buckle`?"),
        ("[hardware.brass]\nhardware = \"buckle\"\nbarr = \"4 mm\"\n", "`hardware.barr`"),
        ("[hardware.brass]\nhardware = \"buckle\"\nbar = 4\n", "the bare number 4"),
        (
            "[hardware.brass]\nhardware = \"buckle\"\nbar = \"9 oz\"\n",
            "unit of the thickness",
        ),
        (
            "[hardware.a-b]\nhardware = \"ring\"\n[hardware.\"A b\"]\nhardware = \"ring\"\n",
            "too much alike",
        ),
        ("[leather.bridle]\nthicknes = \"9 oz\"\n", "`leather.thicknes`"),
        ("[leather.bridle]\nthickness = \"0 mm\"\n", "more than nothing"),
    ] {
        write(at, "strapwright.toml", wrong);
        let ran = run(at, &["profile"]);
        assert_eq!(ran.code, Some(1), "{wrong}: {}", ran.err);
        assert!(ran.err.contains(words), "{wrong}: {}", ran.err);
        assert_eq!(run(at, &["check", "belt.toml"]).code, Some(0), "{wrong}");
    }
}
