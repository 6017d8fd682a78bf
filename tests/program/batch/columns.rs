//! Tables as an office keeps them: columns of its own names, others that no order depends on,
//! numbers without units, workbooks.

use super::{batch, files, is_drawing, rows, told};
use crate::common::program::folder_with;
use std::fs;
use std::io::{Cursor, Write};

const PROFILE: &str = "\
[hardware.brass-heel-bar-40]
hardware = \"buckle\"
bar = \"4.5 mm\"
reach = \"29.5 mm\"
inside = \"40 mm\"
tongue = \"4 mm\"
[leather]
\"bridle 9 oz\" = { thickness = \"9 oz\" }
[orders]
ignore = [\"Due\", \"Phone\", \"Price\"]
[orders.columns]
\"No.\" = \"order\"
\"Strap\" = { key = \"template\", words = { hat = \"hat-band\" } }
\"For\" = \"wearer\"
\"Waist\" = { key = \"measure.value\", unit = \"in\" }
\"Width\" = \"strap.width\"
\"Buckle\" = \"buckle.hardware\"
\"Leather\" = \"strap.leather\"
";
const ORDERS: &str = "\
No.,Strap,For,Waist,Width,Buckle,Leather,Due,Phone,Price
1041,belt,Ines Fairwater,\"86,5 cm\",38 mm,brass-heel-bar-40,bridle 9 oz,12 Dec,555-0114,48
1042,belt,Corin Ashdown,34 1/2,38 mm,brass-heelbar-40,bridle 9 oz,12 Dec,555-0117,48
1043,belt,Bram Tallis,98,38 mm,brass-heel-bar-40,bridle 9 oz,13 Dec,,48
1044,belt,Tobias Wren,34,1 3/4 in,brass-heel-bar-40,bridle 9 oz,13 Dec,555-0102,52
";

/// Where the cell of a buckle is empty, the summary says what was taken in its place.
#[test]
fn an_empty_cell_of_a_buckle_is_told() {
    let orders = "No.,Strap,Waist,Buckle\n1,belt,34,brass-heel-bar-40\n2,belt,34,\n";
    let folder = folder_with("orders.csv", orders);
    fs::write(folder.path().join("strapwright.toml"), PROFILE).unwrap();
    let ran = batch(folder.path(), &["orders.csv", "-o", "day"]);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    assert!(ran.err.contains("1 drawn order: measures of hardware"), "{}", ran.err);
    let all = files(&folder.path().join("day"));
    let assumed: Vec<String> =
        rows(&all["summary.csv"]).iter().map(|row| row["assumed"].clone()).collect();
    assert_eq!(assumed, ["", "buckle.bar 4 mm, buckle.reach 30 mm"]);
}

#[test]
fn an_office_s_table_is_right_at_the_second_run() {
    let folder = folder_with("orders.csv", ORDERS);
    fs::write(folder.path().join("strapwright.toml"), PROFILE).unwrap();
    let args = ["orders.csv", "-o", "friday"];
    let ran = batch(folder.path(), &args);
    assert_eq!(ran.code, Some(1), "{}", ran.err);
    let all = files(&folder.path().join("friday"));
    assert_eq!(all.keys().filter(|n| is_drawing(n)).count(), 1, "{}", ran.err);
    let mistakes = rows(&all["mistakes.csv"]);
    let told: Vec<[&str; 4]> = mistakes
        .iter()
        .map(|m| ["cell", "row", "order", "column"].map(|key| m[key].as_str()))
        .collect();
    assert_eq!(
        told,
        [
            ["F3", "3", "1042", "Buckle"],
            ["D4", "4", "1043", "Waist"],
            ["E5", "5", "1044", "Width"],
        ]
    );
    assert!(mistakes[0]["remedy"].contains("brass-heel-bar-40"), "{mistakes:?}");
    assert!(mistakes[1]["found"].contains("98 in"), "{mistakes:?}");
    assert!(ran.err.contains("orders.csv, cell E5, column Width"), "{}", ran.err);
    // The cells are corrected, and other columns change too.
    let right = ORDERS
        .replace("brass-heelbar-40", "brass-heel-bar-40")
        .replace("Tallis,98", "Tallis,98 cm")
        .replace("1 3/4 in", "38 mm")
        .replace("12 Dec", "14 Dec");
    fs::write(folder.path().join("orders.csv"), right).unwrap();
    let ran = batch(folder.path(), &args);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    assert!(ran.err.contains("4 orders: 4 drawn"), "{}", ran.err);
    assert!(ran.err.contains("1 of them existed already"), "{}", ran.err);
    let all = files(&folder.path().join("friday"));
    assert!(rows(&all["mistakes.csv"]).is_empty());
}

#[test]
fn flags_say_what_columns_mean_and_the_others_are_one_finding() {
    let table =
        "No.,template,waist,Due,Price\n1,hat-band,58,12 Dec,4\n2,hat-band,57,,5\n";
    let folder = folder_with("orders.csv", table);
    let ran = batch(folder.path(), &["orders.csv", "-o", "day"]);
    assert_eq!(ran.code, Some(1), "{}", ran.err);
    assert_eq!(ran.err.matches("error[").count(), 1, "{}", ran.err);
    for words in ["\"waist\", \"Due\", \"Price\"", "--ignore NAME", "\"No.\" = \"order\""]
    {
        assert!(ran.err.contains(words), "{words}: {}", ran.err);
    }
    let flags = [
        "orders.csv",
        "-o",
        "day",
        "--column",
        "no.=order",
        "--column",
        "Waist=measure.value",
        "--ignore",
        " due ",
        "--ignore",
        "PRICE",
    ];
    let bare = batch(folder.path(), &flags);
    assert_eq!(bare.err.matches("bad-length").count(), 2, "{}", bare.err);
    // The profile knows the unit of that key; the flag gives its column another name.
    let unit = "[orders.columns]\nGirth = { key = \"measure.value\", unit = \"cm\" }\n";
    fs::write(folder.path().join("strapwright.toml"), unit).unwrap();
    let ran = batch(folder.path(), &[&flags[..], &["--format", "json"]].concat());
    let drawn: Vec<_> =
        told(&ran).into_iter().map(|(order, status, _)| (order, status)).collect();
    let wanted = ["1", "2"].map(|order| (order.to_owned(), "drawn".to_owned()));
    assert_eq!(drawn, wanted, "{}", ran.err);
}

/// The columns are bounded before any work.
#[test]
fn too_many_columns_are_refused() {
    let header: Vec<String> = (0..100_000).map(|n| format!("c{n}")).collect();
    let folder = folder_with("orders.csv", format!("order,{}\n1\n", header.join(",")));
    let ran = batch(folder.path(), &["orders.csv", "-o", "day"]);
    assert_eq!(ran.code, Some(1));
    assert!(ran.err.contains("at most 256"), "{}", ran.err);
    let some: Vec<String> = (0..200).map(|n| format!("c{n}")).collect();
    let folder = folder_with("orders.csv", format!("order,{}\n1\n", some.join(",")));
    let ran = batch(folder.path(), &["orders.csv", "-o", "day"]);
    assert!(ran.err.contains("\"c23\" and 176 more"), "{}", ran.err);
}

/// Keys that are missing from a row are told together.
#[test]
fn missing_keys_of_a_row_are_one_finding() {
    let own = "[about]\nsummary = \"Strip\"\n[strap]\nk = 0.5\n";
    let folder = folder_with("own.toml", own);
    fs::write(folder.path().join("orders.csv"), "order,template\n1,own.toml\n").unwrap();
    let ran = batch(folder.path(), &["orders.csv", "-o", "day"]);
    assert_eq!(ran.err.matches("error[missing-key]").count(), 1, "{}", ran.err);
    assert!(ran.err.contains("(and `strap.thickness`)"), "{}", ran.err);
}

fn packed(parts: &[(&str, &str)]) -> Vec<u8> {
    let mut file = zip::ZipWriter::new(Cursor::new(Vec::new()));
    let stored = zip::write::SimpleFileOptions::default()
        .compression_method(zip::CompressionMethod::Stored);
    for (name, text) in parts {
        file.start_file(*name, stored).unwrap();
        file.write_all(text.as_bytes()).unwrap();
    }
    file.finish().unwrap().into_inner()
}

/// A workbook of the fewest parts that ECMA-376, part 1, 12 and 18 allow.
pub(crate) fn xlsx(rows: &str) -> Vec<u8> {
    let open = "http://schemas.openxmlformats.org";
    let types = format!(
        "<Types xmlns=\"{open}/package/2006/content-types\"><Default Extension=\"rels\" \
         ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/>\
         <Default Extension=\"xml\" ContentType=\"application/xml\"/></Types>"
    );
    let relations = |target: &str, kind: &str| {
        format!(
            "<Relationships xmlns=\"{open}/package/2006/relationships\"><Relationship \
             Id=\"r1\" Type=\"{open}/officeDocument/2006/relationships/{kind}\" \
             Target=\"{target}\"/></Relationships>"
        )
    };
    let book = format!(
        "<workbook xmlns=\"{open}/spreadsheetml/2006/main\" \
         xmlns:r=\"{open}/officeDocument/2006/relationships\"><sheets><sheet name=\"Orders\" \
         sheetId=\"1\" r:id=\"r1\"/></sheets></workbook>"
    );
    let sheet = format!(
        "<worksheet xmlns=\"{open}/spreadsheetml/2006/main\"><sheetData>{rows}</sheetData>\
         </worksheet>"
    );
    packed(&[
        ("[Content_Types].xml", &types),
        ("_rels/.rels", &relations("xl/workbook.xml", "officeDocument")),
        ("xl/workbook.xml", &book),
        ("xl/_rels/workbook.xml.rels", &relations("worksheets/sheet1.xml", "worksheet")),
        ("xl/worksheets/sheet1.xml", &sheet),
    ])
}

/// The same by `OpenDocument` 1.3, part 3, 3.7 and 9.
fn ods(rows: &str) -> Vec<u8> {
    let ns = "urn:oasis:names:tc:opendocument:xmlns";
    let content = format!(
        "<office:document-content xmlns:office=\"{ns}:office:1.0\" \
         xmlns:table=\"{ns}:table:1.0\" xmlns:text=\"{ns}:text:1.0\" office:version=\"1.3\">\
         <office:body><office:spreadsheet><table:table table:name=\"Orders\">{rows}\
         </table:table></office:spreadsheet></office:body></office:document-content>"
    );
    packed(&[
        ("mimetype", "application/vnd.oasis.opendocument.spreadsheet"),
        ("META-INF/manifest.xml", "<manifest/>"),
        ("content.xml", &content),
    ])
}

#[test]
fn workbooks_are_read_as_tables_are() {
    let text = |at: &str, value: &str| {
        format!("<c r=\"{at}\" t=\"inlineStr\"><is><t>{value}</t></is></c>")
    };
    let names = ["No.", "Strap", "Waist", "Due"];
    let header: String =
        "ABCD".chars().zip(names).map(|(c, name)| text(&format!("{c}1"), name)).collect();
    // Row 2 is empty; numbers have the unit of the column; the error stands in row 4.
    let in_xlsx = xlsx(&format!(
        "<row r=\"1\">{header}</row><row r=\"3\">{}{}<c r=\"C3\"><v>22.5</v></c>\
         <c r=\"D3\" t=\"e\"><v>#REF!</v></c></row>\
         <row r=\"4\">{}{}<c r=\"C4\" t=\"e\"><v>#REF!</v></c></row>",
        text("A3", "7"),
        text("B3", "hat"),
        text("A4", "8"),
        text("B4", "hat"),
    ));
    let cell = |value: &str| {
        format!(
            "<table:table-cell office:value-type=\"string\"><text:p>{value}</text:p>\
             </table:table-cell>"
        )
    };
    let number = "<table:table-cell office:value-type=\"float\" office:value=\"22.5\">\
                  <text:p>22,5</text:p></table:table-cell>";
    let date = "<table:table-cell office:value-type=\"date\" office:date-value=\"2026-03-04\">\
                <text:p>3/4</text:p></table:table-cell>";
    let row = |cells: String| format!("<table:table-row>{cells}</table:table-row>");
    let in_ods = ods(&[
        row(names.map(cell).concat()),
        row("<table:table-cell/>".to_owned()),
        row([cell("7"), cell("hat"), number.to_owned(), date.to_owned()].concat()),
        row([cell("8"), cell("hat"), date.to_owned()].concat()),
    ]
    .concat());
    for (name, bytes, spoilt) in
        [("orders.xlsx", in_xlsx, "#REF!"), ("orders.ods", in_ods, "the date 2026-03-04")]
    {
        let folder = folder_with(name, bytes);
        fs::write(folder.path().join("strapwright.toml"), PROFILE).unwrap();
        let ran = batch(folder.path(), &[name, "-o", "day"]);
        assert_eq!(ran.code, Some(1), "{name}: {}", ran.err);
        let all = files(&folder.path().join("day"));
        assert!(all.contains_key("7.pdf") && !all.contains_key("8.pdf"), "{}", ran.err);
        let mistakes = rows(&all["mistakes.csv"]);
        assert_eq!(mistakes.len(), 1, "{mistakes:?}");
        assert_eq!(
            (mistakes[0]["cell"].as_str(), mistakes[0]["column"].as_str()),
            ("C4", "Waist")
        );
        assert!(mistakes[0]["found"].contains(spoilt), "{mistakes:?}");
        // As the same table in CSV is drawn.
        let plain = folder_with("orders.csv", "No.,Strap,Waist\n7,hat,22.5 in\n");
        fs::write(plain.path().join("strapwright.toml"), PROFILE).unwrap();
        assert_eq!(batch(plain.path(), &["orders.csv", "-o", "day"]).code, Some(0));
        assert_eq!(files(&plain.path().join("day"))["7.pdf"], all["7.pdf"], "{name}");
    }
    let broken = folder_with("orders.xlsx", b"PK\x03\x04 and then nothing");
    let ran = batch(broken.path(), &["orders.xlsx", "-o", "day"]);
    assert_eq!(ran.code, Some(1));
    assert!(ran.err.contains("the workbook cannot be read"), "{}", ran.err);
}

/// The first run over an office's table says what to put into the profile.
#[test]
fn names_of_an_office_are_guessed() {
    let table = "No.,For,Strap,Waist,Due\n1041,Ines Fairwater,belt,90 cm,12 Dec\n";
    let folder = folder_with("orders.csv", table);
    let ran = batch(folder.path(), &["orders.csv", "-o", "day"]);
    assert_eq!(ran.code, Some(1), "{}", ran.err);
    let said = ran.err.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "columns = { \"No.\" = \"order\", \"For\" = \"wearer\", \"Strap\" = \"template\", \"Waist\" = \"measure.value\" }",
        "ignore = [\"Due\"]",
    ] {
        assert!(said.contains(words), "{words}: {}", ran.err);
    }
    assert!(!said.contains("no column names the orders"), "{}", ran.err);
    // A name that is no key is told once, at its column.
    let profile = "[orders]\nignore = [\"Due\"]\n[orders.columns]\n\"No.\" = \"order\"\n\
                   For = \"wearer\"\nStrap = \"strap\"\nWaist = \"measure.value\"\n";
    fs::write(folder.path().join("strapwright.toml"), profile).unwrap();
    let ran = batch(folder.path(), &["orders.csv", "-o", "day"]);
    let said = ran.err.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("`strap` is no key of a job"), "{}", ran.err);
    assert!(said.contains("perhaps template"), "{}", ran.err);
}
