//! The cutting plan, for spreadsheets and machines.

use super::marks_csv::exact_mm;
use super::{ExportError, cell};
use crate::cutting::{Cut, Plan};
use crate::geom::Length;

const HEADER: [&str; 12] = [
    "stock",
    "kind",
    "number",
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

/// The plan of `cuts` as CSV: a header, then for each opened strip one row a piece from its
/// end on (`use` is `cut`) and one for what is left of it (`offcut`); then what stays whole
/// (`whole`), and the pieces that have no strip (`lacking`). `number` tells strips of one
/// entry of the stock apart. Millimetres are exact, with three to six decimals; what a row
/// does not have stays empty. Names are [`cell`]s.
///
/// # Errors
/// [`ExportError::Write`] when the table cannot be put together.
pub fn cuts(plan: &Plan, cuts: &[Cut]) -> Result<String, ExportError> {
    let mut table = csv::Writer::from_writer(Vec::new());
    let mut write = |row: [&str; 12]| table.write_record(row).map_err(ExportError::write);
    write(HEADER)?;
    for strip in &plan.strips {
        let (name, kind) = (&cell(&strip.name), strip.kind.word());
        let number = strip.number.to_string();
        let thickness = exact_mm(strip.thickness);
        for laid in &strip.cuts {
            let (from, to) = (exact_mm(laid.from), exact_mm(laid.to));
            let length = exact_mm(laid.to - laid.from);
            let width = exact_mm(laid.rip.unwrap_or(strip.width));
            let (order, piece) = (&cell(&laid.order), &cell(&laid.piece));
            write([
                name, kind, &number, "cut", &from, &to, &length, &width, &thickness, "1",
                order, piece,
            ])?;
        }
        if strip.offcut > Length::ZERO {
            let from = exact_mm(strip.length - strip.offcut);
            let (to, length) = (exact_mm(strip.length), exact_mm(strip.offcut));
            let width = exact_mm(strip.width);
            write([
                name, kind, &number, "offcut", &from, &to, &length, &width, &thickness,
                "1", "", "",
            ])?;
        }
    }
    for whole in &plan.unopened {
        let (length, width) = (exact_mm(whole.length), exact_mm(whole.width));
        let (thickness, count) = (exact_mm(whole.thickness), whole.count.to_string());
        let (name, kind) = (&cell(&whole.name), whole.kind.word());
        write([
            name, kind, "", "whole", "", "", &length, &width, &thickness, &count, "", "",
        ])?;
    }
    for cut in plan.lacking.iter().filter_map(|&i| cuts.get(i)) {
        let (length, width) = (exact_mm(cut.length), exact_mm(cut.width));
        let thickness = exact_mm(cut.thickness);
        let (order, piece) = (&cell(&cut.order), &cell(&cut.piece));
        write([
            "", "", "", "lacking", "", "", &length, &width, &thickness, "1", order, piece,
        ])?;
    }
    let bytes = table.into_inner().map_err(ExportError::write)?;
    String::from_utf8(bytes).map_err(ExportError::write)
}
