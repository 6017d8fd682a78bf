//! Printer files: what is read is written as what reads the same.

use super::Target;
use crate::common::random::Random;
use crate::mutate::text;
use strapwright::diagnostic::{self, Sources, Style};
use strapwright::printer;

pub(crate) const TARGET: Target = Target { name: "printer", weight: 20, input, run };

const SAMPLE: &str = "name = \"Front desk\"\npaper = \"A4\"\nmargin = \"4.2 mm\"\n\
    fitted = false\n\n[long]\nby = 1.0125\nproven = 0.001\n\n[short]\nby = 0.998\n\
    proven = 0.00571\n\n[skew]\ndegrees = 0.125\nproven = 0.25\n";

const WORDS: &[&str] = &[
    "name",
    "paper",
    "margin",
    "fitted",
    "long",
    "short",
    "skew",
    "by",
    "proven",
    "degrees",
    "true",
    "\"Letter\"",
    "\"320x450mm\"",
    "1.0",
    "0.94",
    "2",
    "45.0",
    "1e-3",
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
