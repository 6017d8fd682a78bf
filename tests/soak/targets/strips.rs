//! Lists of strips, as tables and in TOML, and a plan from those that can be read.

use super::Target;
use crate::common::random::Random;
use crate::mutate::text;
use std::sync::OnceLock;
use strapwright::cutting::{self, Allowances, Cut};
use strapwright::diagnostic::{self, Style, forbids_print};
use strapwright::prepare;
use strapwright::words::Wording;

pub(crate) const TARGET: Target = Target { name: "strips", weight: 10, input, run };

const TOML: &str = "[[strip]]\nname = \"natural bridle\"\nlength = \"1.5 m\"\n\
    width = \"38 mm\"\nthickness = \"3.5 mm\"\ncount = 6\n\n[[blank]]\nname = \"black\"\n\
    length = \"1300 mm\"\nwidth = \"1 1/2 in\"\nthickness = \"3.5 mm\"\n\n[[cut-blank]]\n\
    name = \"tan\"\nlength = \"48 in\"\nwidth = \"38 mm\"\nthickness = \"4 mm\"\ncount = 2\n";

const WORDS: &[&str] = &[
    "name",
    "length",
    "width",
    "thickness",
    "count",
    "kind",
    "strip",
    "blank",
    "cut-blank",
    "1.5 m",
    "38 mm",
    "1 1/2 in",
    "10000",
    "9999",
    "1 km",
    "0 mm",
    ",",
    ";",
    "\t",
    "\"",
    "\"a,b\"",
    "\"\"",
    "[[strip]]",
    "[[blank]]",
    "[strip]",
    "strip = [",
];

fn input(random: &mut Random) -> Vec<u8> {
    let table = include_str!("../../../sample-jobs/strips.csv");
    let other = table.replace(',', ";");
    text(random, &[table.to_owned(), TOML.to_owned(), other], WORDS)
}

fn pieces() -> &'static [Cut] {
    static PIECES: OnceLock<Vec<Cut>> = OnceLock::new();
    PIECES.get_or_init(|| {
        let text = "template = \"belt\"\n";
        let (job, _, layout) = prepare("job.toml", text, &[]).laid.expect("a belt");
        cutting::cuts("belt", &job, &layout)
    })
}

fn run(input: &[u8]) -> bool {
    let text = String::from_utf8_lossy(input);
    let name = ["strips.csv", "strips.toml", "strips", "-"][input.len() % 4];
    let reading = cutting::read(name, &text);
    let words = diagnostic::text(&reading.findings, &reading.sources, Style::Plain);
    assert!(words.len() < 1 << 20, "{} bytes of words", words.len());
    if forbids_print(&reading.findings) {
        return false;
    }
    let allowances =
        Allowances { rip: input.len().is_multiple_of(2), ..Allowances::default() };
    match cutting::plan(pieces(), &reading.stock, &allowances) {
        Ok(plan) => {
            assert!(!cutting::text(&plan, pieces(), Wording::default()).is_empty());
        }
        Err(findings) => assert!(!findings.is_empty()),
    }
    true
}
