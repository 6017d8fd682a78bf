//! Orders: what is ready, what is wrong in which cell, and one file of all that are ready.

use super::{HOST, Shown, count, get_in, post};
use crate::common::program::{folder_with, run};
use axum::http::StatusCode;
use std::fs;
use std::path::Path;

const ORDERS: &str = "order,template,wearer,measure.value,strap.width\n\
    Nine Lamps 1,belt,Ines Fairwater,34 in,35 mm\n\
    Nine Lamps 2,belt,Corin Ashdown,36 in,44 mm\n\
    Salt Road 3,hat-band,Barnaby Thistle,58,\n";

fn encoded(text: &str) -> String {
    let hex = |b: u8| format!("%{b:02X}");
    text.bytes().map(hex).collect::<Vec<_>>().concat()
}

fn send(folder: &Path, table: &str, more: &str) -> Shown {
    let own = format!("http://{HOST}");
    post(folder, "/orders", Some(&own), &format!("table={}{more}", encoded(table)))
}

#[test]
fn wrong_cells_are_corrected_and_the_rest_is_drawn_as_a_batch_draws_it() {
    let folder = folder_with("orders.csv", ORDERS);
    assert_eq!(get_in(folder.path(), "/orders").status, StatusCode::OK);
    let view = send(folder.path(), ORDERS, "");
    let text = view.text();
    assert!(text.contains("1 is ready, 2 need you"));
    assert!(
        text.contains("name=\"cell-1-4\" value=\"44 mm\""),
        "the width of the second"
    );
    assert!(text.contains("name=\"cell-2-3\" value=\"58\""), "the measure of the third");
    assert_eq!(count(text, "name=\"cell-"), 2);
    let seen = text.split("name=\"seen\" value=\"").nth(1).unwrap();
    let seen = seen.split('"').next().unwrap();
    let better = format!("&seen={seen}&cell-1-4=36+mm&cell-2-3=58+cm");
    // The corrections belong to the rows of one table.
    let other = ORDERS.replace("Nine Lamps 1", "Nine Lamps 7");
    let refused = send(folder.path(), &other, &better);
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.text().contains("Two corrections at once"));
    // A browser ends the lines of a form in its own way.
    let all = send(folder.path(), &ORDERS.replace('\n', "\r\n"), &better);
    assert!(all.text().contains("3 are ready"));
    let table = send(folder.path(), ORDERS, &format!("{better}&do=table"));
    fs::write(folder.path().join("orders.csv"), &table.bytes).unwrap();
    assert!(table.text().contains("Salt Road 3,hat-band,Barnaby Thistle,58 cm,"));
    let merged = send(folder.path(), table.text(), "&do=pdf");
    let batch = run(folder.path(), &["batch", "orders.csv", "-o", "day", "--merge"]);
    assert_eq!(batch.code, Some(0), "{}", batch.err);
    assert_eq!(fs::read(folder.path().join("day/orders.pdf")).unwrap(), merged.bytes);
    let list = send(folder.path(), table.text(), "&do=hardware");
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
    let view = send(folder.path(), text, "");
    assert!(view.text().contains("1 is ready, 1 needs you"));
    assert!(view.text().contains("Paper 105 × 105 mm is too small"));
    let one = send(folder.path(), text, "&do=pdf");
    assert_eq!(one.header("content-type"), "application/pdf");
}

#[test]
fn hostile_tables_do_no_harm() {
    let folder = folder_with("secret.toml", "title = \"nobody's business\"\n");
    let path = "order,template\n1,secret.toml\n2,./secret.toml\n3,/etc/passwd\n";
    let view = send(folder.path(), path, "");
    assert!(view.text().contains("3 need you") && !view.text().contains("business"));
    let many = format!("order\n{}", "1\n".repeat(400));
    assert_eq!(send(folder.path(), &many, "").status, StatusCode::UNPROCESSABLE_ENTITY);
    for table in
        ["", "\0", "a\n\"", "order,order\n1,2\n", "=1+1\n", "order\n<script>x</script>\n"]
    {
        for deed in ["", "&do=pdf", "&do=hardware", "&do=table", "&cell-9-9=x&cell-a=1"] {
            let shown = send(folder.path(), table, deed);
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
