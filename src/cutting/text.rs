//! The plan as plain text, for a terminal.

use super::{Cut, Kind, Laid, Lane, Opened, Plan, Stock};
use crate::diagnostic::counted;
use crate::geom::Length;
use crate::ticket::{Table, write_table};
use crate::words::Wording;
use std::fmt::Write as _;

/// The whole plan of `cuts`, strip by strip.
pub fn text(plan: &Plan, cuts: &[Cut], wording: Wording) -> String {
    let pieces = counted(cuts.len() - plan.lacking.len(), "piece");
    let strips = plan.strips.iter().filter(|s| s.kind == Kind::Strip).count();
    let from = match (strips, plan.strips.len() - strips) {
        (strips, 0) => counted(strips, "strip"),
        (0, blanks) => counted(blanks, "blank"),
        (strips, blanks) => {
            format!("{} and {}", counted(strips, "strip"), counted(blanks, "blank"))
        }
    };
    let mut text = format!("Cutting plan: {pieces} from {from}\n");
    for strip in &plan.strips {
        write_strip(strip, cuts, wording, &mut text);
    }
    if !plan.lacking.is_empty() {
        text.push_str("\nNothing to cut from\n");
        let row = |&cut: &usize| {
            let Cut { order, piece, length, .. } = &cuts[cut];
            vec![order.clone(), piece.clone(), wording.both(*length)]
        };
        let rows = plan.lacking.iter().map(row).collect();
        write_table(&Table::new(["order", "piece", "length"], rows), &mut text);
    }
    if !plan.unopened.is_empty() {
        text.push_str("\nNot opened\n");
        let row = |u: &Stock| {
            vec![
                u.name.clone(),
                u.kind.word().to_owned(),
                u.count.to_string(),
                wording.both(u.length),
                u.width.plain_mm(),
                u.thickness.plain_mm(),
            ]
        };
        let rows = plan.unopened.iter().map(row).collect();
        let head = ["name", "", "number", "length", "width mm", "thickness mm"];
        write_table(&Table::new(head, rows), &mut text);
    }
    if plan.lacking.is_empty() && !plan.strips.is_empty() {
        let (whole, tenth) = (plan.at_most_less / 10, plan.at_most_less % 10);
        let in_lanes = if plan.in_lanes { " in such lanes" } else { "" };
        let _ = if plan.at_most_less == 0 {
            writeln!(text, "\nNo plan{in_lanes} opens less leather.")
        } else {
            writeln!(
                text,
                "\nAnother plan{in_lanes} may open less leather, by {whole}.{tenth} % at most."
            )
        };
    }
    text
}

/// One strip with its lanes, and what is left of them.
fn write_strip(strip: &Opened, all: &[Cut], wording: Wording, text: &mut String) {
    let Opened { name, kind, number, count, length, width, thickness, lanes, rest } =
        strip;
    let _ = writeln!(
        text,
        "\n{name}, {} {number} of {count}: {} long, {} x {} mm",
        kind.word(),
        wording.both(*length),
        width.plain_mm(),
        thickness.plain_mm(),
    );
    let mm = |width: Length| format!("{} mm", width.plain_mm());
    let is_several = lanes.len() > 1;
    if strip.is_ripped() {
        let widths: Vec<String> = lanes.iter().map(|l| mm(l.width)).collect();
        let side_by_side = if is_several { "lanes side by side" } else { "a lane" };
        let _ = writeln!(text, "  rip into {side_by_side}: {}", widths.join(" + "));
    }
    let is_narrower = lanes.iter().flat_map(|l| &l.cuts).any(|c| c.rip.is_some());
    let mut head = vec!["from mm", "to mm", "from inches", "to inches", "order", "piece"];
    head.extend(is_narrower.then_some("rip to"));
    head.splice(0..0, is_several.then_some("lane"));
    let mut rows = Vec::new();
    for (number, lane) in (1..).zip(lanes) {
        for Laid { cut, from, to, rip } in &lane.cuts {
            let Cut { order, piece, .. } = &all[*cut];
            let inches = |l: &Length| l.tape_32().to_string();
            let mut row = vec![from.mm(1), to.mm(1), inches(from), inches(to)];
            row.extend([order.clone(), piece.clone()]);
            row.extend(is_narrower.then(|| rip.map(mm).unwrap_or_default()));
            row.splice(0..0, is_several.then(|| format!("{number}")));
            rows.push(row);
        }
    }
    write_table(&Table::new(head, rows), text);
    for (number, Lane { width, offcut, .. }) in (1..).zip(lanes) {
        text.push_str("  left");
        if is_several {
            let _ = write!(text, " of lane {number}");
        }
        let _ = match *offcut {
            Length::ZERO => writeln!(text, ": nothing"),
            _ if !strip.is_ripped() => writeln!(text, ": {}", wording.both(*offcut)),
            _ => writeln!(text, ": {}, {} wide", wording.both(*offcut), mm(*width)),
        };
    }
    if *rest > Length::ZERO {
        let _ =
            writeln!(text, "  ripped off: {}, {} wide", wording.both(*length), mm(*rest));
    }
}
