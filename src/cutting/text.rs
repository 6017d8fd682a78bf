//! The plan as plain text, for a terminal.

use super::{Cut, Kind, Opened, Plan};
use crate::diagnostic::counted;
use crate::geom::Length;
use crate::ticket::{Table, write_table};
use std::fmt::Write as _;

/// The whole plan of `cuts`, strip by strip.
pub fn text(plan: &Plan, cuts: &[Cut]) -> String {
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
        write_strip(strip, &mut text);
    }
    if !plan.lacking.is_empty() {
        text.push_str("\nNothing to cut from\n");
        let row = |&cut: &usize| {
            let Cut { order, piece, length, .. } = &cuts[cut];
            vec![order.clone(), piece.clone(), length.both()]
        };
        let rows = plan.lacking.iter().map(row).collect();
        write_table(&table(["order", "piece", "length"], rows), &mut text);
    }
    if !plan.unopened.is_empty() {
        text.push_str("\nNot opened\n");
        let row = |u: &super::Unopened| {
            vec![
                u.name.clone(),
                u.kind.word().to_owned(),
                u.count.to_string(),
                u.length.both(),
                u.width.plain_mm(),
                u.thickness.plain_mm(),
            ]
        };
        let rows = plan.unopened.iter().map(row).collect();
        let head = ["name", "", "number", "length", "width mm", "thickness mm"];
        write_table(&table(head, rows), &mut text);
    }
    if !plan.strips.is_empty() {
        text.push('\n');
        let (whole, tenth) = (plan.at_most_less / 10, plan.at_most_less % 10);
        let _ = if plan.at_most_less == 0 {
            writeln!(text, "No plan opens less leather.")
        } else {
            writeln!(
                text,
                "Another plan may open less leather, by {whole}.{tenth} % at most."
            )
        };
    }
    text
}

fn write_strip(strip: &Opened, text: &mut String) {
    let Opened { name, kind, number, of, length, width, thickness, cuts, offcut } = strip;
    let _ = writeln!(
        text,
        "\n{name}, {} {number} of {of}: {} long, {} x {} mm",
        kind.word(),
        length.both(),
        width.plain_mm(),
        thickness.plain_mm(),
    );
    let is_ripped = cuts.iter().any(|c| c.rip.is_some());
    let rows = cuts
        .iter()
        .map(|c| {
            let mut row = vec![
                c.from.mm(1),
                c.to.mm(1),
                c.from.tape_32().to_string(),
                c.to.tape_32().to_string(),
                c.order.clone(),
                c.piece.clone(),
            ];
            if is_ripped {
                let rip =
                    c.rip.map_or_else(String::new, |w| format!("{} mm", w.plain_mm()));
                row.push(rip);
            }
            row
        })
        .collect();
    let mut head = vec!["from mm", "to mm", "from inches", "to inches", "order", "piece"];
    if is_ripped {
        head.push("rip to");
    }
    write_table(&table(head, rows), text);
    let left = if *offcut > Length::ZERO { offcut.both() } else { "nothing".to_owned() };
    let _ = writeln!(text, "  left: {left}");
}

fn table<'a>(head: impl IntoIterator<Item = &'a str>, rows: Vec<Vec<String>>) -> Table {
    Table { head: head.into_iter().map(ToOwned::to_owned).collect(), rows }
}
