//! The README and the guide: their commands, jobs and links, the strap of one's own, and own
//! templates with every command.

use crate::common::program::{run, run_with};
use std::fs;
use std::path::Path;
use strapwright::export::FORMATS;
use strapwright::words::Language;
use tempfile::TempDir;

const ROOT: &str = env!("CARGO_MANIFEST_DIR");

/// The README and the topics of the guide, by the paths of their files.
fn documents() -> Vec<(String, String)> {
    let read = |path: String| {
        let text = fs::read_to_string(Path::new(ROOT).join(&path)).unwrap();
        (path, text)
    };
    let topics = strapwright::guide::REGISTER.iter();
    let topics = topics.map(|topic| read(format!("src/guide/{}.md", topic.name)));
    std::iter::once(read("README.md".to_owned())).chain(topics).collect()
}

/// The texts between fences of a language, such as `toml`, each with the file that the
/// paragraph before it says to save it as.
fn blocks<'d>(document: &'d str, language: &str) -> Vec<(Option<&'d str>, &'d str)> {
    let fence = format!("```{language}\n");
    let mut parts = document.split(fence.as_str());
    let mut before = parts.next().unwrap();
    let blocks = parts.map(|part| {
        let (text, after) = part.split_once("```").unwrap();
        let paragraph = before.trim_end().rsplit("\n\n").next().unwrap();
        let mut quoted = paragraph.split('`').skip(1).step_by(2);
        before = after;
        let is_saved = paragraph.to_lowercase().contains("save ");
        let is_file =
            |name: &&str| Path::new(name).extension().is_some_and(|e| e == language);
        (quoted.find(is_file).filter(|_| is_saved), text)
    });
    blocks.collect()
}

/// A folder with the sample jobs, the files that the README says to save, and those that a
/// document does: its reader has read the README.
fn folder_of(document: &str) -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    let (_, readme) = documents().remove(0);
    for document in [readme.as_str(), document] {
        for language in ["toml", "csv"] {
            for (name, text) in blocks(document, language) {
                if let Some(name) = name {
                    fs::write(folder.path().join(name), text).unwrap();
                }
            }
        }
    }
    let samples = folder.path().join("sample-jobs");
    fs::create_dir(&samples).unwrap();
    for entry in fs::read_dir(Path::new(ROOT).join("sample-jobs")).unwrap() {
        let path = entry.unwrap().path();
        if path.is_file() {
            fs::copy(&path, samples.join(path.file_name().unwrap())).unwrap();
        }
    }
    folder
}

/// The lines of code that call the program, each with the exit code that it says.
fn commands(document: &str) -> impl Iterator<Item = (&str, i32)> {
    let lines = document.lines().filter(|line| line.starts_with("    "));
    lines.map(str::trim).filter(|line| line.starts_with("strapwright ")).map(|line| {
        let says = line.split_once("# exit code ");
        says.map_or((line, 0), |(_, code)| (line, code.parse().unwrap()))
    })
}

/// Every command of the README and of each topic, in order, in a folder where the files
/// have been saved that the same text says to save.
#[cfg(unix)]
#[test]
fn every_command_of_the_readme_and_the_guide_works_as_written() {
    let program = Path::new(env!("CARGO_BIN_EXE_strapwright")).parent().unwrap();
    let path = format!("{}:{}", program.display(), std::env::var("PATH").unwrap());
    let mut count = 0;
    for (name, document) in documents() {
        let folder = folder_of(&document);
        for (line, code) in commands(&document) {
            let mut shell = std::process::Command::new("sh");
            shell.args(["-c", line]).current_dir(folder.path()).env("PATH", &path);
            let ran = run_with(shell, b"");
            assert_eq!(ran.code, Some(code), "{name}: {line}: {}{}", ran.err, ran.out());
            count += 1;
        }
    }
    assert!(count > 30, "only {count} commands were found");
}

/// The examples in the help of `calibrate`, from the first to the last.
#[cfg(unix)]
#[test]
fn the_examples_of_calibrate_work_as_written() {
    let program = Path::new(env!("CARGO_BIN_EXE_strapwright")).parent().unwrap();
    let path = format!("{}:{}", program.display(), std::env::var("PATH").unwrap());
    let folder = tempfile::tempdir().unwrap();
    let help = run(folder.path(), &["calibrate", "--help"]);
    let text = help.out().replace("\\\n", "");
    let examples: Vec<&str> =
        text.lines().filter(|line| line.starts_with("  strapwright ")).collect();
    assert_eq!(examples.len(), 4, "{text}");
    for line in examples {
        let mut shell = std::process::Command::new("sh");
        shell.args(["-c", line]).current_dir(folder.path()).env("PATH", &path);
        let ran = run_with(shell, b"");
        assert_eq!(ran.code, Some(0), "{line}: {}", ran.err);
    }
    assert!(folder.path().join("desk.toml").exists());
}

#[test]
fn the_jobs_of_the_readme_and_the_guide_are_sound() {
    for (path, document) in documents() {
        let folder = folder_of(&document);
        for (name, text) in blocks(&document, "toml") {
            let parsed: Result<toml::Table, _> = text.parse();
            let root = parsed.expect(text);
            let Some(name) = name.filter(|_| root.contains_key("template")) else {
                continue;
            };
            let ran = run(folder.path(), &["check", name]);
            assert!(ran.out().contains("no findings"), "{path}: {name}: {}", ran.out());
        }
    }
}

/// A paper, a language or a format that is added is named where people look for it.
#[test]
fn papers_languages_and_formats_are_named_in_the_help_and_the_guide() {
    let help = run(Path::new(ROOT), &["draw", "--help"]);
    let (_, guide) =
        documents().into_iter().find(|(n, _)| n.ends_with("printing.md")).unwrap();
    for paper in strapwright::paginate::Paper::names() {
        assert!(help.out().contains(&paper), "{paper} in the help of --paper");
        assert!(guide.contains(&format!("`{paper}`")), "{paper} in printing.md");
    }
    for code in Language::ALL.map(Language::code) {
        assert!(guide.contains(&format!("`{code}`")), "{code} in printing.md");
    }
    for format in FORMATS {
        let name = format!("`.{}`", format.extension);
        assert!(guide.contains(&name), "{name} in printing.md");
    }
}

/// Links to files lead somewhere, from where the document lies.
#[test]
fn links_of_the_readme_and_the_guide_lead_to_files() {
    for (name, document) in documents() {
        let from = Path::new(ROOT).join(&name);
        for target in document.split("](").skip(1).filter_map(|l| l.split(')').next()) {
            if target.starts_with(['#']) || target.starts_with("https://") {
                continue;
            }
            assert!(from.parent().unwrap().join(target).exists(), "{name}: {target}");
        }
    }
}

/// A file or folder in back quotes is named from the top of the project or from `src`, and
/// every folder of `src` is named.
#[test]
fn developers_md_names_the_folders_of_src_and_files_that_exist() {
    let root = Path::new(ROOT);
    let text = fs::read_to_string(root.join("DEVELOPERS.md")).unwrap();
    let quoted = text.split('`').skip(1).step_by(2);
    let paths =
        quoted.filter(|w| w.contains('/') && !w.contains(' ') && !w.contains("NAME"));
    let missing: Vec<&str> = paths
        .filter(|path| !root.join(path).exists() && !root.join("src").join(path).exists())
        .collect();
    assert!(missing.is_empty(), "{missing:?}");
    for entry in fs::read_dir(root.join("src")).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_str().unwrap();
        assert!(path.is_file() || text.contains(&format!("`src/{name}`")), "src/{name}");
    }
}

#[test]
fn the_guide_is_shown_by_name_and_by_the_beginning_of_a_name() {
    let here = Path::new(ROOT);
    let list = run(here, &["guide"]);
    for topic in strapwright::guide::REGISTER {
        assert!(list.out().contains(topic.name), "{}", list.out());
        let ran = run(here, &["guide", topic.name]);
        assert_eq!((ran.code, ran.out()), (Some(0), topic.text), "not as its file");
    }
    let ran = run(here, &["guide", "print"]);
    assert!(ran.out().starts_with("# Printing"), "{}", ran.err);
    // `jobs` and `job-language` both begin so.
    for (word, near) in
        [("cuttin g", "did you mean `cutting`?"), ("job", "`jobs`"), ("", "jobs, ")]
    {
        let ran = run(here, &["guide", word]);
        assert_eq!(ran.code, Some(2));
        assert!(
            ran.err.contains("no topic is called") && ran.err.contains(near),
            "{}",
            ran.err
        );
    }
}

/// The topic about a strap of one's own, and a folder with its template and its job.
fn own_strap() -> (TempDir, String) {
    let mut documents = documents().into_iter();
    let (_, text) = documents.find(|(name, _)| name.ends_with("own-strap.md")).unwrap();
    let files = blocks(&text, "toml");
    let names: Vec<&str> = files.iter().filter_map(|(name, _)| *name).collect();
    assert_eq!(names, ["book-strap.toml", "prompt-book-strap.toml"]);
    for (name, text) in files {
        let sample = Path::new(ROOT).join("sample-jobs/prompt-book").join(name.unwrap());
        assert_eq!(fs::read_to_string(sample).unwrap(), text, "{name:?} and its sample");
    }
    (folder_of(&text), text)
}

/// Computed: once round the book is 2 (width + thickness), and the mid-line of a closed strap
/// is π t longer: 2 (228.6 + 38) + 2.5 π = 541.054 mm for the middle slit.
#[test]
fn the_strap_of_the_guide_is_drawn_as_it_says() {
    let (folder, topic) = own_strap();
    let ran = run(folder.path(), &["draw", "prompt-book-strap.toml"]);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    assert!(!ran.err.contains("warning"), "{}", ran.err);
    let ran = run(folder.path(), &["marks", "prompt-book-strap.toml"]);
    assert!(ran.out().contains("strap,slits,hole,541.053982,0.000,"), "{}", ran.out());
    let args = ["verify", "prompt-book-strap.pdf", "prompt-book-strap.toml"];
    assert_eq!(run(folder.path(), &args).code, Some(0));
    // The limits that the guide gives, and the way past them.
    let thick = ["check", "prompt-book-strap.toml", "--set", "book.thickness=100 mm"];
    let ran = run(folder.path(), &thick);
    assert_eq!(ran.code, Some(0));
    assert!(ran.out().contains("out-of-limits"), "{}", ran.out());
    let (_, wider) = topic.split_once("`about.limits.\"").unwrap();
    let wider = format!("about.limits.\"{}\n", wider.split('`').next().unwrap());
    let job = folder.path().join("prompt-book-strap.toml");
    let text = fs::read_to_string(&job).unwrap();
    fs::write(&job, wider + &text).unwrap();
    assert!(run(folder.path(), &thick).out().contains("no findings"));
}

/// Paths begin at the text that names them, wherever the program is called.
#[test]
fn templates_are_found_from_where_they_are_named() {
    let (home, _) = own_strap();
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
        let limits = strapwright::template::about_chain(&[template.text]);
        let limited = limits.keys.iter().filter(|k| k.limits.is_some());
        assert!(limited.clone().count() >= 2, "{} has limits", template.name);
        for key in limited {
            let source = &key.limits.as_ref().unwrap().source;
            assert!(source.len() > 8, "{}: {} says no source", template.name, key.name);
        }
        assert!(text.contains("\n      limits: "), "{text}");
    }
    let belt = run(here, &["templates", "belt"]);
    let named = "buckle.hardware, fastener.hardware,\nkeeper.leather, strap.leather\n";
    assert!(belt.out().contains(named), "{}", belt.out());
}
