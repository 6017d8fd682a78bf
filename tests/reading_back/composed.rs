//! `check` and `draw` agree on every job: what no rule refuses is drawn and reads back clean.

use super::drawn::words;
use crate::common::composed::composed;
use crate::common::random::Random;
use strapwright::diagnostic::forbids_print;
use strapwright::paginate::Paper;
use strapwright::print::{PrintError, PrintOptions, draw_pdf, paginate_job};
use strapwright::words::Wording;
use strapwright::{Prepared, prepare};

/// Draws a composed job as `draw` does. Whether it was drawn, or why it should have been.
fn drawn(seed: u64) -> Result<bool, String> {
    let mut random = Random::new(seed);
    let (job, paper) = composed(&mut random);
    let Prepared { findings, laid, .. } = prepare("job.toml", &job, &[]);
    let Some(laid) = laid.filter(|_| !forbids_print(&findings)) else { return Ok(false) };
    let paper = Paper::parse(paper).map_err(|why| why.clone())?;
    let options = PrintOptions {
        paper: &paper,
        correction: None,
        measuring: strapwright::fit::MeasurementUncertainty::default(),
        wording: Wording::default(),
        with_ticket: random.one_in(2),
    };
    let Ok(set) = paginate_job(&laid, &options) else { return Ok(false) };
    match draw_pdf(&set, &laid.2, &[]) {
        Ok(_) => Ok(true),
        Err(PrintError::Differs(found)) => {
            Err(format!("{seed} on {}:\n{job}\n{}", set.paper, words(&found)))
        }
        // Letters that the typeface lacks, say, are no fault of the reading.
        Err(why) => Err(format!("{seed}: {why}\n{job}")),
    }
}

/// `COMPOSED=20000` makes a long run of it.
#[test]
fn what_check_allows_is_drawn() {
    let count =
        std::env::var("COMPOSED").ok().and_then(|n| n.parse().ok()).unwrap_or(150);
    let all: Vec<Result<bool, String>> = (0..count).map(drawn).collect();
    let refused: Vec<&String> = all.iter().filter_map(|r| r.as_ref().err()).collect();
    let drawn = all.iter().filter(|r| **r == Ok(true)).count();
    println!("{count} composed, {drawn} drawn, {} refused", refused.len());
    assert!(refused.is_empty(), "{} refused, the first:\n{}", refused.len(), refused[0]);
    assert!(drawn * 4 > all.len(), "only {drawn} of {count} were drawn");
}
