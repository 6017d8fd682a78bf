//! The printer and the profile: the page draws for both as the command line does.

use super::{BELT, HOST, get_in, orders, post, written};
use crate::common::program::{folder_with, run};
use axum::http::StatusCode;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

/// A folder with a printer that was measured on Letter and draws 0.8 % short.
fn workshop() -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    let check = BELT.replace('?', "/check?paper=letter&");
    let blank = get_in(folder.path(), &check);
    let short = |key: &str| -> String {
        let before = blank.text().split(&format!("id=\"{key}\"")).next().unwrap();
        let how = before.rsplit("class=\"how\">").next().unwrap();
        let drawn: f64 = how.split(" mm").next().unwrap().parse().unwrap();
        format!("&{key}={:.1}", drawn * 0.992)
    };
    let check = check + &short("wide") + &short("tall");
    let own = format!("http://{HOST}");
    let kept = post(folder.path(), &check, Some(&own), "name=desk");
    assert!(kept.text().contains("desk is kept"), "{}", kept.text());
    folder
}

fn print(folder: &Path, more: &str) -> String {
    let view = get_in(folder, &BELT.replace('?', &format!("/print?{more}&")));
    view.text().to_owned()
}

#[test]
fn a_printer_of_another_paper_claims_nothing() {
    let folder = workshop();
    let args = ["draw", "belt.toml", "-o", "a.pdf", "--printer", "printers/desk.toml"];
    let job = get_in(folder.path(), &BELT.replace('?', "/job.toml?")).bytes;
    fs::write(folder.path().join("belt.toml"), job).unwrap();
    for paper in ["letter", "a4"] {
        let drawn = run(folder.path(), &[&args[..], &["--paper", paper]].concat());
        assert_eq!(drawn.code, Some(0), "{}", drawn.err);
        let setup = format!("printer=desk&paper={paper}");
        let file = BELT.replace('?', &format!("/sheets.pdf?{setup}&"));
        let saved = get_in(folder.path(), &file);
        assert_eq!(written(folder.path(), "a.pdf"), saved.bytes, "{paper}");
        let says = "This printer was measured with another paper";
        assert_eq!(print(folder.path(), &setup).contains(says), paper == "a4");
    }
}

/// Nothing is printed for a printer that cannot be read, and the page says why.
#[test]
fn a_printer_that_is_wrong_is_not_passed_over() {
    let folder = workshop();
    fs::write(folder.path().join("printers/bad.toml"), "paper = 4\n").unwrap();
    for (printer, why) in
        [("bad", "paper is not"), ("gone", "There is no printer of that name")]
    {
        let setup = format!("printer={printer}");
        let view = print(folder.path(), &setup);
        assert!(view.contains(why), "{printer}: {view}");
        assert!(!view.contains("sheets.pdf"), "{printer}");
        let check =
            get_in(folder.path(), &BELT.replace('?', &format!("/check?{setup}&")));
        assert!(check.text().contains(why) && !check.text().contains("Judge"));
        let file = BELT.replace('?', &format!("/sheets.pdf?{setup}&"));
        assert_eq!(get_in(folder.path(), &file).status, StatusCode::NOT_FOUND);
    }
}

/// Paper, units, language, ticket and printer of the profile are in force on the page, and an
/// address may say otherwise.
#[test]
fn the_page_draws_what_the_command_draws_in_a_folder_with_a_profile() {
    let folder = workshop();
    let profile = "paper = \"letter\"\nunits = \"in\"\nlanguage = \"de\"\nticket = false\n\
                   printer = \"printers/desk.toml\"\n";
    fs::write(folder.path().join("strapwright.toml"), profile).unwrap();
    let job = "template = \"belt\"\nmeasure.value = \"34 1/2 in\"\n";
    fs::write(folder.path().join("ferry.toml"), job).unwrap();
    for (args, setup) in [
        (&[][..], ""),
        (&["--paper", "legal", "--ticket"], "?paper=legal&ticket=yes"),
        (&["--units", "both", "--language", "fr"], "?units=both&language=fr"),
    ] {
        let drawn = run(
            folder.path(),
            &[&["draw", "ferry.toml", "-o", "a.pdf", "--force"], args].concat(),
        );
        assert_eq!(drawn.code, Some(0), "{}", drawn.err);
        let saved = get_in(folder.path(), &format!("/job/ferry/sheets.pdf{setup}"));
        assert_eq!(written(folder.path(), "a.pdf"), saved.bytes, "{setup}");
    }
    let view = get_in(folder.path(), "/job/ferry/print");
    assert!(view.text().contains("der aus dem Profil, printers/desk.toml"));
    // Readings have the units of the sheets.
    let view = get_in(folder.path(), "/job/ferry");
    let list = view.text().split("id=\"marks\"").nth(1).unwrap();
    assert!(list.contains(" in</td>") && view.text().contains(">34 1/2 in<"));
    let table = "order,template,measure.value\n1,belt,34 in\n";
    fs::write(folder.path().join("orders.csv"), table).unwrap();
    let batch = run(folder.path(), &["batch", "orders.csv", "-o", "day", "--merge"]);
    assert_eq!(batch.code, Some(0), "{}", batch.err);
    for (deed, file) in
        [("do=pdf", "day/orders.pdf"), ("do=hardware", "day/hardware.txt")]
    {
        let saved = orders::send(folder.path(), table, &[deed]);
        assert_eq!(fs::read(folder.path().join(file)).unwrap(), saved.bytes, "{file}");
    }
}

/// How sheets are made is chosen once: orders and the command line follow.
#[test]
fn the_settings_of_a_print_are_kept_in_the_profile() {
    let folder = folder_with("strapwright.toml", "paper = \"a4\" # on the shelf\n");
    let own = format!("http://{HOST}");
    let address = "/strap/belt/print?paper=letter&units=in&ticket=no";
    let kept = post(folder.path(), address, Some(&own), "");
    assert!(kept.text().contains("Kept."), "{}", kept.text());
    let now = fs::read_to_string(folder.path().join("strapwright.toml")).unwrap();
    let wanted = "paper = \"letter\" # on the shelf\nunits = \"in\"\nlanguage = \"en\"\n\
                  ticket = false\n";
    assert_eq!(now, wanted);
    let again = get_in(folder.path(), "/strap/belt/print");
    assert!(again.text().contains("sheets Letter"));
}
