//! Orders: what is ready, what is wrong in which cell, and one file of all that are ready.

use super::{HOST, Shown, count, door, get_in, post};
use crate::batch::columns::xlsx;
use crate::common::program::{folder_with, run};
use axum::body::Body;
use axum::http::{Request, StatusCode};
use std::collections::BTreeMap;
use std::fs;
use std::io::{Cursor, Read};
use std::path::Path;

const ORDERS: &str = "order,template,wearer,measure.value,strap.width\n\
    Nine Lamps 1,belt,Ines Fairwater,34 in,35 mm\n\
    Nine Lamps 2,belt,Corin Ashdown,36 in,44 mm\n\
    Salt Road 3,hat-band,Barnaby Thistle,58,\n";

/// The address of the page, as a browser names it with a form.
fn origin() -> String {
    format!("http://{HOST}")
}

/// A form with files, as a browser sends it.
fn send_parts(folder: &Path, parts: &[(&str, &[u8])]) -> Shown {
    let mut body = Vec::new();
    for (name, bytes) in parts {
        let file = if *name == "file" { "; filename=\"orders\"" } else { "" };
        let head =
            format!("--line\r\nContent-Disposition: form-data; name=\"{name}\"{file}");
        body.extend_from_slice(format!("{head}\r\n\r\n").as_bytes());
        body.extend_from_slice(bytes);
        body.extend_from_slice(b"\r\n");
    }
    body.extend_from_slice(b"--line--\r\n");
    let request = Request::post("/orders")
        .header("host", HOST)
        .header("origin", origin())
        .header("content-type", "multipart/form-data; boundary=line");
    super::send(folder, &door(HOST, None), request.body(Body::from(body)).unwrap())
}

/// A table with more fields, `name=value`.
pub(super) fn send(folder: &Path, table: &str, more: &[&str]) -> Shown {
    let more = more.iter().map(|field| field.split_once('=').unwrap());
    let more = more.map(|(name, value)| (name, value.as_bytes()));
    let parts: Vec<_> = [("table", table.as_bytes())].into_iter().chain(more).collect();
    send_parts(folder, &parts)
}

/// The value of a hidden field.
fn hidden(text: &str, name: &str) -> String {
    let value = text.split(&format!("name=\"{name}\" value=\"")).nth(1).unwrap();
    value.split('"').next().unwrap().to_owned()
}

/// The files of a ZIP by their names.
fn unzipped(bytes: Vec<u8>) -> BTreeMap<String, Vec<u8>> {
    let mut zip = zip::ZipArchive::new(Cursor::new(bytes)).unwrap();
    (0..zip.len())
        .map(|n| {
            let mut file = zip.by_index(n).unwrap();
            let mut bytes = Vec::new();
            file.read_to_end(&mut bytes).unwrap();
            (file.name().unwrap().into_owned(), bytes)
        })
        .collect()
}

#[test]
fn wrong_cells_are_corrected_and_the_rest_is_drawn_as_a_batch_draws_it() {
    let folder = folder_with("orders.csv", ORDERS);
    assert_eq!(get_in(folder.path(), "/orders").status, StatusCode::OK);
    let view = send(folder.path(), ORDERS, &[]);
    let text = view.text();
    assert!(text.contains("1 is ready, 2 need you"));
    assert!(
        text.contains("name=\"cell-1-4\" value=\"44 mm\""),
        "the width of the second"
    );
    assert!(text.contains("name=\"cell-2-3\" value=\"58\""), "the measure of the third");
    assert_eq!(count(text, "id=\"cell-"), 2);
    let seen = format!("seen={}", hidden(text, "seen"));
    let better = [seen.as_str(), "cell-1-4=36 mm", "cell-2-3=58 cm"];
    // The corrections belong to the rows of one table.
    let other = ORDERS.replace("Nine Lamps 1", "Nine Lamps 7");
    let refused = send(folder.path(), &other, &better);
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.text().contains("Two corrections at once"));
    // A browser ends the lines of a form in its own way.
    let all = send(folder.path(), &ORDERS.replace('\n', "\r\n"), &better);
    assert!(all.text().contains("3 are ready"));
    let table = send(folder.path(), ORDERS, &[&better[..], &["do=table"]].concat());
    fs::write(folder.path().join("orders.csv"), &table.bytes).unwrap();
    assert!(table.text().contains("Salt Road 3,hat-band,Barnaby Thistle,58 cm,"));
    let merged = send(folder.path(), table.text(), &["do=pdf"]);
    let batch = run(folder.path(), &["batch", "orders.csv", "-o", "day", "--merge"]);
    assert_eq!(batch.code, Some(0), "{}", batch.err);
    assert_eq!(fs::read(folder.path().join("day/orders.pdf")).unwrap(), merged.bytes);
    let list = send(folder.path(), table.text(), &["do=hardware"]);
    let own = fs::read(folder.path().join("day/hardware.txt")).unwrap();
    assert_eq!(list.bytes, own);
}

/// An order that the paper cannot take says so, and stops no other.
#[test]
fn an_order_that_has_no_sheets_says_why() {
    let text = "order,template,measure.value,keeper.count,turn-back.slot-length,\
                turn-back.length,turn-back.first-fastener\n\
                1,belt,34 in,0,90 mm,200 mm,90 mm\n2,belt,34 in,,,,\n";
    let folder = folder_with("strapwright.toml", "paper = \"105x105mm\"\n");
    let view = send(folder.path(), text, &[]);
    assert!(view.text().contains("1 is ready, 1 needs you"));
    assert!(view.text().contains("Paper 105 × 105 mm is too small"));
    let one = send(folder.path(), text, &["do=pdf"]);
    assert_eq!(one.header("content-type"), "application/pdf");
}

#[test]
fn hostile_tables_do_no_harm() {
    let folder = folder_with("secret.toml", "title = \"nobody's business\"\n");
    let path = "order,template\n1,secret.toml\n2,./secret.toml\n3,/etc/passwd\n";
    let view = send(folder.path(), path, &[]);
    assert!(view.text().contains("3 need you") && !view.text().contains("business"));
    let many = format!("order\n{}", "1\n".repeat(400));
    assert_eq!(send(folder.path(), &many, &[]).status, StatusCode::UNPROCESSABLE_ENTITY);
    for table in
        ["", "\0", "a\n\"", "order,order\n1,2\n", "=1+1\n", "order\n<script>x</script>\n"]
    {
        for deed in [
            "do=",
            "do=pdf",
            "do=zip",
            "do=hardware",
            "do=plan",
            "do=table",
            "cell-9-9=x",
            "cell-a=1",
            "cell-18446744073709551615-1=1",
            "flaw-1-1=date",
            "key=order",
            "column=a",
            "strips=name\n\"",
        ] {
            let shown = send(folder.path(), table, &[deed]);
            assert!(
                !shown.status.is_server_error(),
                "{table:?} {deed}: {}",
                shown.status
            );
            let is_page = shown.header("content-type").starts_with("text/html");
            assert!(!is_page || !shown.text().contains("<script>x"), "{deed}");
        }
    }
}

/// A workbook with names of an office: the page guesses what they are, and reads what it is told.
#[test]
fn columns_are_matched_and_a_workbook_is_a_table() {
    let folder = folder_with("none", "");
    let text = |at: &str, what: &str| {
        format!("<c r=\"{at}\" t=\"inlineStr\"><is><t>{what}</t></is></c>")
    };
    let row = |n: usize, cells: [&str; 5]| {
        let cells =
            "ABCDE".chars().zip(cells).map(|(c, what)| text(&format!("{c}{n}"), what));
        format!("<row r=\"{n}\">{}</row>", cells.collect::<String>())
    };
    let rows = [
        row(1, ["No.", "Strap", "Customer", "Waist in", "Till"]),
        row(2, ["Nine Lamps 1", "belt", "Ines Fairwater", "34", "12 Dec"]),
        row(3, ["Nine Lamps 2", "belt", "Corin Ashdown", "90 cm", "12 Dec"]),
    ];
    let view =
        send_parts(folder.path(), &[("file", &xlsx(&rows.concat())), ("table", b"")]);
    let view = view.text();
    assert!(view.contains("2 are ready"), "{view}");
    assert!(view.contains("4 matched, left out: “Till”"), "{view}");
    for (name, key) in [
        ("No.", "order"),
        ("Customer", "wearer"),
        ("Waist in", "measure.value"),
        ("Till", ""),
    ] {
        let after =
            view.split(&format!("name=\"column\" value=\"{name}\"")).nth(1).unwrap();
        let value = after.split("name=\"key\" value=\"").nth(1).unwrap();
        assert_eq!(value.split('"').next().unwrap(), key, "{name}");
    }
    assert!(view.contains("<option value=\"in\" selected>inches"), "34 is 34 in");
    // The text that now stands in the form is the table, with the columns as they are chosen.
    let table = "No.,Strap,Customer,Waist in,Till\n\
                 Nine Lamps 1,belt,Ines Fairwater,34,12 Dec\n";
    let told = |key: &str, unit: &str| {
        let fields =
            ["column=Waist in", key, unit, "column=Till", "key=title", "do=table"];
        let shown = send(folder.path(), table, &fields[..5]);
        shown.text().to_owned()
    };
    assert!(
        told("key=measure.value", "unit=cm").contains("1 needs you"),
        "34 cm is no waist"
    );
    let titled = told("key=measure.value", "unit=in");
    assert!(titled.contains("1 is ready") && titled.contains("5 matched"), "{titled}");
    // A column without a key is not used: the belt has the template's measure.
    assert!(told("key=", "unit=").contains("left out: “Waist in”"));
    let wrong = told("key=waist", "unit=");
    assert!(wrong.contains("waist is no key of a job"), "{wrong}");
    assert!(wrong.contains("name=\"key\" value=\"waist\""), "it can be corrected there");
}

/// What a spreadsheet made of a cell stays wrong until somebody types another value.
#[test]
fn a_spoilt_cell_stays_spoilt() {
    let folder = folder_with("none", "");
    let rows = "<row r=\"1\"><c r=\"A1\" t=\"inlineStr\"><is><t>order</t></is></c>\
        <c r=\"B1\" t=\"inlineStr\"><is><t>template</t></is></c>\
        <c r=\"C1\" t=\"inlineStr\"><is><t>wearer</t></is></c></row>\
        <row r=\"2\"><c r=\"A2\"><v>1</v></c>\
        <c r=\"B2\" t=\"inlineStr\"><is><t>belt</t></is></c>\
        <c r=\"C2\" t=\"e\"><v>#REF!</v></c></row>";
    let view = send_parts(folder.path(), &[("file", &xlsx(rows))]);
    let view = view.text();
    assert!(view.contains("1 needs you"), "{view}");
    assert!(view.contains("name=\"cell-0-2\" value=\"#REF!\""), "{view}");
    assert_eq!(hidden(view, "flaw-2-2"), "error");
    let table = "order,template,wearer\n1,belt,#REF!\n";
    let seen = format!("seen={}", hidden(view, "seen"));
    let again = |cell: &str| {
        let fields = [seen.as_str(), "flaw-2-2=error", cell];
        send(folder.path(), table, &fields).text().to_owned()
    };
    assert!(again("cell-0-2=#REF!").contains("1 needs you"));
    assert!(again("cell-0-2=Ines Fairwater").contains("1 is ready"));
}

/// A cell too many stays in the row: reading again does not make the order another one.
#[test]
fn a_row_that_is_too_long_stays_so() {
    let folder = folder_with("none", "");
    let table = "order,template,measure.value\n1,belt,36 in,5 cm\n";
    let view = send(folder.path(), table, &[]);
    assert!(
        view.text().contains("a row is longer than")
            || view.text().contains("A row is longer")
    );
    let kept = send(folder.path(), table, &["do=table"]);
    assert_eq!(kept.text(), table);
}

/// A button sets the value that would do, in its cell; each was tried on the whole order.
#[test]
fn a_button_mends_a_cell() {
    let folder = folder_with("none", "");
    let view = send(folder.path(), ORDERS, &[]);
    let text = view.text();
    assert!(
        text.contains("name=\"cell-1-4\" value=\"40 mm\""),
        "the width of the buckle"
    );
    assert!(text.contains("name=\"cell-2-3\" value=\"58 cm\""), "58 of what?");
    assert!(!text.contains("name=\"cell-2-3\" value=\"58 mm\""), "no head is 58 mm");
    // A browser sends the value of the button after that of the field.
    let seen = format!("seen={}", hidden(text, "seen"));
    let fields = [&seen, "cell-1-4=44 mm", "cell-2-3=58", "cell-2-3=58 cm"];
    assert!(
        send(folder.path(), ORDERS, &fields).text().contains("2 are ready, 1 needs you")
    );
}

#[test]
fn what_stops_a_table_is_said_in_its_own_words() {
    let folder = folder_with("orders.csv", ORDERS);
    // Columns are called by their keys: another spelling is another column.
    let lacks = send(folder.path(), "template,measure.value\nbelt,34 in\n", &[]);
    let finding = lacks.text().split("class=\"finding").nth(1).unwrap();
    let finding = finding.split("<form").next().unwrap();
    assert!(finding.contains("measure.value") && !finding.contains("measure value"));
    // Each of two bare numbers has its own buttons.
    let bare = "order,template,measure.value,strap.width\nz,belt,34,38\n";
    let view = send(folder.path(), bare, &[]);
    for button in ["\"cell-0-2\" value=\"34 in\"", "\"cell-0-3\" value=\"38 mm\""] {
        assert!(view.text().contains(button), "{button}");
    }
    // Another table is sent without the cells of this one.
    let (_, another) = view.text().rsplit_once("<form").unwrap();
    assert!(another.contains("textarea id=\"table\"") && !another.contains("cell-"));
    // The measure that each was drawn for stands beside it.
    let ready = send(folder.path(), ORDERS, &[]);
    assert!(ready.text().contains("863.6 mm (34 in)"), "{}", ready.text());
    // A ZIP without the plan that was asked for would look whole.
    let strips = ["strips=name,length\nbridle,bar\n", "do=zip"];
    let refused = send(folder.path(), ORDERS, &strips);
    assert!(refused.header("content-type").starts_with("text/html"));
    assert!(refused.text().contains("First mend what is wrong with the strips."));
    // The cells have their buttons all the same.
    assert!(refused.text().contains("name=\"cell-2-3\" value=\"58 cm\""));
    let (_, strips) = refused.text().split_once("Your strips").unwrap();
    assert!(strips.contains("The table lacks columns"), "{strips}");
}

/// The ZIP has what the command writes into its folder, and a bad row leaves the others alone.
#[test]
fn a_zip_has_the_files_of_a_batch() {
    let strips = "name,length,width,thickness,count\nbridle 35,1.5 m,35 mm,3.5 mm,1\n\
                  bridle 20,1 m,20 mm,3.5 mm,3\nkeeper,1 m,16 mm,2 mm,1\n";
    let folder = folder_with("strips.csv", strips);
    let orders = ORDERS.replace("58,", "58 cm,");
    fs::write(folder.path().join("orders.csv"), &orders).unwrap();
    let begin = get_in(folder.path(), "/orders");
    assert!(
        begin.text().contains("bridle 35,1.5 m"),
        "the workshop's strips stand there"
    );
    let fields = [&format!("strips={strips}"), "do=zip"];
    let zip = send(folder.path(), &orders, &fields);
    assert_eq!(zip.header("content-type"), "application/zip");
    let files = unzipped(zip.bytes);
    let args = ["batch", "orders.csv", "-o", "day", "--stock", "strips.csv"];
    let batch = run(folder.path(), &args);
    assert_eq!(batch.code, Some(1), "{}", batch.err);
    let day = folder.path().join("day");
    let names: Vec<String> = files.keys().cloned().collect();
    let mut own: Vec<String> = fs::read_dir(&day)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| !name.starts_with('.'))
        .collect();
    own.sort();
    assert_eq!(names, own);
    for (name, bytes) in &files {
        assert!(*bytes == fs::read(day.join(name)).unwrap(), "{name}");
    }
    assert!(
        files.contains_key("salt-road-3.pdf") && !files.contains_key("nine-lamps-2.pdf")
    );
    let plan = send(folder.path(), &orders, &[fields[0], "do=plan"]);
    assert_eq!(plan.bytes, files["cutting-plan.txt"]);
    // What is lacking is said on the page.
    let few = strips.replace("keeper,1 m", "keeper,1 mm");
    let view = send(folder.path(), &orders, &[&format!("strips={few}")]);
    assert!(view.text().contains("class=\"finding stop\""), "{}", view.text());
}

/// A form that is too long or not whole stops with a word, and a text is no form with files.
#[test]
fn a_form_has_its_limits() {
    let folder = folder_with("none", "");
    let long = send_parts(folder.path(), &[("file", &vec![b'a'; 3 << 20])]);
    assert_eq!(long.status, StatusCode::PAYLOAD_TOO_LARGE);
    let request = Request::post("/orders")
        .header("host", HOST)
        .header("origin", origin())
        .header("content-type", "multipart/form-data; boundary=x");
    let cut =
        request.body(Body::from("--x\r\nContent-Disposition: form-data; na")).unwrap();
    assert_eq!(
        super::send(folder.path(), &door(HOST, None), cut).status,
        StatusCode::BAD_REQUEST
    );
    let plain = post(folder.path(), "/orders", Some(&origin()), "table=order%0A1%0A");
    assert!(plain.text().contains("Look at these orders"));
}

/// What the columns of an office mean is said once: the profile keeps it for `batch` too.
#[test]
fn the_meaning_of_columns_is_kept_in_the_profile() {
    let text = "paper = \"a4\" # on the shelf\n";
    let folder = folder_with("strapwright.toml", text);
    let table = "No.,Strap,Customer,Waist in,Till\n\
                 Nine Lamps 1,belt,Ines Fairwater,34,12 Dec\n";
    fs::write(folder.path().join("orders.csv"), table).unwrap();
    let batch = || run(folder.path(), &["batch", "orders.csv", "-o", "friday"]);
    assert_ne!(batch().code, Some(0), "nobody told it of these columns");
    let fields = [
        "column=Waist in",
        "key=measure.value",
        "unit=in",
        "column=Till",
        "key=",
        "unit=",
        "do=columns",
    ];
    let kept = send(folder.path(), table, &fields);
    assert!(kept.text().contains("The profile says this"), "{}", kept.text());
    let profile = fs::read_to_string(folder.path().join("strapwright.toml")).unwrap();
    assert!(profile.starts_with(text), "{profile}");
    assert!(profile.contains("ignore = [\"Till\"]"), "{profile}");
    let waist = "\"Waist in\" = { key = \"measure.value\", unit = \"in\" }";
    assert!(profile.contains(waist), "{profile}");
    let drawn = batch();
    assert_eq!(drawn.code, Some(0), "{}", drawn.err);
    assert!(folder.path().join("friday/nine-lamps-1.pdf").exists());
    // A key that is none is not kept.
    let wrong = ["column=Waist in", "key=waist", "unit=in", "do=columns"];
    assert!(send(folder.path(), table, &wrong).text().contains("no key of a job"));
    let after = fs::read_to_string(folder.path().join("strapwright.toml")).unwrap();
    assert_eq!(after, profile);
}

/// Strips that are too wide: the page has a tick for that, and no flag of the command line.
#[test]
fn a_plan_that_fails_says_what_would_do_on_the_page() {
    let folder = folder_with("strips.csv", "");
    let strips = "strips=name,length,width,thickness,count\noak,1500 mm,60 mm,3.5 mm,2\n";
    let table = ORDERS.lines().take(2).collect::<Vec<_>>().join("\n");
    let view = send(folder.path(), &table, &[strips]);
    assert!(view.text().contains("allow that it is ripped down."), "{}", view.text());
    let ripped = send(folder.path(), &table, &[strips, "rip=on"]);
    assert!(ripped.text().contains("value=\"plan\""), "{}", ripped.text());
}

/// Of two columns the one whose whole name says what it is counts, and none is guessed by a word
/// that belongs to something else.
#[test]
fn columns_are_guessed_with_care() {
    let folder = folder_with("strips.csv", "");
    let table = "Customer no,Order no,Strap,Waist,Buckle width,Belt width,Lining leather\n\
                 77,A 1,belt,34 in,40 mm,38 mm,calf\n";
    let view = send(folder.path(), table, &[]);
    for (name, key) in [
        ("Customer no", ""),
        ("Order no", "order"),
        ("Waist", "measure.value"),
        ("Buckle width", ""),
        ("Belt width", "strap.width"),
        ("Lining leather", ""),
    ] {
        let column = format!("name=\"column\" value=\"{name}\"");
        let after = view.text().split(&column).nth(1).unwrap();
        let value = after.split("name=\"key\" value=\"").nth(1).unwrap();
        assert_eq!(value.split('"').next().unwrap(), key, "{name}");
    }
    let both = "No,Strap,Waist,Belt width,Width\n1,belt,34 in,44 mm,38 mm\n";
    assert!(send(folder.path(), both, &[]).text().contains("left out: “Belt width”"));
}

/// An order that is ready says what should be looked at first.
#[test]
fn warnings_of_an_order_are_shown() {
    let folder = folder_with("strips.csv", "");
    let table = "order,template,measure.value\nA,belt,34 in\nA,belt,36 in\n";
    let view = send(folder.path(), table, &[]);
    assert!(view.text().contains("2 are ready"));
    assert!(view.text().contains("Two orders are called A"), "{}", view.text());
    // The name of a column gets no capital, in no language.
    fs::write(folder.path().join("strapwright.toml"), "language = \"de\"\n").unwrap();
    let bare = send(folder.path(), "order,template,measure.value\nA,belt,34\n", &[]);
    assert!(bare.text().contains(">measure.value ist keine Länge"), "{}", bare.text());
}
