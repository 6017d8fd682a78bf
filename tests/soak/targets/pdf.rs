//! Files that `verify` reads back, with their job and without.

use super::Target;
use super::pdf_files::{file, layout};
use crate::common::random::Random;
use std::sync::OnceLock;
use strapwright::paginate::{Heading, Paper, Request, SheetSet, paginate};
use strapwright::verify::{Print, verify_alone, verify_print};

pub(crate) const TARGET: Target = Target { name: "pdf", weight: 2, input, run };

fn input(random: &mut Random) -> Vec<u8> {
    file(random)
}

/// The sheets of the job that all files are held against.
fn sheets() -> &'static SheetSet {
    static SET: OnceLock<SheetSet> = OnceLock::new();
    SET.get_or_init(|| {
        let (heading, paper) = (Heading::default(), Paper::parse("a4").unwrap());
        paginate(&Request::new(layout(), &heading, &paper)).unwrap()
    })
}

fn run(input: &[u8]) -> bool {
    let files = [("print.pdf", input)];
    let print = Print { set: sheets(), layout: layout() };
    let (alone, against) = (verify_alone(&files), verify_print(&files, &print, &[]));
    let mut is_read = false;
    for read in [alone, against] {
        match read {
            Ok(report) => {
                assert!(report.findings.iter().all(|f| !f.remedy.is_empty()));
                assert!(!report.summary().is_empty());
                is_read |= report.sheets > 0;
            }
            Err(why) => assert!(!why.to_string().is_empty()),
        }
    }
    is_read
}
