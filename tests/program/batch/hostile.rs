//! Names and folders that would lead a file elsewhere.

use super::{batch, day, files, rows};
use crate::common::program::{folder_with, is_pdf, names};
use std::fs;
use std::path::Path;

#[test]
fn no_name_leads_out_of_the_folder() {
    let hostile = [
        "../evil",
        "..",
        ".",
        "/tmp/evil",
        "..\\..\\evil",
        "C:\\evil",
        "a/../../b",
        "NUL",
        "con.pdf",
        "~",
        "-rf",
        "summary.csv",
        ".strapwright.made",
        "a\u{0}b",
        "\u{202e}x",
        "Ash",
        "ASH",
        "ash",
        "straße",
        "STRASSE",
        "a\nb",
        "%2e%2e%2f",
        "$(id)",
        "",
    ];
    let mut table = csv::Writer::from_writer(Vec::new());
    table.write_record(["order", "template", "measure.value"]).unwrap();
    let long = "w".repeat(3_000);
    for name in hostile.iter().copied().chain([long.as_str(), long.as_str()]) {
        table.write_record([name, "hat-band", "58 cm"]).unwrap();
    }
    let folder = folder_with("orders.csv", table.into_inner().unwrap());
    let ran = batch(folder.path(), &["orders.csv", "-o", "deep/day"]);
    // The one without a name is refused.
    assert_eq!(ran.code, Some(1), "{}", ran.err);
    assert_eq!(names(&folder), ["deep", "orders.csv"]);
    let deep: Vec<_> = fs::read_dir(folder.path().join("deep")).unwrap().collect();
    assert_eq!(deep.len(), 1);
    let all = files(&folder.path().join("deep/day"));
    let drawn: Vec<_> = rows(&all["summary.csv"])
        .into_iter()
        .filter(|row| row["status"] == "drawn")
        .map(|row| row["file"].clone())
        .collect();
    assert_eq!(drawn.len(), hostile.len() + 1);
    let lists = [
        "summary.csv",
        "mistakes.csv",
        "hardware.csv",
        "hardware.txt",
        ".strapwright.made",
    ];
    assert_eq!(all.len(), drawn.len() + lists.len(), "{:?}", all.keys());
    for file in &drawn {
        assert!(is_pdf(&all[file]), "{file}");
    }
    // Told apart where no case is told apart.
    let lower: std::collections::BTreeSet<_> =
        drawn.iter().map(|f| f.to_uppercase()).collect();
    assert_eq!(lower.len(), drawn.len());
}

#[cfg(unix)]
#[test]
fn a_link_in_the_folder_is_not_followed() {
    use std::os::unix::fs::symlink;
    let folder = folder_with("orders.csv", day(3));
    let secret = folder.path().join("secret");
    fs::write(&secret, "keep me").unwrap();
    let day_folder = folder.path().join("day");
    fs::create_dir(&day_folder).unwrap();
    for name in
        ["0.pdf", "summary.csv", ".strapwright.made", ".strapwright-abcd1234.draft"]
    {
        symlink(&secret, day_folder.join(name)).unwrap();
    }
    symlink(folder.path().join("gone"), day_folder.join("1.pdf")).unwrap();
    fs::create_dir(day_folder.join("2.pdf")).unwrap();

    let is_link = |name: &str| {
        let there = fs::symlink_metadata(day_folder.join(name));
        there.is_ok_and(|there| there.file_type().is_symlink())
    };
    let ran = batch(folder.path(), &["orders.csv", "-o", "day"]);
    assert_eq!(ran.code, Some(3), "{}", ran.err);
    assert_eq!(ran.err.matches("file-in-the-way").count(), 3, "{}", ran.err);
    assert!(ran.err.contains("4 of the files in day (summary.csv) are"), "{}", ran.err);
    assert!(is_link("0.pdf") && is_link("1.pdf") && is_link("summary.csv"));
    assert!(is_link(".strapwright-abcd1234.draft"), "a link is no draft");

    // A folder costs its order alone, even with --force.
    let forced = batch(folder.path(), &["orders.csv", "-o", "day", "--force"]);
    assert_eq!(forced.code, Some(3), "{}", forced.err);
    assert!(forced.err.contains("3 orders: 2 drawn"), "{}", forced.err);
    assert!(day_folder.join("2.pdf").is_dir());
    fs::remove_dir(day_folder.join("2.pdf")).unwrap();
    let forced = batch(folder.path(), &["orders.csv", "-o", "day", "--force"]);
    assert_eq!(forced.code, Some(0), "{}", forced.err);
    assert!(!is_link("0.pdf") && !is_link("1.pdf") && !is_link("summary.csv"));
    assert_eq!(fs::read(&secret).unwrap(), b"keep me");
    assert!(!folder.path().join("gone").exists());
}

#[test]
fn what_the_batch_did_not_make_is_kept() {
    let folder = folder_with("orders.csv", day(3));
    let day_folder = folder.path().join("day");
    fs::create_dir(&day_folder).unwrap();
    fs::write(day_folder.join("1.pdf"), "a letter").unwrap();
    fs::write(day_folder.join("notes.txt"), "mine").unwrap();
    fs::write(day_folder.join(".strapwright-notes"), "mine too").unwrap();
    fs::write(day_folder.join(".strapwright-a1B2c3d4.draft"), "half a drawing").unwrap();
    let read = |name: &str| fs::read(day_folder.join(name)).unwrap();

    let ran = batch(folder.path(), &["orders.csv", "-o", "day"]);
    assert_eq!(ran.code, Some(3), "{}", ran.err);
    assert!(ran.err.contains("give --force to replace it"), "{}", ran.err);
    assert_eq!(read("1.pdf"), b"a letter");
    assert!(is_pdf(&read("0.pdf")) && is_pdf(&read("2.pdf")));
    let status: Vec<String> =
        rows(&read("summary.csv")).into_iter().map(|r| r["status"].clone()).collect();
    assert_eq!(status, ["drawn", "in-the-way", "drawn"]);
    assert!(
        !day_folder.join(".strapwright-a1B2c3d4.draft").exists(),
        "drafts are cleared away"
    );

    // A drawing that was written on is the bench's, and so is a list.
    fs::write(day_folder.join("0.pdf"), [&read("0.pdf")[..], b"% noted"].concat())
        .unwrap();
    fs::write(day_folder.join("hardware.txt"), "ticked off").unwrap();
    let (noted, whole) = (read("0.pdf"), read("2.pdf"));
    let ran = batch(folder.path(), &["orders.csv", "-o", "day"]);
    assert_eq!(ran.code, Some(3), "{}", ran.err);
    assert!(read("0.pdf") == noted && read("2.pdf") == whole);
    assert_eq!(read("hardware.txt"), b"ticked off");

    let forced = batch(folder.path(), &["orders.csv", "-o", "day", "--force"]);
    assert_eq!(forced.code, Some(0), "{}", forced.err);
    assert!(is_pdf(&read("1.pdf")) && read("0.pdf") != noted && read("2.pdf") == whole);
    assert_eq!(
        (read("notes.txt"), read(".strapwright-notes")),
        (b"mine".into(), b"mine too".into())
    );
}

#[test]
fn a_folder_that_cannot_be_is_said() {
    let folder = folder_with("orders.csv", day(1));
    for output in ["orders.csv", "orders.csv/day", "/proc/strapwright/day"] {
        let ran = batch(folder.path(), &["orders.csv", "-o", output]);
        assert_eq!(ran.code, Some(3), "{output}: {}", ran.err);
        assert!(ran.err.contains(output), "{output}: {}", ran.err);
    }
    assert_eq!(fs::read_to_string(folder.path().join("orders.csv")).unwrap(), day(1));
}

#[cfg(unix)]
#[test]
fn two_batches_do_not_share_a_folder() {
    let folder = folder_with("orders.csv", day(1));
    let day_folder: &Path = &folder.path().join("day");
    fs::create_dir(day_folder).unwrap();
    let held = fs::File::open(day_folder).unwrap();
    held.lock().unwrap();
    let ran = batch(folder.path(), &["orders.csv", "-o", "day"]);
    assert_eq!(ran.code, Some(3), "{}", ran.err);
    assert!(ran.err.contains("another batch is writing to day"), "{}", ran.err);
    assert_eq!(fs::read_dir(day_folder).unwrap().count(), 0);
    drop(held);
    let ran = batch(folder.path(), &["orders.csv", "-o", "day"]);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
}

/// A spreadsheet computes what begins so (OWASP, "CSV Injection"); scripts get the name itself.
#[test]
fn no_name_is_a_formula_in_a_table() {
    let table = "order,template,title,wearer,measure.value\n\
                 =1+1,hat-band,@SUM(A1),-x,58 cm\n+2,hat-band,Band,\"=HYPERLINK(\"\"x\"\")\",58 cm\n";
    let folder = folder_with("orders.csv", table);
    let strips = "name,length,width,thickness,count\n=oak,2 m,25 mm,2.4 mm,1\n";
    fs::write(folder.path().join("strips.csv"), strips).unwrap();
    let args = ["orders.csv", "-o", "day", "--stock", "strips.csv", "--format", "json"];
    let ran = batch(folder.path(), &args);
    let all = files(&folder.path().join("day"));
    let mut told = 0;
    for (name, bytes) in
        all.iter().filter(|(n, _)| Path::new(n).extension() == Some("csv".as_ref()))
    {
        for (column, cell) in rows(bytes).into_iter().flatten() {
            assert!(!cell.starts_with(['=', '+', '-', '@']), "{name}, {column}: {cell}");
            told += usize::from(cell.starts_with('\''));
        }
    }
    // Two names in summary and plan, a title and two wearers, and the strip if it is used.
    assert!(told >= 7, "{told}");
    let orders = super::told(&ran).into_iter().map(|(order, ..)| order);
    assert_eq!(orders.collect::<Vec<_>>(), ["=1+1", "+2"]);
}
