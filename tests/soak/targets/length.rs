//! Lengths, factors and papers as they are typed: what is read prints as what reads the same.

use super::Target;
use crate::common::random::Random;
use crate::mutate::text;
use strapwright::geom::{Length, Ratio};
use strapwright::paginate::Paper;
use strapwright::stock;

pub(crate) const TARGET: Target = Target { name: "length", weight: 30, input, run };

const WORDS: &[&str] = &[
    "34 in",
    "1 1/4 in",
    "34½ in",
    "86,5 cm",
    "86.5 cm",
    "865 mm",
    "1.2 m",
    "34\"",
    "34″",
    "-3 mm",
    "−3 mm",
    "1/64 in",
    "99999999 mm",
    "100000 m",
    "0.000001 mm",
    "a4",
    "letter",
    "320x450mm",
    "12 x 18 in",
    "roll",
    "roll-297mm",
    "8.5in x 11in",
    "⅓ in",
    "1⁄3 in",
    "x",
];

fn input(random: &mut Random) -> Vec<u8> {
    let samples: Vec<String> = WORDS.iter().map(|w| (*w).to_owned()).collect();
    text(random, &samples, WORDS)
}

fn run(input: &[u8]) -> bool {
    let text = String::from_utf8_lossy(input);
    let is_length = match Length::parse(&text) {
        Ok(length) => {
            assert_eq!(Length::parse(&length.to_string()), Ok(length), "{text:?}");
            let tape = length.tape();
            // The longest that is read may round up to more than is read.
            if length.abs() > Length::from_mm(99_000_000) {
                return true;
            }
            let shown = Length::parse(&tape.to_string()).expect("a tape reads back");
            assert_eq!(shown + tape.rest, length, "{text:?}");
            true
        }
        Err(error) => {
            assert!(error.to_string().chars().count() < 400, "{error}");
            false
        }
    };
    if let Some(ratio) = Ratio::parse(&text) {
        assert_eq!(Ratio::parse(&ratio.to_string()), Some(ratio), "{text:?}");
    }
    match Paper::parse(&text) {
        Ok(paper) => {
            let again = Paper::parse(paper.name()).expect("a name reads back");
            assert_eq!(again.form(), paper.form(), "{text:?}");
        }
        Err(error) => assert!(error.chars().count() < 600, "{error}"),
    }
    is_length || stock::find(&text).is_some()
}
