//! The ticket of a nested print: what all sizes share once, then the readings of each size.

use super::{
    Body, Part, Table, Ticket, TicketInput, closing_parts, girths, length_range, marks,
    pieces_table, served, ticket, work,
};
use crate::geom::Extent;
use crate::layout::Mark;
use crate::words::Word;

/// Writes one ticket for `sizes`, each with its label, the smallest first; `None` without a
/// size. `range` names the sizes. Tools and hardware are counted for one strap, because only
/// one is cut.
pub fn nested(sizes: &[(&str, TicketInput<'_>)], range: &str) -> Option<Ticket> {
    let (_, largest) = sizes.last()?;
    let labels: Vec<&str> = sizes.iter().map(|(label, _)| *label).collect();
    let names = vec![
        largest.wording.fill(Word::NestedSizes, &[("sizes", &range)]),
        labels.join(", "),
    ];
    let parts = [Part::new(largest, Word::Measure, Body::Lines(names)), pieces(sizes)?]
        .into_iter()
        .chain(served_by_each(sizes))
        .chain([work::checks(largest)])
        .chain(readings(sizes))
        .chain(closing_parts(largest, true));
    Some(Ticket { parts: parts.collect(), ..ticket(largest) })
}

/// The pieces to cut: those of each size, then those that all sizes share.
fn pieces(sizes: &[(&str, TicketInput<'_>)]) -> Option<Part> {
    let (_, smallest) = sizes.first()?;
    let tables: Vec<Table> = sizes.iter().map(|(_, input)| pieces_table(input)).collect();
    let is_shared = |row: &Vec<String>| tables.iter().all(|t| t.rows.contains(row));
    let mut rows = Vec::new();
    for ((label, input), table) in sizes.iter().zip(&tables) {
        for mut row in table.rows.iter().filter(|r| !is_shared(r)).cloned() {
            if !row[0].is_empty() {
                row[0] = input.wording.labelled(label, &row[0]);
            }
            rows.push(row);
        }
    }
    rows.extend(tables[0].rows.iter().filter(|r| is_shared(r)).cloned());
    let table = Table { head: tables[0].head.clone(), rows };
    Some(Part::new(smallest, Word::Pieces, Body::Table(table)))
}

/// What each size serves, one line each.
fn served_by_each(sizes: &[(&str, TicketInput<'_>)]) -> Option<Part> {
    let heading = sizes.iter().find_map(|(_, input)| served(input))?.heading;
    let line = |(label, input): &(&str, TicketInput<'_>)| {
        let TicketInput { job, fit, layout, wording } = *input;
        let [least, _, most] = girths(fit, layout);
        let range = least.zip(most).or_else(|| layout.serves(job, fit))?;
        Some(wording.labelled(label, &length_range(range, wording)))
    };
    let lines = sizes.iter().filter_map(line).collect();
    Some(Part { heading, body: Body::Lines(lines) })
}

/// The tape readings: those that all sizes share, then those of each size.
fn readings(sizes: &[(&str, TicketInput<'_>)]) -> Vec<Part> {
    let is_shared = |piece: usize, mark: &Mark| {
        let place = Extent::at(mark.at.x);
        sizes.iter().all(|(_, input)| {
            let piece = input.layout.pieces.get(piece);
            piece.is_some_and(|p| p.marks_between(place).iter().any(|m| m.is_twin(mark)))
        })
    };
    let tables = |input: &TicketInput<'_>, shared: bool| {
        let mut layout = input.layout.clone();
        for (i, piece) in layout.pieces.iter_mut().enumerate() {
            piece.marks.retain(|m| is_shared(i, m) == shared);
        }
        marks::parts(&TicketInput { layout: &layout, ..*input })
    };
    let mut parts: Vec<Part> =
        sizes.first().map(|(_, first)| tables(first, true)).unwrap_or_default();
    for (label, input) in sizes {
        let size = input.wording.fill(Word::OneSize, &[("size", label)]);
        let own = tables(input, false);
        // The first heading has said where the tape is hooked.
        let is_short = !parts.is_empty() && own.len() == 1;
        parts.extend(own.into_iter().map(|part| {
            let full = || input.wording.labelled(&size, &part.heading);
            Part { heading: if is_short { size.clone() } else { full() }, ..part }
        }));
    }
    parts
}
