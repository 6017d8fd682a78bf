//! Composed jobs: what no rule of `check` refuses is drawn, and reads back clean.

use super::Target;
use crate::common::composed::composed;
use crate::common::random::Random;
use strapwright::diagnostic::forbids_print;
use strapwright::fit::MeasurementUncertainty;
use strapwright::paginate::Paper;
use strapwright::print::{PrintOptions, draw_pdf, paginate_job};
use strapwright::words::Wording;
use strapwright::{Prepared, prepare};

pub(crate) const TARGET: Target = Target { name: "composed", weight: 4, input, run };

fn input(random: &mut Random) -> Vec<u8> {
    let (job, paper) = composed(random);
    format!("{paper}\n{job}").into_bytes()
}

fn run(input: &[u8]) -> bool {
    let text = std::str::from_utf8(input).unwrap();
    let (paper, job) = text.split_once('\n').unwrap();
    let Prepared { findings, laid, .. } = prepare("job.toml", job, &[]);
    let Some(laid) = laid.filter(|_| !forbids_print(&findings)) else { return false };
    let options = PrintOptions {
        paper: &Paper::parse(paper).unwrap(),
        correction: None,
        measuring: MeasurementUncertainty::default(),
        wording: Wording::default(),
        with_ticket: false,
    };
    let Ok(set) = paginate_job(&laid, &options) else { return false };
    draw_pdf(&set, &laid.2, &[]).expect("what check allows is drawn");
    true
}
