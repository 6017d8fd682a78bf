//! Printer files: what is read is written as what reads the same.

use super::Target;
use crate::common::random::Random;
use crate::mutate::text;
use strapwright::diagnostic::{self, Sources, Style};
use strapwright::printer;

pub(crate) const TARGET: Target = Target { name: "printer", weight: 20, input, run };

const SAMPLE: &str = "name = \"Front desk\"\npaper = \"A4\"\nmargin = \"4.2 mm\"\n\
    fitted = false\n\n[[reading]]\ndate = \"2026-03-14\"\nprint = \"9E91-50C5\"\n\
    long = 1.0125\nlong-proven = 0.001\nshort = 0.998\nshort-proven = 0.00571\n\
    ruler-class = \"I\"\nnote = \"damp\"\n\n[[reading]]\ndate = \"2026-04-01\"\n\
    long = 1.01\nlong-proven = 0.002\nshort = 0.998\nshort-proven = 0.00571\nanew = true\n";

const WORDS: &[&str] = &[
    "name",
    "paper",
    "margin",
    "fitted",
    "long",
    "short",
    "long-proven",
    "[[reading]]",
    "date",
    "stock",
    "ruler",
    "anew",
    "true",
    "\"Letter\"",
    "\"320x450mm\"",
    "1.0",
    "0.94",
    "2",
    "45.0",
    "1e-3",
    "\"III\"",
    "\"40 mm\"",
];

fn input(random: &mut Random) -> Vec<u8> {
    text(random, &[SAMPLE.to_owned()], WORDS)
}

fn run(input: &[u8]) -> bool {
    let text = String::from_utf8_lossy(input);
    let mut sources = Sources::default();
    let known = printer::read(&mut sources, "printer.toml", &text);
    let words = diagnostic::text(&known.findings, &sources, Style::Plain);
    assert!(words.len() < 1 << 20, "{} bytes of words", words.len());
    let Some(printer) = known.printer else {
        assert!(!known.findings.is_empty(), "no printer, and nothing said");
        return false;
    };
    let written = printer::write(&printer);
    let again = printer::read(&mut sources, "again.toml", &written);
    let again = again.printer.expect("a printer's file reads back");
    assert_eq!(again.correction, printer.correction, "{written}");
    assert_eq!(again.paper, printer.paper, "{written}");
    true
}
