//! What a batch writes and reports when all orders are done.

use super::super::{Failure, Result};
use super::lists::Lists;
use super::{Batch, Run, Totals};
use crate::diagnostic::{counted, shown_path};
use std::fmt::Write as _;

/// The most files that are listed by name.
const MAX_NAMED: usize = 5;

impl Run<'_> {
    /// Writes the lists and reports the totals.
    pub(super) fn finish(self, args: &Batch) -> Result {
        let Self { shared, reporter, merged, totals, summary, mistakes, .. } = self;
        let inputs = shared.inputs;
        let Totals { counts, hardware, cuts, pages: _ } = totals;
        let wording = inputs.setup.wording;
        let left = inputs.table.rows().count() - counts.orders;
        if let (Some(file), 1..) = (&merged, left) {
            let left = counted(left, "order");
            reporter.message(&format!(
                "{left} left: {} was not written; run the same command again",
                file.name
            ));
            return Ok(());
        }
        let mut lists = Lists::new(shared.folder);
        match merged {
            Some(file) if counts.drawn > 0 => file.finish(&mut lists)?,
            Some(file) => reporter.message(&format!("{} was not written", file.name)),
            None => {}
        }
        lists.write_hardware(&hardware, wording)?;
        let mut has_leather = true;
        if let Some(stock) = &inputs.stock {
            let allowances = args.allowances.allowances();
            has_leather =
                lists.write_plan(&cuts, stock, &allowances, wording.units, reporter)?;
        }
        lists.finish(summary)?;
        lists.finish(mistakes)?;
        let earlier = shared.folder.close()?;
        let Lists { written, in_the_way, .. } = lists;

        let folder = shown_path(&args.output);
        let mut parts = vec![format!("{} drawn", counts.drawn)];
        let others = [
            (counts.kept, "of them existed already"),
            (counts.refused, "not drawn"),
            (counts.in_the_way, "not written because of another file"),
            (counts.failed, "failed"),
        ];
        let others = others.into_iter().filter(|(n, _)| *n > 0);
        parts.extend(others.map(|(n, what)| format!("{n} {what}")));
        reporter.message(&format!(
            "{}: {}; {} in {folder}, with {}",
            counted(counts.orders, "order"),
            parts.join(", "),
            counted(counts.sheets, "sheet"),
            written.join(", "),
        ));
        if counts.assumed > 0 {
            let of = counted(counts.assumed, "drawn order");
            reporter.message(&format!(
                "{of}: measures of hardware are the template's, see `assumed` in summary.csv. \
                 Measure yours."
            ));
        }
        if left > 0 {
            let left = counted(left, "order");
            reporter.message(&format!(
                "{left} left, and not in the lists: run the same command again, and it goes on \
                 from there"
            ));
        } else if !earlier.is_empty() {
            reporter.message(&format!("still there from earlier: {}", list(&earlier)));
        }
        if counts.drawn > 0 {
            reporter.message(hardware.to_text(wording).trim_end());
            reporter.print_advice(inputs.setup.correction());
        }
        reporter.end(&counts, &hardware, wording, &written)?;
        let foreign = counts.in_the_way + in_the_way.len();
        if foreign > 0 {
            let (are, them) = if foreign == 1 { ("is", "it") } else { ("are", "them") };
            let names = if in_the_way.is_empty() {
                String::new()
            } else {
                format!(" ({})", list(&in_the_way))
            };
            return Err(Failure::System(format!(
                "{foreign} of the files in {folder}{names} {are} not what this batch made \
                 and {are} left alone: give --force to replace {them}"
            )));
        }
        if counts.failed > 0 {
            return Err(Failure::System(format!(
                "{} of the orders could not be drawn: please report them",
                counts.failed
            )));
        }
        if has_leather && counts.refused == 0 { Ok(()) } else { Err(Failure::Forbidden) }
    }
}

/// The first few names, and how many more there are.
fn list(names: &[String]) -> String {
    let mut text = names.iter().take(MAX_NAMED).cloned().collect::<Vec<_>>().join(", ");
    if names.len() > MAX_NAMED {
        let _ = write!(text, " and {} more", names.len() - MAX_NAMED);
    }
    text
}
