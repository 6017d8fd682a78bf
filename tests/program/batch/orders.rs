//! What an ordinary day gives.

use super::{batch, day, events, files, is_drawing, rows, told};
use crate::common::program::{folder_with, is_pdf, run};
use std::fs;
use strapwright::verify::verify_alone;

const SAMPLE: &str = include_str!("../../../sample-jobs/orders.csv");
const STRIPS: &str = include_str!("../../../sample-jobs/strips.csv");

#[test]
fn the_sample_day_is_drawn_and_listed() {
    let folder = folder_with("orders.csv", SAMPLE);
    fs::write(folder.path().join("strips.csv"), STRIPS).unwrap();
    let ran = batch(folder.path(), &["orders.csv", "-o", "day", "--stock", "strips.csv"]);
    assert_eq!((ran.code, ran.out()), (Some(0), ""), "{}", ran.err);
    let all = files(&folder.path().join("day"));
    let summary = rows(&all["summary.csv"]);
    assert_eq!(summary.len(), SAMPLE.lines().count() - 1);
    for row in &summary {
        assert_eq!(row["status"], "drawn");
        let report = verify_alone(&[("order.pdf", &all[&row["file"]])]).unwrap();
        assert!(report.findings.is_empty(), "{}: {:?}", row["order"], report.findings);
        assert_eq!(report.print, row["print"], "{}", row["order"]);
        assert_eq!(report.sheets.to_string(), row["sheets"], "{}", row["order"]);
    }
    let pdfs = all.keys().filter(|name| is_drawing(name)).count();
    assert_eq!(pdfs, summary.len());
    // Every piece of every order has its strip.
    let cuts = rows(&all["cutting-plan.csv"]);
    let cut = |order: &str| {
        cuts.iter().filter(|c| c["use"] == "cut" && c["order"] == order).count()
    };
    for row in &summary {
        assert_eq!(cut(&row["order"]).to_string(), row["pieces"], "{}", row["order"]);
    }
    assert!(!cuts.iter().any(|c| c["use"] == "lacking"));
    assert!(ran.err.contains("11 orders: 11 drawn"), "{}", ran.err);
}

#[test]
fn own_templates_are_found_and_decide_what_is_drawn() {
    let table = "order,template,measure.value\n\
                 shelf,guild-belt,88 cm\nbeside,own/sash.toml,88 cm\n";
    let folder = folder_with("orders.csv", table);
    let own = |name: &str, width: u32| {
        fs::create_dir_all(folder.path().join("own")).unwrap();
        let text = format!("template = \"belt\"\nstrap.width = \"{width} mm\"\n");
        fs::write(folder.path().join("own").join(name), text).unwrap();
    };
    own("guild-belt.toml", 36);
    own("sash.toml", 34);
    let args = ["orders.csv", "-o", "day", "--templates", "own", "--format", "json"];
    let ran = batch(folder.path(), &args);
    let drawn = |kept: [bool; 2]| {
        let named = ["shelf", "beside"].iter().zip(kept);
        named.map(|(n, k)| ((*n).to_owned(), "drawn".to_owned(), k)).collect::<Vec<_>>()
    };
    assert_eq!(told(&ran), drawn([false, false]), "{}", ran.err);
    // A template that changes changes the order that lies over it, and no other.
    own("guild-belt.toml", 37);
    let ran = batch(folder.path(), &args);
    assert_eq!(told(&ran), drawn([false, true]), "{}", ran.err);
    let without = batch(folder.path(), &["orders.csv", "-o", "other"]);
    assert_eq!(without.code, Some(1), "{}", without.err);
    assert!(without.err.contains("guild-belt"), "{}", without.err);
}

#[test]
fn an_order_is_drawn_as_draw_draws_it() {
    let table = "order,template,title,wearer,measure.value,fittings.count\n\
                 one,belt,Ash belt,Ines,88 cm,4\n";
    let job = "template = \"belt\"\ntitle = \"Ash belt\"\nwearer = \"Ines\"\n\
               measure.value = \"88 cm\"\nfittings.count = 4\n";
    let folder = folder_with("orders.csv", table);
    fs::write(folder.path().join("job.toml"), job).unwrap();
    for (i, flags) in [
        &[][..],
        &["--no-ticket", "--paper", "letter"][..],
        &["--language", "de", "--units", "both", "--ruler-class", "I"][..],
    ]
    .iter()
    .enumerate()
    {
        let (day, file) = (format!("day-{i}"), format!("job-{i}.pdf"));
        let ran = batch(folder.path(), &[&["orders.csv", "-o", &day], *flags].concat());
        assert_eq!(ran.code, Some(0), "{}", ran.err);
        let drawn =
            run(folder.path(), &[&["draw", "job.toml", "-o", &file], *flags].concat());
        assert_eq!(drawn.code, Some(0), "{}", drawn.err);
        let own = fs::read(folder.path().join(day).join("one.pdf")).unwrap();
        let mut drawn = fs::read(folder.path().join(file)).unwrap();
        assert!(is_pdf(&own) && is_pdf(&drawn), "{flags:?}");
        // `draw` alone adds the line by which it knows its own file again.
        let line = b"% strapwright-digest ";
        let at = drawn.windows(line.len()).position(|w| w == line).unwrap();
        drawn.drain(at..=at + line.len() + 64);
        assert!(own == drawn, "{flags:?}");
    }
}

#[test]
fn a_bad_row_costs_that_row_alone() {
    let table = "order;template;strap.w;measure.value;strap.width\n\
                 first;belt;;86 cm;\n\
                 bare;belt;;86;38\n\
                 slip;belt;Ines;86 cm;\n\
                 again;belt;Odalys;86 cm;\n\
                 ;belt;;86 cm;\n\
                 longer;belt;;86 cm;;x\n\
                 last;belt;;92 cm;35 mm\n";
    let folder = folder_with("orders.csv", table);
    let ran = batch(folder.path(), &["orders.csv", "-o", "day", "--format", "json"]);
    assert_eq!((ran.code, ran.err.as_str()), (Some(1), ""));
    let status: Vec<(String, String)> =
        told(&ran).into_iter().map(|(order, status, _)| (order, status)).collect();
    let refused = ["bare", "slip", "again", "", "longer"];
    for (order, status) in &status {
        let wanted = if refused.contains(&order.as_str()) { "refused" } else { "drawn" };
        assert_eq!(status, wanted, "{order}");
    }
    assert_eq!(status.len(), 7);
    let places: Vec<_> = events(&ran)
        .iter()
        .filter(|e| e["event"] == "order")
        .flat_map(|e| e["findings"].as_array().unwrap().clone())
        .map(|f| {
            let number = |key: &str| f[key].as_u64().unwrap();
            let key = f["key"].as_str().unwrap_or_default().to_owned();
            assert_eq!(f["file"], "orders.csv");
            (
                f["rule"].as_str().unwrap().to_owned(),
                key,
                number("line"),
                number("column"),
            )
        })
        .collect();
    let wanted = [
        ("bad-length", "strap.width", 3, 15),
        ("bad-length", "measure.value", 3, 12),
        ("unknown-key", "strap.w", 1, 16),
        ("unknown-key", "strap.w", 1, 16),
        ("orders-row", "", 6, 1),
        ("orders-row", "", 7, 21),
    ];
    let wanted = wanted.map(|(r, k, l, c)| (r.to_owned(), k.to_owned(), l, c));
    assert_eq!(places, wanted);
    let all = files(&folder.path().join("day"));
    assert!(is_pdf(&all["first.pdf"]) && is_pdf(&all["last.pdf"]));
    assert_eq!(all.keys().filter(|n| is_drawing(n)).count(), 2);

    // For a person, what is wrong with a column is said once, and named where it recurs.
    let again =
        "again: not drawn, 1 error\n  line 5: error unknown-key (strap.w), as above";
    let shown = batch(folder.path(), &["orders.csv", "-o", "day"]);
    assert_eq!(
        shown.err.matches("no key is called `strap.w`").count(),
        1,
        "{}",
        shown.err
    );
    assert!(shown.err.contains(again), "{}", shown.err);
    assert!(
        shown.err.contains("--> orders.csv, cell E3, column strap.width:3:15"),
        "{}",
        shown.err
    );
}

#[test]
fn a_table_that_is_none_draws_nothing() {
    let folder = folder_with("latin.csv", b"order,template\nAndr\xe9,belt\n");
    fs::write(folder.path().join("utf16.csv"), b"\xff\xfeo\0r\0d\0e\0r\0\n\0").unwrap();
    fs::write(folder.path().join("good.csv"), day(1)).unwrap();
    fs::write(folder.path().join("bad-strips.csv"), "name,length\noak,1500\n").unwrap();
    for (args, code, words) in [
        (&["latin.csv", "-o", "day"][..], 1, "Latin-1"),
        (&["utf16.csv", "-o", "day"][..], 1, "UTF-16"),
        (&["gone.csv", "-o", "day"][..], 3, "gone.csv"),
        (&["good.csv"][..], 2, "--output"),
        (&["good.csv", "-o", "day", "--base", "gone.toml"][..], 3, "gone.toml"),
        (
            &["good.csv", "-o", "day", "--stock", "bad-strips.csv"][..],
            1,
            "bad-strips.csv",
        ),
        (&["-", "-o", "day", "--base", "-"][..], 2, "only one input"),
        (&["good.csv", "-o", "day", "--paper", "lettr"][..], 2, "letter"),
    ] {
        let ran = batch(folder.path(), args);
        assert_eq!(ran.code, Some(code), "{args:?}: {}", ran.err);
        assert!(ran.err.contains(words), "{args:?}: {}", ran.err);
    }
    assert!(!folder.path().join("day").exists());
}

#[test]
fn hardware_adds_up_and_lacking_leather_is_said() {
    let row = "belt,86 cm,38 mm,3.5 mm,4";
    let head = "order,template,measure.value,strap.width,strap.thickness,fittings.count";
    let table = format!("{head}\na,{row}\nb,{row}\nc,{row}\nd,{row}\nworse,blet,,,,\n");
    let folder = folder_with("orders.csv", table);
    let strips = "name,length,width,thickness,count\noak,1.2 m,38 mm,3.5 mm,2\n\
                  keepers,1 m,16 mm,2 mm,1\n";
    fs::write(folder.path().join("strips.csv"), strips).unwrap();
    let args = ["orders.csv", "-o", "day", "--stock", "strips.csv", "--format", "json"];
    let ran = batch(folder.path(), &args);
    assert_eq!(ran.code, Some(1), "{}", ran.err);
    let all = files(&folder.path().join("day"));
    // Four belts: two rivets each hold the turn-back, and four fittings.
    let counts: Vec<(String, String)> = rows(&all["hardware.csv"])
        .into_iter()
        .map(|row| (row["kind"].clone(), row["count"].clone()))
        .collect();
    let wanted = [("buckle", "4"), ("rivet", "8"), ("fitting", "16"), ("keeper", "4")];
    assert_eq!(counts, wanted.map(|(k, n)| (k.to_owned(), n.to_owned())));
    let lacking: Vec<String> = rows(&all["cutting-plan.csv"])
        .into_iter()
        .filter(|row| row["use"] == "lacking")
        .map(|row| row["order"].clone())
        .collect();
    assert_eq!(lacking, ["c", "d"]);
    let plan = events(&ran).into_iter().find(|e| e["event"] == "plan").unwrap();
    assert_eq!((&plan["pieces"], &plan["lacking"]), (&8.into(), &2.into()));
    assert_eq!(plan["findings"][0]["rule"], "stock-runs-out");
    let end = events(&ran).pop().unwrap();
    assert_eq!((&end["event"], &end["drawn"]), (&"end".into(), &4.into()));
    assert_eq!((&end["refused"], &end["orders"]), (&1.into(), &5.into()));
}

#[test]
fn threads_change_nothing() {
    let folder = folder_with("orders.csv", day(30));
    let by = |threads: &str, merge: bool| {
        let name = format!("day-{threads}-{merge}");
        let mut args = vec!["batch", "orders.csv", "-o", &name];
        args.extend(merge.then_some("--merge"));
        let mut command = super::command(folder.path(), &args);
        command.env("RAYON_NUM_THREADS", threads);
        let ran = super::run_with(command, b"");
        assert_eq!(ran.code, Some(0), "{}", ran.err);
        (ran.err.replace(&name, ""), files(&folder.path().join(&name)))
    };
    for merge in [false, true] {
        let one = by("1", merge);
        for threads in ["2", "5"] {
            assert!(by(threads, merge) == one, "{threads} threads, merged: {merge}");
        }
    }
}

#[test]
fn quiet_says_what_is_wrong_and_no_more() {
    let folder = folder_with("orders.csv", day(3));
    let ran = batch(folder.path(), &["orders.csv", "-o", "day", "--quiet"]);
    assert_eq!((ran.code, ran.err.as_str(), ran.out()), (Some(0), "", ""));
    fs::write(folder.path().join("bad.csv"), day(2) + "x,blet,,,\n").unwrap();
    let ran = batch(folder.path(), &["bad.csv", "-o", "day-2", "-q"]);
    assert_eq!(ran.code, Some(1));
    assert!(ran.err.starts_with("error[unknown-template]"), "{}", ran.err);
    assert!(ran.err.ends_with("x: not drawn, 1 error\n"), "{}", ran.err);
}

/// Spreadsheets end rows in cells that say nothing, more of them than the header has.
#[test]
fn cells_that_say_nothing_are_no_cells() {
    let table = "order;template;measure.value\r\nfirst;belt;86,5 cm;;;\r\n;;;;;\r\n\
                 second;belt;92 cm; ;\"\";\r\n";
    let folder = folder_with("orders.csv", table);
    let ran = batch(folder.path(), &["orders.csv", "-o", "day"]);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    assert!(ran.err.contains("2 orders: 2 drawn"), "{}", ran.err);
}

/// The same slip in every row is shown over the first rows, and told in a line after that.
#[test]
fn a_slip_in_every_row_does_not_drown_the_rest() {
    let row = |number| {
        let width = if number < 6 { "38" } else { "38 mm" };
        format!("no {number},belt,trousers,34 in,{width}")
    };
    let head = "order,template,measure.taken,measure.value,strap.width".to_owned();
    let table: Vec<String> = std::iter::once(head).chain((1..=9).map(row)).collect();
    let table = table.join("\n");
    let folder = folder_with("orders.csv", &table);
    let ran = batch(folder.path(), &["orders.csv", "-o", "day"]);
    assert_eq!(ran.code, Some(1));
    let count = |words: &str| ran.err.matches(words).count();
    assert_eq!(count("error[bad-length]"), 3, "{}", ran.err);
    assert_eq!(count("note[trousers-estimate]"), 1, "{}", ran.err);
    for line in [
        "\nno 5: not drawn, 1 error\n  line 6: error bad-length (strap.width): ",
        "1 note\n  line 10: note trousers-estimate (measure.taken): ",
    ] {
        assert!(ran.err.contains(line), "{line}: {}", ran.err);
    }
    assert!(ran.err.lines().count() < 80, "{}", ran.err);
}
