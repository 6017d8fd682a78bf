//! Jobs that may be drawn, from the text to the sheets and back: what is drawn reads back.

use super::Target;
use super::job::{jobs, words};
use crate::common::random::Random;
use crate::mutate::text;
use strapwright::diagnostic::forbids_print;
use strapwright::export::pdf::pdf;
use strapwright::paginate::{Heading, Paper, Request, paginate};
use strapwright::prepare;
use strapwright::ticket::{TicketInput, ticket};
use strapwright::verify::exact;

pub(crate) const TARGET: Target = Target { name: "drawing", weight: 4, input, run };

const PAPERS: &[&str] = &["a4", "letter", "a3", "roll", "120x160mm", "roll-150mm"];

fn input(random: &mut Random) -> Vec<u8> {
    text(random, jobs(), words())
}

fn run(input: &[u8]) -> bool {
    let text = String::from_utf8_lossy(input);
    let Some((job, fit, layout)) = Some(prepare("job.toml", &text, &[]))
        .filter(|done| !forbids_print(&done.findings))
        .and_then(|done| done.laid)
    else {
        return false;
    };
    let heading = Heading::new(&job, fit.as_ref(), &layout);
    let paper = Paper::parse(PAPERS[input.len() % PAPERS.len()]).unwrap();
    let input = TicketInput {
        job: &job,
        fit: fit.as_ref(),
        layout: &layout,
        wording: heading.wording,
    };
    let ticket = ticket(&input);
    let request =
        Request { ticket: Some(&ticket), ..Request::new(&layout, &heading, &paper) };
    let Ok(set) = paginate(&request) else { return false };
    let bytes = pdf(&set).expect("sheets can be written");
    let read = exact(&bytes, &set, &layout, &[]).expect("a drawn file can be read");
    assert!(read.findings.is_empty(), "{:?}", read.findings);
    true
}
