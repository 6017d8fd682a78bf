//! Files that `verify` reads back, with their job and without.

use super::Target;
use super::pdf_files::{file, layout};
use crate::common::random::Random;
use strapwright::verify::{Against, verify};

pub(crate) const TARGET: Target = Target { name: "pdf", weight: 4, input, run };

fn input(random: &mut Random) -> Vec<u8> {
    file(random)
}

fn run(input: &[u8]) -> bool {
    let mut is_read = false;
    for layout in [Some(layout()), None] {
        match verify(input, &Against { layout, sheets: &[] }) {
            Ok(report) => {
                assert!(report.findings.iter().all(|f| !f.remedy.is_empty()));
                assert!(!report.summary().is_empty());
                is_read = report.sheets > 0;
            }
            Err(why) => assert!(!why.to_string().is_empty()),
        }
    }
    is_read
}
