//! What a job, a table, a file's name, the command line or a PDF says never steers a terminal:
//! 10,000 hostile strings, shown on a pseudo-terminal.

#![cfg(target_os = "linux")]
use crate::common::program::{command, folder_with, run, run_with};
use crate::common::random::Random;
use lopdf::{Document, decode_text_string, text_string};
use rustix::pty::{OpenptFlags, grantpt, openpt, ptsname, unlockpt};
use std::fmt::Write as _;
use std::fs::{self, File};
use std::io::Read;
use std::path::Path;

/// All that a program writes to a terminal.
fn on_terminal(folder: &Path, args: &[&str]) -> Vec<u8> {
    let main = openpt(OpenptFlags::RDWR | OpenptFlags::NOCTTY).unwrap();
    grantpt(&main).unwrap();
    unlockpt(&main).unwrap();
    let name = ptsname(&main, Vec::new()).unwrap().into_string().unwrap();
    let other = || File::options().read(true).write(true).open(&name).unwrap();
    let mut child = {
        let mut command = command(folder, args);
        command.env("TERM", "xterm").stdin(other()).stdout(other()).stderr(other());
        command.spawn().unwrap()
    };
    let (mut main, mut shown) = (File::from(main), Vec::new());
    let mut block = [0; 4096];
    // Linux gives an error when the last writer is gone.
    while let Ok(n @ 1..) = main.read(&mut block) {
        shown.extend(&block[..n]);
    }
    child.wait().unwrap();
    shown
}

/// Asserts that nothing but text, ends of lines and colours was shown. Characters that turn or
/// hide words: Unicode Standard Annex 9, table 4, and the Unicode Standard, 23.9 (tags).
fn is_harmless(shown: &[u8], about: &str) {
    let text =
        std::str::from_utf8(shown).unwrap_or_else(|_| unreachable!("{about}: no text"));
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        rest = &rest[c.len_utf8()..];
        if c == '\u{1b}' {
            // A colour: ECMA-48, 8.3.117.
            let end = rest.find('m').filter(|_| rest.starts_with('[')).unwrap_or(0);
            let is_colour =
                end > 0 && rest[1..end].bytes().all(|b| b.is_ascii_digit() || b == b';');
            assert!(is_colour, "{about}: an escape before {:?}", rest.get(..20));
            rest = &rest[end + 1..];
            continue;
        }
        let turns = matches!(c, '\u{200e}' | '\u{200f}' | '\u{61c}' | '\u{202a}'..='\u{202e}'
            | '\u{2066}'..='\u{2069}' | '\u{2028}' | '\u{2029}' | '\u{e0001}'..='\u{e007f}'
            | '\u{feff}' | '\u{200b}' | '\u{e000}'..='\u{f8ff}');
        assert!(
            !turns && (!c.is_control() || matches!(c, '\n' | '\r')),
            "{about}: {c:?}"
        );
    }
}

fn hostile(random: &mut Random) -> String {
    const PARTS: [&str; 16] = [
        "\u{1b}[2J",
        "\u{1b}]0;mine\u{7}",
        "\u{9b}31m",
        "\u{9d}52;c;eA==\u{9c}",
        "\u{1b}[6n",
        "\u{202e}",
        "\u{2066}",
        "\u{e0041}",
        "\u{8}\u{8}",
        "\r",
        "\u{7f}",
        "\u{2028}",
        "\u{e000}",
        "\u{feff}",
        "strap",
        "38 mm",
    ];
    let mut text = String::new();
    for _ in 0..=random.below(4) {
        if random.one_in(3) {
            let code = 1 + u32::try_from(random.below(0x9f)).unwrap();
            text.extend(char::from_u32(code).filter(|c| *c != '\n'));
        } else {
            text += *random.pick(&PARTS);
        }
    }
    text
}

/// Within the quotes of TOML: what it forbids there by its number, all else as it is.
fn quoted(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        if c < ' ' || matches!(c, '\u{7f}' | '"' | '\\') {
            let _ = write!(out, "\\u{:04x}", u32::from(c));
        } else {
            out.push(c);
        }
    }
    out
}

#[test]
fn ten_thousand_hostile_strings_steer_no_terminal() {
    let folder = tempfile::tempdir().unwrap();
    let mut random = Random::new(5);
    let job = folder.path().join("job.toml");
    let see = |args: &[&str], about: &str| {
        let shown = on_terminal(folder.path(), args);
        assert!(!shown.is_empty(), "{about}");
        is_harmless(&shown, about);
    };
    // Names of keys and values of a job: 9 000.
    for n in 0..45 {
        let mut text = "template = \"belt\"\n".to_owned();
        for i in 0..100 {
            let (key, value) = (hostile(&mut random), hostile(&mut random));
            let _ = writeln!(text, "\"{}{i}\" = \"{}\"", quoted(&key), quoted(&value));
        }
        fs::write(&job, text).unwrap();
        see(&["check", "job.toml"], &format!("keys {n}"));
    }
    // Bytes that are no job, and words of the command line and of file names: 600.
    for n in 0..100 {
        let about = format!("words {n}");
        let words: Vec<String> = (0..6).map(|_| hostile(&mut random)).collect();
        let [raw, name, rule, set, option, ending] = words.as_slice() else {
            unreachable!()
        };
        fs::write(&job, format!("title = 1 {raw}\n")).unwrap();
        see(&["check", "job.toml"], &about);
        see(&[["draw", "check", "marks"][n % 3], &format!("{name}x")], &about);
        for command in ["explain", "guide", "templates", "man"] {
            see(&[command, rule], &about);
        }
        see(&["verify", &format!("{name}x"), &format!("{set}.toml")], &about);
        see(&["check", "--set", &format!("{set}=1")], &about);
        see(&["draw", &format!("--{option}")], &about);
        see(&["draw", "-o", &format!("x.{ending}")], &about);
    }
    // A table: 400.
    let mut table = "order,template,wearer,measure.value,strap.width\n".to_owned();
    for i in 0..100 {
        let [a, b, c, d] =
            std::array::from_fn(|_| hostile(&mut random).replace('\r', ""));
        let _ = writeln!(table, "\"{a}{i}\",\"{b}\",\"{c}\",\"{d}\",38");
    }
    fs::write(folder.path().join("orders.csv"), table).unwrap();
    // Without the bar, which moves the cursor.
    see(&["batch", "orders.csv", "-o", "day", "--quiet"], "orders");
    // What is shown of a sound job, and the lists that are made of a table.
    let title = "Ines \u{9b}2J\u{202e}";
    fs::write(&job, format!("template = \"belt\"\ntitle = \"{title}\"\n")).unwrap();
    see(&["ticket", "job.toml"], "ticket");
    let summary = fs::read(folder.path().join("day/summary.csv")).unwrap();
    is_harmless(&summary, "summary.csv");
    let json = run(folder.path(), &["batch", "orders.csv", "-o", "day", "--format=json"]);
    is_harmless(&json.out, "JSON");
    assert!(json.out().contains("\\u009b"), "the letters are still there");
}

/// A profile and a folder of templates, with the names of its files: 1 000.
#[test]
fn a_hostile_workshop_steers_no_terminal() {
    let mut random = Random::new(6);
    let mut profile = "templates = \"own\"\n".to_owned();
    let folder = folder_with("job.toml", "template = \"belt\"\n");
    let own = folder.path().join("own");
    fs::create_dir(&own).unwrap();
    for i in 0..200 {
        let [name, note, key, value, about] =
            std::array::from_fn(|_| hostile(&mut random));
        let [name, note, key, value, about] =
            [&name, &note, &key, &value, &about].map(|text| quoted(text));
        let line = match i % 4 {
            0 => format!("\"{key}{i}\" = \"{value}\"\n"),
            1 => format!(
                "hardware.\"{name}{i}\" = {{ hardware = \"{value}\", note = \"{note}\" }}\n"
            ),
            2 => format!(
                "hardware.\"{name}{i}\" = {{ hardware = \"ring\", bar = \"4 mm\", inside = \"25 mm\", note = \"{note}\" }}\n"
            ),
            _ => format!(
                "leather.\"{name}{i}\" = {{ thickness = \"9 oz\", \"{key}\" = \"{value}\" }}\n"
            ),
        };
        profile += &line;
        let file = format!("{}{i}.toml", hostile(&mut random).replace('/', ""));
        let text =
            format!("template = \"belt\"\nabout.summary = \"{about}\"\n\"{key}\" = 1\n");
        fs::write(own.join(file), text).unwrap();
    }
    let see = |args: &[&str]| {
        let shown = on_terminal(folder.path(), args);
        is_harmless(&shown, args[0]);
        let shown = String::from_utf8(shown).unwrap();
        assert!(shown.contains("\\u{"), "{args:?}, what is hostile is told: {shown}");
    };
    see(&["templates", "--templates", "own"]);
    fs::write(folder.path().join("strapwright.toml"), profile).unwrap();
    for command in ["profile", "templates", "check", "draw"] {
        see(&[command]);
    }
    for file in fs::read_dir(&own).unwrap().take(20) {
        let path = file.unwrap().path();
        let shown = on_terminal(folder.path(), &["templates", path.to_str().unwrap()]);
        is_harmless(&shown, "templates");
    }
    // A shell that completes shows the names too.
    let mut asked = command(folder.path(), &["--", "strapwright", "templates", ""]);
    asked.env("STRAPWRIGHT_COMPLETE", "bash").env("_CLAP_COMPLETE_INDEX", "2");
    let names = run_with(asked, b"");
    is_harmless(&names.out, "completion");
    assert!(names.out().contains("camera-strap"), "{}", names.out());
}

/// A PDF that says what no PDF of this program says.
#[test]
fn a_hostile_pdf_steers_no_terminal() {
    let folder = tempfile::tempdir().unwrap();
    assert_eq!(run(folder.path(), &["draw", "-o", "belt.pdf"]).code, Some(0));
    let mut document = Document::load(folder.path().join("belt.pdf")).unwrap();
    let info = document.trailer.get(b"Info").unwrap().as_reference().unwrap();
    let own = document.get_dictionary_mut(info).unwrap();
    let said = decode_text_string(own.get(b"StrapwrightPrint").unwrap()).unwrap();
    let mut said: serde_json::Value = serde_json::from_str(&said).unwrap();
    said["size"] = "A4\u{1b}c\u{202e}".into();
    own.set("StrapwrightPrint", text_string(&said.to_string()));
    let mut random = Random::new(7);
    let keys = document.get_dictionary(info).unwrap().iter().map(|(key, _)| key.clone());
    for (n, key) in keys.collect::<Vec<_>>().into_iter().enumerate() {
        let mut document = document.clone();
        let text = text_string(&hostile(&mut random));
        document.get_dictionary_mut(info).unwrap().set(key, text);
        let name = format!("{n}.pdf");
        document.save(folder.path().join(&name)).unwrap();
        for args in [&["verify", &name][..], &["reprint", "--after", &name]] {
            is_harmless(&on_terminal(folder.path(), args), args[0]);
        }
    }
    document.save(folder.path().join("hostile.pdf")).unwrap();
    let shown = on_terminal(
        folder.path(),
        &["calibrate", "hostile.pdf", "--wide-bar=260mm", "--tall-bar=160mm"],
    );
    is_harmless(&shown, "calibrate");
    assert!(String::from_utf8_lossy(&shown).contains("\\u{1b}c\\u{202e}"), "it is told");
}

#[test]
fn a_terminal_gets_no_pdf() {
    let folder = folder_with("job.toml", "template = \"belt\"\n");
    let shown =
        on_terminal(folder.path(), &["draw", "job.toml", "-o", "-", "--format=pdf"]);
    is_harmless(&shown, "a PDF");
    let shown = String::from_utf8(shown).unwrap();
    assert!(shown.contains("a terminal cannot show this file"), "{shown}");
}
