//! The README's own strap, run as it stands there, and own templates with every command.

use crate::common::program::run;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

const ROOT: &str = env!("CARGO_MANIFEST_DIR");

/// The README's chapter of that name.
fn chapter(name: &str) -> String {
    let readme = fs::read_to_string(Path::new(ROOT).join("README.md")).unwrap();
    let (_, from) = readme.split_once(&format!("\n## {name}\n")).unwrap();
    from.split("\n## ").next().unwrap().to_owned()
}

/// The texts between fences of TOML.
fn blocks(chapter: &str) -> Vec<&str> {
    let parts = chapter.split("```toml\n").skip(1);
    parts.map(|part| part.split("```").next().unwrap()).collect()
}

/// A folder with the template and the job of the README.
fn folder() -> (TempDir, String) {
    let chapter = chapter("A strap of your own");
    let blocks = blocks(&chapter);
    assert_eq!(blocks.len(), 2, "a template and a job");
    let folder = tempfile::tempdir().unwrap();
    for (name, text) in ["book-strap.toml", "prompt-book-strap.toml"].iter().zip(blocks) {
        fs::write(folder.path().join(name), text).unwrap();
        let sample = Path::new(ROOT).join("sample-jobs/prompt-book").join(name);
        assert_eq!(fs::read_to_string(sample).unwrap(), text, "{name} and its sample");
    }
    (folder, chapter)
}

/// Computed: once round the book is 2 (width + thickness), and the mid-line of a closed strap
/// is π t longer: 2 (228.6 + 38) + 2.5 π = 541.054 mm for the middle slit.
#[test]
fn the_strap_of_the_readme_is_drawn_as_it_says() {
    let (folder, chapter) = folder();
    let commands: Vec<&str> =
        chapter.lines().filter_map(|l| l.strip_prefix("    strapwright ")).collect();
    assert_eq!(commands.len(), 2, "{commands:?}");
    for command in commands {
        let args: Vec<&str> = command.split(' ').collect();
        let ran = run(folder.path(), &args);
        assert_eq!(ran.code, Some(0), "{command}: {}", ran.err);
        assert!(!ran.err.contains("warning"), "{command}: {}", ran.err);
    }
    let ran = run(folder.path(), &["marks", "prompt-book-strap.toml"]);
    assert!(ran.out().contains("strap,slits,hole,541.053982,0.000,"), "{}", ran.out());
    let args = ["verify", "prompt-book-strap.pdf", "prompt-book-strap.toml"];
    assert_eq!(run(folder.path(), &args).code, Some(0));
    // The limits that the README gives, and the way past them.
    let thick = ["check", "prompt-book-strap.toml", "--set", "book.thickness=100 mm"];
    let ran = run(folder.path(), &thick);
    assert_eq!(ran.code, Some(0));
    assert!(ran.out().contains("out-of-limits"), "{}", ran.out());
    let (_, wider) = chapter.split_once("`about.limits.\"").unwrap();
    let wider = format!("about.limits.\"{}\n", wider.split('`').next().unwrap());
    let job = folder.path().join("prompt-book-strap.toml");
    let text = fs::read_to_string(&job).unwrap();
    fs::write(&job, wider + &text).unwrap();
    assert!(run(folder.path(), &thick).out().contains("no findings"));
}

/// Paths begin at the text that names them, wherever the program is called.
#[test]
fn templates_are_found_from_where_they_are_named() {
    let (home, _) = folder();
    let at = |name: &str| home.path().join(name);
    fs::create_dir_all(at("jobs/wide")).unwrap();
    let over = "template = \"../../book-strap.toml\"\n[strap]\nwidth = \"30 mm\"\n";
    fs::write(at("jobs/wide/wide.toml"), over).unwrap();
    fs::write(at("jobs/atlas.toml"), "template = \"wide/wide.toml\"\n").unwrap();
    for (from, job) in [("", "jobs/atlas.toml"), ("jobs", "atlas.toml")] {
        let ran = run(&at(from), &["ticket", job]);
        assert_eq!(ran.code, Some(0), "{}", ran.err);
        assert!(ran.out().contains("30.0 mm"), "{}", ran.out());
    }
    // Without a job's folder, from the working folder.
    let args = ["check", "--set", "template=book-strap.toml"];
    let ran = run(home.path(), &args);
    assert_eq!(ran.code, Some(1), "the demo's keys are none of the book strap's");
    assert!(!ran.out().contains("unknown-template"), "{}", ran.out());
}

#[test]
fn every_command_takes_a_folder_of_templates() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    fs::create_dir(at("house")).unwrap();
    let house = "template = \"belt\"\n[about]\nsummary = \"The house's belt\"\n\
                 [strap]\nwidth = \"35 mm\"\n[buckle]\ninside = \"36 mm\"\n";
    fs::write(at("house/belt.toml"), house).unwrap();
    let job = "template = \"belt\"\n[stock]\nsizes = [\"32 in\", \"34 in\"]\n";
    fs::write(at("job.toml"), job).unwrap();
    let strips = "name,length,width,thickness,count\nx,1.5 m,35 mm,3.5 mm,1\n\
                  y,1 m,16 mm,2 mm,1\n";
    fs::write(at("strips.csv"), strips).unwrap();
    for args in [
        &["draw", "job.toml", "-o", "job.pdf"][..],
        &["verify", "job.pdf", "job.toml"],
        &["reprint", "job.toml", "--all"],
        &["ticket", "job.toml"],
        &["marks", "job.toml"],
        &["check", "job.toml"],
        &["cut", "job.toml", "--stock", "strips.csv"],
        &["templates"],
        &["templates", "belt"],
    ] {
        let args = [args, &["--templates", "house"]].concat();
        let ran = run(folder.path(), &args);
        assert_eq!(ran.code, Some(0), "{args:?}: {}{}", ran.err, ran.out());
    }
    let told = |args: &[&str]| run(folder.path(), args).out().to_owned();
    assert!(told(&["ticket", "job.toml", "--templates", "house"]).contains("35.0 mm"));
    assert!(told(&["ticket", "job.toml"]).contains("38.1 mm"), "the program's own");
    let list = told(&["templates", "--templates", "house"]);
    assert!(list.contains("The house's belt (own, in place of the program's)"), "{list}");
    assert_eq!(list.lines().filter(|l| l.starts_with("belt ")).count(), 1, "{list}");
    assert_eq!(told(&["templates", "belt", "--toml", "--templates", "house"]), house);

    let ran = run(folder.path(), &["check", "job.toml", "--templates", "hose"]);
    assert_eq!(ran.code, Some(3));
    assert!(ran.err.contains("--templates hose") && ran.err.contains("folder"));
    let ran = run(folder.path(), &["templates", "house/bel.toml"]);
    assert_eq!((ran.code, ran.err.contains("no file house/bel.toml")), (Some(3), true));
    let ran = run(folder.path(), &["templates", "bel", "--templates", "house"]);
    assert_eq!((ran.code, ran.err.contains("did you mean `belt`")), (Some(2), true));
}

/// What a template can be told fits the terminal, and says its limits with their source.
#[test]
fn templates_print_defaults_limits_and_sources() {
    let here = Path::new(ROOT);
    for template in strapwright::template::REGISTER {
        let told = run(here, &["templates", template.name]);
        assert_eq!(told.code, Some(0));
        let text = told.out();
        for line in text.lines() {
            assert!(line.chars().count() <= 110, "{}: {line}", template.name);
        }
        let limits = strapwright::template::about(*template);
        let limited = limits.keys.iter().filter(|k| k.limits.is_some());
        assert!(limited.clone().count() >= 2, "{} has limits", template.name);
        for key in limited {
            let source = &key.limits.as_ref().unwrap().source;
            assert!(source.len() > 8, "{}: {} says no source", template.name, key.name);
        }
        assert!(text.contains("\n      limits: "), "{text}");
    }
}
