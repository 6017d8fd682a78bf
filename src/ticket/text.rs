//! The ticket as plain text, for a terminal.

use super::{Body, Part, Table, Ticket};
use std::fmt::Write as _;

/// The whole ticket, each part under its heading.
pub fn text(ticket: &Ticket) -> String {
    let mut text = ticket.title.clone();
    if !ticket.wearer.is_empty() {
        let _ = write!(text, " {}", ticket.wearer);
    }
    text.push('\n');
    for part in &ticket.parts {
        text.push('\n');
        write_part(part, &mut text);
    }
    text
}

fn write_part(part: &Part, text: &mut String) {
    if !part.heading.is_empty() {
        let _ = writeln!(text, "{}", part.heading);
    }
    match &part.body {
        Body::Lines(lines) => {
            for line in lines {
                let _ = writeln!(text, "  {line}");
            }
        }
        Body::Steps(steps) => {
            for (i, step) in steps.iter().enumerate() {
                let _ = writeln!(text, "  {}. {step}", i + 1);
            }
        }
        Body::Checks(checks) => {
            for check in checks {
                let _ = writeln!(text, "  [ ] {check}");
            }
        }
        Body::Table(table) | Body::Marks(table) => write_table(table, text),
    }
}

/// Columns as wide as their widest cell, two blanks apart.
pub(crate) fn write_table(table: &Table, text: &mut String) {
    let mut widths = vec![0; table.head.len()];
    for row in table.lines() {
        for (width, cell) in widths.iter_mut().zip(row) {
            *width = (*width).max(cell.chars().count());
        }
    }
    let numeric: Vec<bool> = (0..widths.len()).map(|c| table.is_numeric(c)).collect();
    for row in table.lines() {
        let mut line = String::new();
        for ((cell, &width), &numeric) in row.iter().zip(&widths).zip(&numeric) {
            let _ = if numeric {
                write!(line, "  {cell:>width$}")
            } else {
                write!(line, "  {cell:<width$}")
            };
        }
        let _ = writeln!(text, "{}", line.trim_end());
    }
}
