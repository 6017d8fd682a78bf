//! `draw --nested`: every size of the stock on one strap.

use super::draw::Draw;
use super::prepare::source;
use super::ready::{Stop, outcome, span, stock};
use super::{Failure, Outcome, files, print, terminal};
use crate::layout::{Layout, nest};
use crate::paginate::{Heading, Paper, Request, Stocked};
use std::path::PathBuf;

pub(super) fn run(args: &Draw) -> Result<Outcome, Failure> {
    outcome(draw(args))
}

fn draw(args: &Draw) -> Result<(), Stop> {
    let paper = Paper::parse(&args.paper).map_err(Failure::Usage)?;
    let source = source(&args.job)?;
    let path = args
        .output
        .clone()
        .unwrap_or_else(|| PathBuf::from(format!("{}-nested.pdf", source.stem)));
    if path.as_os_str() != "-" {
        files::must_be_free(&path, args.force)?;
    }
    let sizes = stock(&source)?;
    let first = &sizes[0];
    let layouts: Vec<(&str, &Layout)> =
        sizes.iter().map(|s| (s.label(), &s.laid.2)).collect();
    let nest = nest(&layouts).map_err(|findings| first.refuse_all(&findings))?;
    let stocked = Stocked::Nested(span(&sizes));
    let heading = Heading { serves: String::new(), stocked, ..first.heading.clone() };
    let request =
        Request { rows: &nest.rows, ..Request::new(&nest.layout, &heading, &paper) };
    let set = first.sheets(&request)?;
    first.warn(&set);
    print::write(&set, &path, args.force)?;
    for size in &sizes {
        terminal::say(&format!("size {}: {}", size.label(), size.heading.serves));
    }
    terminal::say(&print::line(&set, &path));
    terminal::say(
        "Choose one size: punch the holes of its row, cut along its tip, and leave the \
         others alone.",
    );
    terminal::say(print::CAUTION);
    Ok(())
}
