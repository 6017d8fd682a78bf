//! What is written and said when all orders are done.

use super::super::{Failure, Outcome};
use super::folder::Folder;
use super::lists::{self, Written};
use super::tell::Teller;
use super::{Batch, Finished};
use crate::diagnostic::counted;
use std::fmt::Write as _;

/// Files that are named where many are alike.
const NAMED: usize = 5;

impl Finished<'_> {
    /// Writes the lists and says what the day came to.
    pub(super) fn end(
        self,
        args: &Batch,
        folder: &Folder,
        teller: &Teller,
    ) -> Result<Outcome, Failure> {
        let Self { ready, sums, one, table } = self;
        let counts = &sums.counts;
        let mut written = Written::default();
        match one {
            Some(one) if counts.drawn > 0 => one.finish(folder, &mut written)?,
            Some(one) => teller.say(&format!("{} was not written", one.name)),
            None => {}
        }
        let wording = ready.onto.wording;
        written.hardware(folder, &sums.tally, wording)?;
        let mut lacks = false;
        if let Some(stock) = &ready.stock {
            let allowances = args.allowances.allowances();
            lacks = written.plan(folder, &sums.cuts, stock, &allowances, teller)?;
        }
        written.settle(folder, lists::SUMMARY, table.close()?)?;
        let earlier = folder.close()?;
        let Written { files, in_the_way } = written;

        let shown = args.output.display();
        let mut parts = vec![format!("{} drawn", counts.drawn)];
        if counts.kept > 0 {
            parts.push(format!("{} of them there already", counts.kept));
        }
        for (n, what) in [
            (counts.refused, "not drawn"),
            (counts.in_the_way, "with another file in their place"),
            (counts.failed, "failed"),
        ] {
            if n > 0 {
                parts.push(format!("{n} {what}"));
            }
        }
        teller.say(&format!(
            "{}: {}; {} in {shown}, with {}",
            counted(counts.orders, "order"),
            parts.join(", "),
            counted(counts.sheets, "sheet"),
            files.join(", "),
        ));
        if !earlier.is_empty() {
            teller.say(&format!("still there from earlier: {}", named(&earlier)));
        }
        if counts.drawn > 0 {
            teller.say(sums.tally.text(wording).trim_end());
            teller.caution(sums.scaling.as_ref());
        }
        teller.end(counts, &sums.tally, wording, files)?;
        let taken = counts.in_the_way + in_the_way.len();
        if taken > 0 {
            let (are, them) = if taken == 1 { ("is", "it") } else { ("are", "them") };
            let lists = if in_the_way.is_empty() {
                String::new()
            } else {
                format!(" ({})", named(&in_the_way))
            };
            return Err(Failure::Machine(format!(
                "{taken} of the files in {shown}{lists} {are} not what this batch made \
                 and {are} left alone: give --force to replace {them}"
            )));
        }
        if counts.failed > 0 {
            return Err(Failure::Machine(format!(
                "{} of the orders could not be drawn: please report them",
                counts.failed
            )));
        }
        Ok(if lacks || counts.refused > 0 { Outcome::Forbidden } else { Outcome::Done })
    }
}

fn named(all: &[String]) -> String {
    let mut text = all.iter().take(NAMED).cloned().collect::<Vec<_>>().join(", ");
    if all.len() > NAMED {
        let _ = write!(text, " and {} more", all.len() - NAMED);
    }
    text
}
