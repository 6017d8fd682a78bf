//! What a file says of its print, as `reprint --after` reads it.

use super::Target;
use super::pdf_files::{file, layout, with_metadata};
use crate::common::random::Random;
use strapwright::export::pdf;
use strapwright::paginate::{Heading, Request, paginate};
use strapwright::verify::opens;

pub(crate) const TARGET: Target = Target { name: "metadata", weight: 4, input, run };

fn input(random: &mut Random) -> Vec<u8> {
    if random.one_in(3) { file(random) } else { with_metadata(random) }
}

fn run(input: &[u8]) -> bool {
    // As the program does, before it believes a file.
    if opens(input).is_err() {
        return false;
    }
    let Some(said) = pdf::read(input) else { return false };
    let heading = Heading::default();
    let request = Request::new(layout(), &heading, &said.paper);
    if let Ok(set) = paginate(&request.reusing(&said)) {
        assert!(!set.sheets.is_empty());
    }
    true
}
