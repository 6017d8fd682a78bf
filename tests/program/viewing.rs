//! `draw --open`, `draw --watch`, and what shells and `man` show.

use crate::common::program::{command, folder_with, is_pdf, run, run_with};
use std::fs::{self, File};
use std::path::Path;
use std::process::Command;
use std::time::{Duration, Instant};

const JOB: &str = "template = \"belt\"\ntitle = \"Watched\"\nmeasure.value = ";

/// Waits until it holds.
fn until(what: &str, holds: impl Fn() -> bool) {
    let start = Instant::now();
    while !holds() {
        assert!(start.elapsed() < Duration::from_mins(1), "waited for {what}");
        std::thread::sleep(Duration::from_millis(20));
    }
}

#[test]
fn a_watched_job_is_drawn_at_every_save() {
    let folder = folder_with("job.toml", format!("{JOB}\"34 in\"\n"));
    let at = |name: &str| folder.path().join(name);
    let mut command = command(folder.path(), &["draw", "job.toml", "--watch"]);
    command.stderr(File::create(at("said")).unwrap());
    let mut child = command.spawn().unwrap();
    let said = |words: &str| fs::read_to_string(at("said")).unwrap().contains(words);
    until("the first drawing", || said("Waiting for the next change"));
    let first = fs::read(at("job.pdf")).unwrap();
    fs::write(at("job.toml"), format!("{JOB}\"36 in\"\n")).unwrap();
    until("the second drawing", || {
        let there = fs::read(at("job.pdf")).unwrap();
        assert!(is_pdf(&there), "a torn file");
        there != first
    });
    let second = fs::read(at("job.pdf")).unwrap();
    fs::write(at("job.toml"), format!("{JOB}36\n")).unwrap();
    until("the finding", || said("nothing was drawn"));
    assert!(child.try_wait().unwrap().is_none(), "it goes on after a mistake");
    assert!(fs::read(at("job.pdf")).unwrap() == second);
    child.kill().unwrap();
    child.wait().unwrap();
    let stdin = run(folder.path(), &["draw", "-", "--watch"]);
    assert_eq!(stdin.code, Some(2), "{}", stdin.err);
}

/// Wherever it lies, also if it was not there at first.
#[test]
fn a_watched_job_is_drawn_when_a_file_changes_that_it_is_made_of() {
    let folder = folder_with("lantern.toml", "template = \"belt\"\n");
    let at = |name: &str| folder.path().join(name);
    let job = "template = \"../lantern.toml\"\nmeasure.value = \"34 in\"\n";
    fs::create_dir(at("jobs")).unwrap();
    fs::write(at("jobs/job.toml"), job).unwrap();
    let mut command = command(folder.path(), &["draw", "jobs/job.toml", "--watch"]);
    command.stderr(File::create(at("said")).unwrap());
    let mut child = command.spawn().unwrap();
    let runs = || {
        let said = fs::read_to_string(at("said")).unwrap();
        said.matches("Waiting for the next change").count()
    };
    until("the first drawing", || runs() == 1);
    let printer = "printer = \"printer.toml\"\n";
    let user = ".config/strapwright/strapwright.toml";
    fs::create_dir_all(at(user).parent().unwrap()).unwrap();
    for (n, (file, text)) in (2..).zip([
        ("lantern.toml", "template = \"belt\"\nstrap.width = \"35 mm\"\n"),
        ("strapwright.toml", "paper = \"letter\"\n"),
        (user, printer),
        ("strapwright.toml", "units = \"inch\"\n"),
        ("strapwright.toml", printer),
        ("printer.toml", "a mistake"),
    ]) {
        fs::write(at(file), text).unwrap();
        until(file, || runs() == n);
    }
    child.kill().unwrap();
    child.wait().unwrap();
    let said = fs::read_to_string(at("said")).unwrap();
    assert!(
        said.contains("on Letter") && said.contains("one of: mm, in, both"),
        "{said}"
    );
}

/// The viewer is what the system opens files with; here it is a script.
#[cfg(target_os = "linux")]
#[test]
fn a_viewer_gets_the_first_file() {
    use std::os::unix::fs::PermissionsExt;
    let folder = folder_with("xdg-open", "#!/bin/sh\necho \"$1\" > opened\n");
    let viewer = folder.path().join("xdg-open");
    fs::set_permissions(&viewer, fs::Permissions::from_mode(0o755)).unwrap();
    let mut command =
        command(folder.path(), &["draw", "--open", "-o", "belt.svg", "--sheets"]);
    let path = std::env::var("PATH").unwrap();
    command.env("PATH", format!("{}:{path}", folder.path().to_string_lossy()));
    assert!(command.status().unwrap().success());
    let opened = folder.path().join("opened");
    until("the viewer", || {
        fs::read_to_string(&opened).is_ok_and(|name| name.ends_with('\n'))
    });
    assert_eq!(fs::read_to_string(&opened).unwrap(), "belt-1.svg\n");
}

/// Completes the last of some words in bash, by the script that the program writes for it.
fn completed(folder: &Path, words: &str) -> Vec<String> {
    let script = "PATH=$(dirname \"$0\"):$PATH; . <(strapwright completions bash); \
                  COMP_WORDS=($1 \"$2\"); COMP_CWORD=$((${#COMP_WORDS[@]} - 1)); COMP_TYPE=9; \
                  _clap_complete_strapwright strapwright \"$2\"; printf '%s\\n' \"${COMPREPLY[@]}\"";
    let (before, last) = words.rsplit_once(' ').unwrap();
    let mut bash = Command::new("bash");
    bash.args(["-c", script, env!("CARGO_BIN_EXE_strapwright"), before, last]);
    bash.current_dir(folder).env("XDG_CONFIG_HOME", folder.join(".config"));
    let done = bash.output().unwrap();
    assert!(done.stderr.is_empty(), "{words}: {}", String::from_utf8_lossy(&done.stderr));
    String::from_utf8(done.stdout).unwrap().lines().map(ToOwned::to_owned).collect()
}

/// Names that are found where and when they are asked for: the folder's own and the job's.
#[cfg(unix)]
#[test]
fn a_shell_completes_names_and_sizes() {
    let folder = folder_with("strapwright.toml", "templates = \"own\"\n");
    let at = |name: &str| folder.path().join(name);
    fs::create_dir(at("own")).unwrap();
    for name in ["lantern", "last \u{1b}[2J"] {
        fs::write(at("own").join(format!("{name}.toml")), "template = \"belt\"\n")
            .unwrap();
    }
    let sizes = "stock.sizes = [\"34 in\", \"34 1/2 in\", \"36 in\"]\n";
    fs::write(at("rack.toml"), format!("{JOB}\"34 in\"\n{sizes}")).unwrap();
    let see = |words: &str| completed(folder.path(), &format!("strapwright {words}"));
    assert_eq!(
        see("new la"),
        ["lantern", "laced-cuff"],
        "and nothing that steers a terminal"
    );
    assert_eq!(see("templates --templates own lant"), ["lantern"]);
    assert_eq!(see("templates --no-profile la"), ["laced-cuff"]);
    assert!(see("new ").contains(&"belt".to_owned()));
    assert_eq!(see("templates own/lan"), ["own/lantern.toml"]);
    assert_eq!(see("explain hole-in"), ["hole-in-bend"]);
    assert_eq!(see("guide prin"), ["printing"]);
    assert_eq!(see("man rep"), ["reprint"]);
    for command in ["draw", "calibrate --print"] {
        assert_eq!(see(&format!("{command} --paper le")), ["letter", "legal"]);
    }
    for command in ["draw", "reprint", "cut --stock s.csv", "verify rack.pdf"] {
        let found = see(&format!("{command} rack.toml --size 34"));
        assert_eq!(found, ["34in", "34-1/2in"], "{command}");
    }
    assert_eq!(see("draw rack.toml --size 36in --pa"), ["--paper"]);
    assert_eq!(see("check rack.toml --set stock.sizes=\"28in\" --size "), ["28in"]);
    assert_eq!(see("draw rac"), ["rack.toml"]);
    let drawn = run(folder.path(), &["draw", "rack.toml", "--size", "34-1/2in"]);
    assert_eq!(drawn.code, Some(0), "what is offered is taken: {}", drawn.err);
    let mut asked = command(folder.path(), &["--", "strapwright", "new", ""]);
    asked.env("STRAPWRIGHT_COMPLETE", "tcsh");
    let unknown = run_with(asked, b"");
    assert_eq!(unknown.code, Some(2), "{}", unknown.err);
    assert!(unknown.err.contains("unknown shell `tcsh`"), "{}", unknown.err);
}

#[test]
fn shells_and_man_know_the_commands() {
    let here = Path::new(".");
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let script = run(here, &["completions", shell]);
        assert_eq!((script.code, script.err.as_str()), (Some(0), ""), "{shell}");
        assert!(script.out().contains("STRAPWRIGHT_COMPLETE"), "{}", script.out());
    }
    let page = run(here, &["man", "draw"]);
    assert_eq!(page.code, Some(0), "{}", page.err);
    assert!(page.out().contains(".TH strapwright-draw 1"), "{}", page.out());
    assert!(page.out().contains("\\-\\-no\\-ticket"), "{}", page.out());
    assert!(run(here, &["man"]).out().contains("calibrate"));
    let none = run(here, &["man", "drwa"]);
    assert_eq!(none.code, Some(2));
    assert!(none.err.contains("did you mean `draw`?"), "{}", none.err);
}
