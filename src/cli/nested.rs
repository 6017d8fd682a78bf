//! `draw --nested`: every size of the stock on one strap.

use super::draw::Draw;
use super::onto::Onto;
use super::prepare::source;
use super::print::{self, Target};
use super::ready::{Ready, Stop, onto, outcome, size_range, stock};
use super::{Failure, Outcome, measure, terminal};
use crate::layout::{Layout, Nest, nest};
use crate::paginate::{Heading, PrintedSizes, Request, SheetSet};
use crate::ticket::{TicketInput, nested};
use crate::words::Wording;

pub(super) fn run(args: &Draw) -> Result<Outcome, Failure> {
    outcome(draw(args))
}

fn draw(args: &Draw) -> Result<(), Stop> {
    let source = source(&args.job)?;
    let onto = onto(&args.onto)?;
    let stem = format!("{}-nested", source.stem);
    let target = Target::new(args.output.as_deref(), &stem, args.force)?;
    let sizes = stock(&source, onto.wording)?;
    let first = &sizes[0];
    let with_ticket = !args.no_ticket && target.takes_ticket();
    let (set, nest) = sheets(&sizes, &onto, with_ticket, args.whole)?;
    first.warn(&set);
    target.must_be_free(&set)?;
    let read_back = target.write(&set, &nest.layout, &nest.rows)?;
    // The words on the terminal are English, whatever those on paper are.
    let plain = Wording { units: onto.wording.units, ..Wording::default() };
    for size in &sizes {
        let (job, fit, layout) = &size.laid;
        let serves = Heading::with_wording(job, fit.as_ref(), layout, plain).serves;
        terminal::say(&format!("size {}: {serves}", size.label()));
    }
    for line in measure::checks(&set, onto.measuring, onto.wording.units) {
        terminal::say(&line);
    }
    print::say(&set, &target, &read_back);
    terminal::say(
        "Choose one size: punch the holes of its row, cut along its tip, and leave the \
         others alone.",
    );
    Ok(())
}

/// The sheets of all sizes on one strap, on `onto` or whole on one page.
pub(super) fn sheets(
    sizes: &[Ready],
    onto: &Onto,
    with_ticket: bool,
    whole: bool,
) -> Result<(SheetSet, Nest), Stop> {
    let first = &sizes[0];
    let layouts: Vec<(&str, &Layout)> =
        sizes.iter().map(|s| (s.label(), &s.laid.2)).collect();
    let nest = nest(&layouts).map_err(|findings| first.refuse_all(&findings))?;
    let onto = if whole { onto.on_whole(&nest.layout) } else { onto.clone() };
    let printed = PrintedSizes::Nested(size_range(sizes));
    let heading =
        Heading { serves: String::new(), sizes: printed, ..first.heading.clone() };
    let inputs: Vec<(&str, TicketInput<'_>)> =
        sizes.iter().map(|s| (s.label(), s.input())).collect();
    let ticket = nested(&inputs, &size_range(sizes)).filter(|_| with_ticket);
    let request = Request {
        rows: &nest.rows,
        ticket: ticket.as_ref(),
        ..onto.request(&nest.layout, &heading)
    };
    let set = first.sheets(&request)?;
    Ok((set, nest))
}
