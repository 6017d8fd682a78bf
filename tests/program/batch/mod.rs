//! A day's orders as a bench or a script meets them: rows in; drawings, lists and words out.

pub(crate) mod columns;
mod hostile;
mod merged;
mod orders;
mod stopped;

use crate::common::program::{Ran, command, run_with};
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;
use std::path::Path;

/// So many orders with some leather between them, each its own drawing.
fn day(orders: usize) -> String {
    let mut text = "order,template,title,wearer,measure.value\n".to_owned();
    for i in 0..orders {
        let template = ["hat-band", "belt", "cuff"][i % 3];
        let cm = [54, 80, 17][i % 3] + i / 9;
        let _ = writeln!(text, "{i},{template},Order {i},Wearer {i},{cm} cm");
    }
    text
}

fn batch(folder: &Path, args: &[&str]) -> Ran {
    let args: Vec<&str> = ["batch"].iter().chain(args).copied().collect();
    run_with(command(folder, &args), b"")
}

/// Every file of a folder, hidden ones too, by name.
fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let entries = fs::read_dir(folder).unwrap().map(|e| e.unwrap().path());
    entries
        .map(|path| {
            let name = path.file_name().unwrap().to_str().unwrap().to_owned();
            (name, fs::read(path).unwrap())
        })
        .collect()
}

fn is_drawing(name: &str) -> bool {
    Path::new(name).extension().is_some_and(|e| e == "pdf")
}

/// The rows of a table by the names of its columns.
fn rows(bytes: &[u8]) -> Vec<BTreeMap<String, String>> {
    csv::Reader::from_reader(bytes).deserialize().map(Result::unwrap).collect()
}

/// The lines for scripts.
fn events(ran: &Ran) -> Vec<serde_json::Value> {
    ran.out().lines().map(|line| serde_json::from_str(line).unwrap()).collect()
}

/// Order, status and whether it was there already, of each order.
fn told(ran: &Ran) -> Vec<(String, String, bool)> {
    let orders = events(ran).into_iter().filter(|e| e["event"] == "order");
    orders
        .map(|e| {
            let word = |key: &str| e[key].as_str().unwrap().to_owned();
            (word("order"), word("status"), e["kept"].as_bool().unwrap())
        })
        .collect()
}
