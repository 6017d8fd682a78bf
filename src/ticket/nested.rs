//! The ticket of sizes that are drawn into each other: what all have in common once, and the
//! readings of each.

use super::{
    Body, Part, Table, Ticket, TicketInput, hardware, marks, served, ticket, tools, work,
};
use crate::geom::{Extent, Length};
use crate::layout::{Layout, Mark};
use crate::words::Word;

/// Writes one ticket for `sizes`, each with its label, the smallest first. What is counted
/// is counted for one strap, since only one is cut.
pub fn nested(sizes: &[(&str, TicketInput<'_>)], range: &str) -> Option<Ticket> {
    let (_, largest) = sizes.last()?;
    let wording = largest.wording;
    let lines = |heading: Word, lines: Vec<String>| Part {
        heading: wording.say(heading).to_owned(),
        body: Body::Lines(lines),
    };
    let labels: Vec<&str> = sizes.iter().map(|(label, _)| *label).collect();
    let mut parts = vec![lines(
        Word::Measure,
        vec![wording.fill(Word::NestedSizes, &[&range]), labels.join(", ")],
    )];
    parts.extend(cut(sizes));
    parts.extend(served_by_each(sizes));
    parts.extend(readings(sizes));
    parts.extend(tools::tools(largest));
    parts.extend(hardware::part(largest));
    parts.extend([
        work::checks(largest),
        work::order(largest, true),
        work::cautions(largest),
    ]);
    Some(Ticket { parts, ..ticket(largest) })
}

/// The pieces to cut: those that all sizes have alike once, the others size by size.
fn cut(sizes: &[(&str, TicketInput<'_>)]) -> Option<Part> {
    let tables: Vec<(&str, Part, Table)> = sizes
        .iter()
        .flat_map(|(label, input)| {
            super::pieces(input).into_iter().filter_map(|part| match part.body.clone() {
                Body::Table(table) => Some((*label, part, table)),
                _ => None,
            })
        })
        .collect();
    let wording = sizes.first()?.1.wording;
    let (_, part, first) = tables.first()?;
    let is_common = |row: &Vec<String>| tables.iter().all(|(.., t)| t.rows.contains(row));
    let mut rows = Vec::new();
    for (label, _, table) in &tables {
        for row in table.rows.iter().filter(|r| !is_common(r)) {
            let mut own = row.clone();
            if let Some(name) = own.first_mut().filter(|name| !name.is_empty()) {
                *name = wording.said(label, name);
            }
            rows.push(own);
        }
    }
    rows.extend(first.rows.iter().filter(|r| is_common(r)).cloned());
    let table = Table { head: first.head.clone(), rows };
    Some(Part { heading: part.heading.clone(), body: Body::Table(table) })
}

/// What each size serves, a line each.
fn served_by_each(sizes: &[(&str, TicketInput<'_>)]) -> Option<Part> {
    let heading = sizes.iter().find_map(|(_, s)| served(s).into_iter().next())?.heading;
    let line = |(label, input): &(&str, TicketInput<'_>)| {
        let TicketInput { job, fit, layout, wording } = *input;
        let holes = || layout.size_holes().map(|m| m.at.x);
        let girth = |x: Option<Length>| Some(fit?.girth_at(x?));
        let girths = girth(holes().min()).zip(girth(holes().max()));
        let (least, most) = girths.or_else(|| layout.serves(job))?;
        let [least, most] = [least, most].map(|l| wording.length(l, 0));
        let range = if least == most { least } else { format!("{least} – {most}") };
        Some(wording.said(label, &range))
    };
    let lines = sizes.iter().filter_map(line).collect();
    Some(Part { heading, body: Body::Lines(lines) })
}

/// The tape readings: of the marks that all sizes have at the same place, then of each size.
fn readings(sizes: &[(&str, TicketInput<'_>)]) -> Vec<Part> {
    let shared = |piece: usize, mark: &Mark| {
        sizes.iter().all(|(_, s)| {
            let pieces = &s.layout.pieces;
            pieces.get(piece).is_some_and(|p| {
                let there = Extent { from: mark.at.x, to: mark.at.x };
                let same = |m: &Mark| {
                    m.feature == mark.feature
                        && m.kind == mark.kind
                        && m.shape == mark.shape
                        && m.at == mark.at
                        && m.role == mark.role
                };
                p.marks_between(there).iter().any(same)
            })
        })
    };
    let only = |layout: &Layout, wanted: bool| {
        let mut part = layout.clone();
        for (i, piece) in part.pieces.iter_mut().enumerate() {
            piece.marks.retain(|m| shared(i, m) == wanted);
        }
        part
    };
    let told = |input: &TicketInput<'_>, wanted: bool| {
        let layout = only(input.layout, wanted);
        marks::parts(&TicketInput { layout: &layout, ..*input })
    };
    let mut parts: Vec<Part> =
        sizes.first().map(|(_, first)| told(first, true)).unwrap_or_default();
    for (label, input) in sizes {
        let size = input.wording.fill(Word::OneSize, &[label]);
        let own = told(input, false);
        // Where they count from, the first heading has said.
        let is_said = !parts.is_empty() && own.len() == 1;
        parts.extend(own.into_iter().map(|part| {
            let full = || input.wording.said(&size, &part.heading);
            Part { heading: if is_said { size.clone() } else { full() }, ..part }
        }));
    }
    parts
}
