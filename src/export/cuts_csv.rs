//! The cutting plan, for spreadsheets and machines.

use super::marks_csv::exact_mm;
use super::{cell, csv};
use crate::cutting::{Cut, Laid, Lane, Plan};
use crate::geom::Length;

const HEADER: [&str; 13] = [
    "stock",
    "kind",
    "number",
    "lane",
    "use",
    "from_mm",
    "to_mm",
    "length_mm",
    "width_mm",
    "thickness_mm",
    "count",
    "order",
    "piece",
];

/// The plan of `cuts` as CSV: a header, then for each lane of each opened strip one row a
/// piece from its end on (`use` is `cut`) and one for what is left of it (`offcut`), and for
/// each strip one for what is ripped off beside its lanes (`rest`); then what stays whole
/// (`whole`), and the pieces that have no strip (`lacking`). `number` tells strips of one
/// entry of the stock apart; `lane` counts from 1, from one edge of the strip. Millimetres are
/// exact, with three to six decimals; what a row does not have stays empty. Names are
/// [`cell`]s.
pub fn cuts(plan: &Plan, cuts: &[Cut]) -> String {
    let mut rows = Vec::new();
    let mut write = |row: [&str; 13]| rows.push(row.map(ToOwned::to_owned));
    write(HEADER);
    for strip in &plan.strips {
        let (name, kind) = (&cell(&strip.name), strip.kind.word());
        let number = strip.number.to_string();
        let thickness = exact_mm(strip.thickness);
        // A row from one place along the strip to another.
        let mut part = |lane: &str,
                        part: &str,
                        [from, to, width]: [Length; 3],
                        [order, piece]: [&str; 2]| {
            let length = exact_mm(to - from);
            let [from, to, width] = [from, to, width].map(exact_mm);
            write([
                name, kind, &number, lane, part, &from, &to, &length, &width, &thickness,
                "1", order, piece,
            ]);
        };
        for (lane, Lane { width, cuts: laid, offcut }) in (1..).zip(&strip.lanes) {
            let lane = format!("{lane}");
            for Laid { cut, from, to, rip } in laid {
                let Some(Cut { order, piece, .. }) = cuts.get(*cut) else { continue };
                let place = [*from, *to, rip.unwrap_or(*width)];
                part(&lane, "cut", place, [&cell(order), &cell(piece)]);
            }
            if *offcut > Length::ZERO {
                let place = [strip.length - *offcut, strip.length, *width];
                part(&lane, "offcut", place, [""; 2]);
            }
        }
        if strip.rest > Length::ZERO {
            part("", "rest", [Length::ZERO, strip.length, strip.rest], [""; 2]);
        }
    }
    for whole in &plan.unopened {
        let (length, width) = (exact_mm(whole.length), exact_mm(whole.width));
        let (thickness, count) = (exact_mm(whole.thickness), whole.count.to_string());
        let (name, kind) = (&cell(&whole.name), whole.kind.word());
        write([
            name, kind, "", "", "whole", "", "", &length, &width, &thickness, &count, "",
            "",
        ]);
    }
    for cut in plan.lacking.iter().filter_map(|&i| cuts.get(i)) {
        let (length, width) = (exact_mm(cut.length), exact_mm(cut.width));
        let thickness = exact_mm(cut.thickness);
        let (order, piece) = (&cell(&cut.order), &cell(&cut.piece));
        write([
            "", "", "", "", "lacking", "", "", &length, &width, &thickness, "1", order,
            piece,
        ]);
    }
    csv(rows)
}
