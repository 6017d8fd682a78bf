//! `new`, on a terminal of its own and without one.

use crate::common::program::{command, folder_with, is_pdf, names, run};
use std::fs;

const PROFILE: &str = "\
[hardware.brass-heel-bar-40]
hardware = \"buckle\"
bar = \"4.5 mm\"
reach = \"29.5 mm\"
frame = \"36 mm\"
inside = \"40 mm\"
tongue = \"4 mm\"
note = \"drawer 3\"
[leather]
\"bridle 9 oz\" = { thickness = \"9 oz\" }
";

/// Off a terminal nothing is asked: every value stands there to be filled in.
#[test]
fn without_a_terminal_the_values_are_left_empty() {
    let folder = tempfile::tempdir().unwrap();
    let ran = run(folder.path(), &["new", "belt", "--set", "strap.width=35 mm"]);
    assert_eq!((ran.code, ran.out()), (Some(0), ""), "{}", ran.err);
    assert_eq!(names(&folder), ["belt.toml"]);
    let text = fs::read_to_string(folder.path().join("belt.toml")).unwrap();
    assert!(text.contains("width = \"35 mm\""), "{text}");
    let empty = text.lines().filter(|l| l.contains(" = \"\"  # ")).count();
    assert_eq!(empty, 7, "{text}");
    let checked = run(folder.path(), &["check", "belt.toml"]);
    assert_eq!(checked.code, Some(1));
    assert_eq!(
        checked.out().matches("error[not-measured]").count(),
        1,
        "{}",
        checked.out()
    );
    assert!(checked.out().contains("measure.value (line "), "{}", checked.out());
    // Filled in, it is a job.
    let mut full = text;
    for (key, value) in [
        ("taken", "tape"),
        ("value", "34 in"),
        ("bar", "4.5 mm"),
        ("reach", "29.5 mm"),
        ("tongue", "4 mm"),
        ("inside", "36 mm"),
        ("thickness", "9 oz"),
    ] {
        full =
            full.replace(&format!("\n{key} = \"\""), &format!("\n{key} = \"{value}\""));
    }
    fs::write(folder.path().join("belt.toml"), full).unwrap();
    let checked = run(folder.path(), &["check", "belt.toml"]);
    assert_eq!(checked.code, Some(0), "{}", checked.out());
    // A name that is taken gets a number; nothing is overwritten.
    assert_eq!(run(folder.path(), &["new", "belt"]).code, Some(0));
    assert_eq!(names(&folder), ["belt-2.toml", "belt.toml"]);
    let ran = run(folder.path(), &["new", "belt", "-o", "belt.toml"]);
    assert_eq!(ran.code, Some(3), "{}", ran.err);
    assert!(ran.err.contains("give -o FILE another name"), "{}", ran.err);
    let ran = run(folder.path(), &["new", "belt", "-o", "gone/belt.toml"]);
    assert_eq!(ran.code, Some(3), "{}", ran.err);
    assert!(ran.err.contains("there is no folder gone; make it"), "{}", ran.err);
    assert_eq!(run(folder.path(), &["new"]).code, Some(2));
    assert_eq!(run(folder.path(), &["new", "belt", "-o", "-"]).code, Some(2));
    let ran = run(folder.path(), &["new", "belt", "--set", "strap.width"]);
    assert_eq!(ran.code, Some(1), "{}", ran.err);
    assert!(ran.err.contains("`--set` takes KEY=VALUE"), "{}", ran.err);
}

/// The name of a thing answers what the thing says, and nothing else.
#[test]
fn a_name_that_is_set_answers_the_measures_of_its_thing() {
    let no_reach = PROFILE.replace("reach = \"29.5 mm\"\n", "");
    for (profile, name, left) in [
        (PROFILE, "brass-heel-bar-40", &[][..]),
        (&no_reach, "\"brass-heel-bar-40\"", &["reach"]),
        (PROFILE, "buckle", &["bar", "reach", "tongue", "inside"]),
    ] {
        let folder = folder_with("strapwright.toml", profile);
        let set = format!("buckle.hardware={name}");
        assert_eq!(run(folder.path(), &["new", "belt", "--set", &set]).code, Some(0));
        let text = fs::read_to_string(folder.path().join("belt.toml")).unwrap();
        let (_, buckle) = text.split_once("[buckle]\nhardware = ").unwrap();
        let (buckle, _) = buckle.split_once("\n\n").unwrap_or((buckle, ""));
        let empty = buckle.lines().filter(|line| line.contains(" = \"\"  # "));
        let empty: Vec<&str> =
            empty.map(|line| line.split(' ').next().unwrap()).collect();
        assert_eq!(empty, left, "{text}");
    }
}

/// A job is drawn from where it is put: with the path of its template from there, and the
/// things of the profile there.
#[test]
fn a_job_in_another_folder_can_be_drawn_there() {
    let folder = folder_with("lantern.toml", "template = \"belt\"\n");
    fs::create_dir_all(folder.path().join("jobs/summer")).unwrap();
    fs::write(folder.path().join("jobs/strapwright.toml"), PROFILE).unwrap();
    let sets =
        ["buckle.hardware=brass-heel-bar-40", "measure.value=34 in", "wearer=Ines"];
    let sets = sets.iter().flat_map(|set| ["--set", set]);
    let filled = ["measure.taken=tape", "strap.width=38 mm", "strap.thickness=9 oz"];
    let filled = filled.iter().flat_map(|set| ["--set", set]);
    let new = ["new", "lantern.toml", "-o", "jobs/summer"];
    let args: Vec<&str> = new.into_iter().chain(sets).chain(filled).collect();
    let ran = run(folder.path(), &args);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    let job = "jobs/summer/ines-lantern.toml";
    let text = fs::read_to_string(folder.path().join(job)).unwrap();
    assert!(text.contains("template = \"../../lantern.toml\"\nwearer = "), "{text}");
    let checked = run(folder.path(), &["check", job]);
    assert_eq!(checked.code, Some(0), "{}", checked.out());
}

#[test]
fn a_template_in_place_of_a_file_is_asked_after() {
    let folder = tempfile::tempdir().unwrap();
    let ran = run(folder.path(), &["draw", "dog-collar"]);
    assert_eq!(ran.code, Some(2), "{}", ran.err);
    assert!(ran.err.contains("`strapwright new dog-collar`"), "{}", ran.err);
}

#[cfg(unix)]
mod on_a_terminal {
    use super::*;
    use expectrl::{Eof, Expect, Session};
    use std::path::Path;
    use std::time::Duration;

    type Asked = expectrl::session::OsSession;

    fn ask(folder: &Path, args: &[&str]) -> Asked {
        let mut session = Session::spawn(command(folder, args)).unwrap();
        session.set_expect_timeout(Some(Duration::from_mins(1)));
        session
    }

    /// Answers each prompt in turn.
    fn answer(session: &mut Asked, dialogue: &[(&str, &str)]) {
        for (prompt, line) in dialogue {
            let found = session.expect(*prompt);
            assert!(found.is_ok(), "{prompt}: {:?}", found.err());
            session.send_line(*line).unwrap();
        }
    }

    #[test]
    fn a_belt_is_asked_for_and_drawn() {
        let folder = tempfile::tempdir().unwrap();
        let mut session = ask(folder.path(), &["new", "belt"]);
        answer(
            &mut session,
            &[
                ("measure.taken [tape]:", ""),
                ("measure.value:", "86,5"),
                ("Only 86,5 cm is usual. Is it that? [yes]", ""),
                ("buckle.bar:", "4.5 mm"),
                ("buckle.reach:", "?"),
                ("put a scrap with one hole on the tongue", ""),
                ("buckle.reach:", "3.1 mm"),
                ("no buckle has such a reach", ""),
                ("buckle.reach:", "31 mm"),
                ("buckle.tongue:", "4 mm"),
                ("buckle.inside:", ""),
                ("type a length with its unit", ""),
                ("buckle.inside:", "36 mm"),
                ("strap.width:", "38 mm"),
                ("strap.thickness:", "9 oz"),
                ("or < to go back", ""),
                ("strap.thickness:", "<"),
                ("strap.width [38 mm]:", "35 mm"),
                ("strap.thickness:", "<"),
                ("strap.width [35 mm]:", "<"),
                ("buckle.inside [36 mm]:", ""),
                ("strap.width [35 mm]:", ""),
                ("strap.thickness:", "9 oz"),
                ("For whom?", "Ines Fairwater"),
                ("Wrote ines-fairwater-belt.toml.", ""),
            ],
        );
        session.expect("Print at 100 %").unwrap();
        session.expect(Eof).unwrap();
        let all = ["ines-fairwater-belt.pdf", "ines-fairwater-belt.toml"];
        assert_eq!(names(&folder), all);
        assert!(is_pdf(&fs::read(folder.path().join(all[0])).unwrap()));
        let text = fs::read_to_string(folder.path().join(all[1])).unwrap();
        for line in ["value = \"86,5 cm\"", "reach = \"31 mm\"", "thickness = \"9 oz\""] {
            assert!(text.contains(line), "{text}");
        }
        assert_eq!(run(folder.path(), &["check", all[1]]).code, Some(0));
    }

    /// What the workshop has is asked for by name.
    #[test]
    fn things_of_the_profile_are_offered() {
        let folder = folder_with("strapwright.toml", PROFILE);
        let mut session = ask(folder.path(), &["new", "belt"]);
        answer(
            &mut session,
            &[
                ("measure.taken [tape]:", "bend-to-hole"),
                ("measure.value:", "37 in"),
                ("(drawer 3)", ""),
                ("buckle.hardware:", "1"),
                ("strap.width:", "38 mm"),
                ("strap.leather:", "bridle 9 oz"),
                ("For whom?", "Corin Ashdown"),
            ],
        );
        session.expect("Print at 100 %").unwrap();
        session.expect(Eof).unwrap();
        let path = folder.path().join("corin-ashdown-belt.toml");
        let text = fs::read_to_string(path).unwrap();
        assert!(text.contains("hardware = \"brass-heel-bar-40\""), "{text}");
        assert!(
            text.contains("leather = \"bridle 9 oz\"") && !text.contains("reach"),
            "{text}"
        );
    }

    /// What a thing lacks is asked for, and an own template is offered. A path that is taken is
    /// told before anything is asked.
    #[test]
    fn what_a_thing_lacks_is_asked_for() {
        let profile = PROFILE.replace("reach = \"29.5 mm\"\n", "");
        let profile = format!("units = \"in\"\ntemplates = \"straps\"\n{profile}");
        let folder = folder_with("strapwright.toml", profile);
        fs::create_dir(folder.path().join("straps")).unwrap();
        let own = "template = \"belt\"\n[about]\nsummary = \"Lantern belt\"\n";
        fs::write(folder.path().join("straps/lantern.toml"), own).unwrap();
        let mut session = ask(folder.path(), &["new", "-o", "strapwright.toml"]);
        session.expect("give -o FILE another name").unwrap();
        let mut session = ask(folder.path(), &["new", "-o", "own.toml"]);
        answer(
            &mut session,
            &[
                ("Lantern belt (own)", ""),
                ("type the number of one of these", "lantern"),
                ("measure.taken [tape]:", ""),
                ("(usual ~24 1/16 in (611 mm) to 60 in (1524 mm))", "34 in"),
                ("buckle.hardware:", "1"),
                ("buckle.reach:", "30 mm"),
                ("strap.width:", "38 mm"),
                ("strap.leather:", "bridle 9 oz"),
                ("wearer [none]:", ""),
            ],
        );
        session.expect("Print at 100 %").unwrap();
        session.expect(Eof).unwrap();
        let text = fs::read_to_string(folder.path().join("own.toml")).unwrap();
        assert!(text.contains("reach = \"30 mm\"") && !text.contains("wearer"), "{text}");
    }

    #[test]
    fn a_full_stop_keeps_the_answers_and_an_end_before_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let mut session = ask(folder.path(), &["new", "belt"]);
        answer(
            &mut session,
            &[("measure.taken [tape]:", ""), ("measure.value:", "34 in")],
        );
        session.expect("buckle.bar:").unwrap();
        assert!(session.get_process_mut().exit(true).unwrap());
        assert_eq!(names(&folder), [""; 0]);
        let mut session = ask(folder.path(), &["new", "belt"]);
        answer(
            &mut session,
            &[
                ("measure.taken [tape]:", ""),
                ("measure.value:", "34 in"),
                ("buckle.bar:", "."),
            ],
        );
        session.expect(Eof).unwrap();
        assert_eq!(names(&folder), ["belt.toml"]);
        let checked = run(folder.path(), &["check", "belt.toml"]);
        assert!(checked.out().contains("not-measured"), "{}", checked.out());
        assert!(!checked.out().contains("measure.value (line"), "{}", checked.out());
    }

    /// Without a template the straps are listed.
    #[test]
    fn a_strap_is_chosen_by_its_number() {
        let folder = tempfile::tempdir().unwrap();
        let mut session = ask(folder.path(), &["new"]);
        answer(
            &mut session,
            &[("Its number or name:", "99"), ("Its number or name:", "1")],
        );
        session.expect("measure.taken [tape]:").unwrap();
    }
}
