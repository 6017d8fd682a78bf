//! What a file says of its print, as `reprint --after` reads it.

use super::Target;
use super::pdf_files::{file, layout, with_imprint};
use crate::mutate::Rng;
use strapwright::export::pdf::Imprint;
use strapwright::paginate::{Heading, Paper, Request, paginate};

pub(crate) const TARGET: Target = Target { name: "imprint", weight: 4, input, run };

fn input(rng: &mut Rng) -> Vec<u8> {
    if rng.one_in(3) { file(rng) } else { with_imprint(rng) }
}

fn run(input: &[u8]) -> bool {
    let imprint = match Imprint::read(input) {
        Ok(imprint) => imprint,
        Err(why) => {
            assert!(!why.to_string().is_empty());
            return false;
        }
    };
    let Ok(paper) = Paper::parse(&imprint.paper) else { return true };
    let (heading, bare) = (Heading::default(), imprint.bare());
    let request = Request::new(layout(), &heading, &paper);
    if let Ok(set) = paginate(&request.keeping(&bare)) {
        assert!(!set.sheets.is_empty());
    }
    true
}
