//! Whether the sheets are one whole print in order, each upright, on its paper and to
//! scale.

use super::page;
use super::report::{ANEW, error};
use super::sheet::{Axis, BAR, Bar, Sheet};
use crate::diagnostic::{Finding, numbered};
use crate::verify::rule;
use std::collections::{BTreeMap, BTreeSet};

/// The sheets of one print.
#[derive(Debug)]
pub(super) struct Set {
    /// In the order of their numbers, each once.
    pub(super) sheets: Vec<Sheet>,
    pub(super) print: String,
    /// Whether all are there.
    pub(super) complete: bool,
    pub(super) findings: Vec<Finding>,
}

/// Sorts out the sheets of the print that most pages are of. `asked` are the numbers that
/// should be there; none for all.
pub(super) fn sorted(sheets: Vec<Sheet>, asked: &[usize]) -> Set {
    let mut prints: BTreeMap<(String, usize), Vec<usize>> = BTreeMap::new();
    for sheet in &sheets {
        let key = (sheet.title.print.clone(), sheet.title.count);
        prints.entry(key).or_default().push(sheet.page);
    }
    let most = prints.iter().max_by_key(|(_, pages)| {
        (pages.len(), std::cmp::Reverse(pages.first().copied()))
    });
    let Some(((print, count), _)) = most.map(|(k, v)| (k.clone(), v.clone())) else {
        let none = error(
            rule::NO_SHEETS,
            "no page of the file is a sheet of a strap".to_owned(),
        )
        .expected(
            "no page with the words `sheet 1/2` and the name of a print",
            "such pages",
        )
        .remedy("give a file that `strapwright draw` wrote, with its words as text");
        let findings = vec![none];
        return Set { sheets, print: String::new(), complete: false, findings };
    };
    let mut findings = Vec::new();
    if prints.len() > 1 {
        let named = prints.iter().map(|((print, count), pages)| {
            let of = if *count > 0 { format!(" of {count}") } else { String::new() };
            format!("{print}{of} on {}", numbered("page", pages.iter().copied()))
        });
        let named: Vec<String> = named.collect();
        findings.push(
            error(rule::PRINTS_MIXED, "sheets of different prints are mixed".to_owned())
                .expected(named.join("; "), "the sheets of one print")
                .remedy(
                    "take the pages out that are not of this print, or draw the job anew",
                ),
        );
    }
    let of_print = |s: &Sheet| s.title.print == print && s.title.count == count;
    let mut own: Vec<Sheet> = sheets.into_iter().filter(of_print).collect();
    let numbers: Vec<usize> = own.iter().map(|s| s.title.number).collect();
    let mut there = BTreeSet::new();
    let twice: Vec<usize> =
        numbers.iter().copied().filter(|n| !there.insert(*n)).collect();
    if !twice.is_empty() {
        let message = format!("{} is there more than once", numbered("sheet", twice));
        findings.push(
            error(rule::SHEET_TWICE, message)
                .expected(order(&numbers), "each sheet once")
                .remedy("take the copies out"),
        );
    }
    // Those that a reprint goes with are in an earlier file.
    let kept: BTreeSet<usize> = own.iter().flat_map(|s| s.title.kept.clone()).collect();
    let wanted: BTreeSet<usize> = if asked.is_empty() {
        (1..=count).filter(|n| !kept.contains(n)).collect()
    } else {
        asked.iter().copied().collect()
    };
    let missing: Vec<usize> = wanted.difference(&there).copied().collect();
    if !missing.is_empty() {
        let message =
            format!("{} of print {print} is not there", numbered("sheet", missing));
        findings.push(
            error(rule::SHEET_MISSING, message)
                .expected(order(&numbers), numbered("sheet", wanted))
                .remedy("draw the job anew, or say which sheets there should be with --sheets"),
        );
    }
    if !numbers.is_sorted() {
        findings.push(
            error(rule::SHEET_ORDER, "the sheets are not in their order".to_owned())
                .expected(order(&numbers), "rising numbers")
                .remedy(
                    "put the pages in order, so that they come out of the printer so",
                ),
        );
    }
    own.sort_by_key(|s| s.title.number);
    own.dedup_by_key(|s| s.title.number);
    let complete = own.len() == count;
    Set { sheets: own, print, complete, findings }
}

fn order(numbers: &[usize]) -> String {
    let numbers: Vec<String> = numbers.iter().map(ToString::to_string).collect();
    format!("sheets in the order {}", numbers.join(", "))
}

/// What is wrong with single sheets.
pub(super) fn sheets(sheets: &[Sheet]) -> Vec<Finding> {
    let mut all = Vec::new();
    for sheet in sheets {
        let number = sheet.title.number;
        if let Some(how) = &sheet.turned {
            all.push(
                error(rule::SHEET_TURNED, format!("sheet {number} is {how}"))
                    .expected(format!("words that run {how}"), "words from left to right")
                    .remedy("turn the page back, and look at the print settings"),
            );
        }
        all.extend(page::held(sheet));
        for axis in [Axis::Width, Axis::Height] {
            all.extend(bars(sheet, axis));
        }
    }
    for axis in [Axis::Width, Axis::Height] {
        all.extend(scaled(sheets, axis));
    }
    all
}

fn bars(sheet: &Sheet, axis: Axis) -> Vec<Finding> {
    let number = sheet.title.number;
    let own: Vec<&Bar> = sheet.bars.iter().filter(|b| b.axis == axis).collect();
    if !own.iter().any(|b| b.is_metric()) {
        let message =
            format!("sheet {number} has no scale bar along its {}", axis.word());
        return vec![
            error(rule::BAR_MISSING, message)
                .expected("no line with ticks and numerals in mm", "one along each edge")
                .remedy(ANEW),
        ];
    }
    let mut all = Vec::new();
    for bar in own {
        // A bar may be off with all of its sheet, or be true where the sheet is not: then it
        // is not the bar that is wrong.
        let off_by = |scale: f64| (bar.drawn / scale - bar.claim).abs();
        let off = off_by(axis.of(sheet.scale)).min(off_by(1.0));
        if off <= BAR && bar.uneven <= BAR {
            continue;
        }
        let message = format!(
            "the scale bar along the {} of sheet {number} is not what its numerals say",
            axis.word()
        );
        let found = if off > BAR {
            format!("{:.3} mm to the numeral `{}`", bar.drawn, bar.says)
        } else {
            format!("a tick {:.3} mm from where the others have it", bar.uneven)
        };
        all.push(
            error(rule::BAR_OFF, message)
                .expected(found, format!("{:.3} mm", bar.claim))
                .remedy(ANEW),
        );
    }
    all
}

/// Sheets that are not at full scale, those with the same error together.
fn scaled(sheets: &[Sheet], axis: Axis) -> Vec<Finding> {
    let mut groups: BTreeMap<String, Vec<&Sheet>> = BTreeMap::new();
    for sheet in sheets {
        let factor = axis.of(sheet.scale);
        if (factor - 1.0).abs() * axis.of(sheet.size) > BAR {
            groups.entry(format!("{factor:.5}")).or_default().push(sheet);
        }
    }
    let one = |(factor, own): (String, Vec<&Sheet>)| {
        let numbers = numbered("sheet", own.iter().map(|s| s.title.number));
        let are = if own.len() == 1 { "is" } else { "are" };
        let message =
            format!("{numbers} {are} not drawn at full scale along the {}", axis.word());
        let bar =
            own.iter().flat_map(|s| &s.bars).find(|b| b.axis == axis && b.is_metric());
        let bar = bar.map_or(String::new(), |b| {
            let shown = (b.factor() - 1.0).abs() * b.claim > BAR;
            if shown {
                format!("; its bar of {} measures {:.2} mm", b.says, b.drawn)
            } else {
                format!("; its bar of {} does not show it", b.says)
            }
        });
        error(rule::SHEET_SCALED, message)
            .expected(format!("{factor} of full scale{bar}"), "1")
            .remedy("print or save with no fitting to the page; do not cut or punch by this file")
    };
    groups.into_iter().map(one).collect()
}
