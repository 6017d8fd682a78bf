//! What is lacking when the stock runs out, in words.

use super::problem::Lot;
use super::solve::Solved;
use super::{Cut, Kind, Stock};
use crate::cutting::rule;
use crate::diagnostic::{Finding, Severity};
use crate::geom::Length;
use crate::job::STRAP;
use std::fmt::Write as _;

/// Pieces that are named, equal ones once.
const NAMED: usize = 6;

/// The finding about the cuts of a group that have no strip.
pub(super) fn finding(
    group: &Solved<'_>,
    lacking: &[usize],
    cuts: &[Cut],
    stock: &[Stock],
) -> Finding {
    let problem = &group.problem;
    let all: usize = problem.lots.iter().map(|l| l.cuts.len()).sum();
    let lots: Vec<usize> = {
        let mut lots = group.packing.lacking.clone();
        lots.sort_unstable();
        lots.dedup();
        lots
    };
    let first = lots.first().map_or(&problem.lots[0], |&lot| &problem.lots[lot]);
    let word = first.kind.word();
    let sizes = sizes(first.width, first.thickness);
    let n = lacking.len();
    let of_all = if n == 1 && all == 1 {
        "the piece".to_owned()
    } else if n == all {
        format!("all {n} pieces")
    } else {
        format!("{n} of {all} pieces")
    };
    let message = if group.certain {
        format!("no {word} of {sizes} is left for {of_all}")
    } else {
        format!("no plan was found in which a {word} of {sizes} is left for {of_all}")
    };
    let fits = |lot: usize| (0..problem.racks.len()).any(|r| problem.fits(lot, r));
    let found = if problem.racks.is_empty() {
        format!("no {word} of {sizes}")
    } else if lots.iter().all(|&lot| !fits(lot)) {
        let longest = problem.racks.iter().map(|r| r.length).max();
        format!("{word}s up to {}", longest.unwrap_or_default().both())
    } else {
        format!("{word}s for {} of {all} pieces", all - n)
    };
    let span = lacking.iter().find_map(|&cut| cuts[cut].span.clone());
    Finding::new(rule::STOCK_RUNS_OUT, Severity::Error, message)
        .at(span)
        .expected(found, required(lacking, cuts))
        .remedy(remedy(first, group, cuts, stock))
}

fn sizes(width: Length, thickness: Length) -> String {
    format!("{} x {} mm", width.plain_mm(), thickness.plain_mm())
}

/// The pieces by name and length, and the length of all.
fn required(lacking: &[usize], cuts: &[Cut]) -> String {
    let mut named: Vec<(String, usize)> = Vec::new();
    for &cut in lacking {
        let Cut { order, piece, length, .. } = &cuts[cut];
        let name = format!("{order}, {piece}: {}", length.both());
        if let Some((_, count)) = named.iter_mut().find(|(n, _)| *n == name) {
            *count += 1;
        } else if named.len() < NAMED {
            named.push((name, 1));
        }
    }
    let shown: usize = named.iter().map(|(_, count)| count).sum();
    let times = |n: usize| if n == 1 { String::new() } else { format!("{n} x ") };
    let mut all: Vec<String> =
        named.into_iter().map(|(name, n)| times(n) + &name).collect();
    if lacking.len() > shown {
        all.push(format!("and {} more", lacking.len() - shown));
    }
    let mut text = all.join("; ");
    if lacking.len() > 1 {
        let total: Length = lacking.iter().map(|&cut| cuts[cut].length).sum();
        let _ = write!(text, "; in all {}", total.both());
    }
    text
}

fn remedy(first: &Lot, group: &Solved<'_>, cuts: &[Cut], stock: &[Stock]) -> String {
    let problem = &group.problem;
    let allowances = problem.allowances;
    let sizes = sizes(first.width, first.thickness);
    let longest = group.packing.lacking.iter().map(|&lot| problem.lots[lot].length);
    let longest = longest.max().unwrap_or(first.length);
    let add = match first.kind {
        Kind::Strip => {
            let ends = allowances.ends * 2;
            format!("add strips of {sizes}, at least {} long", (longest + ends).both())
        }
        Kind::Blank => format!("add blanks of {sizes}, at least {} long", longest.both()),
        Kind::CutBlank => format!("add cut blanks of {sizes}, {} long", longest.both()),
    };
    if !problem.racks.is_empty() {
        return format!("{add}, or leave out an order");
    }
    let kind = first.kind;
    let off = |s: &&Stock| {
        (s.width - first.width).abs() + (s.thickness - first.thickness).abs() * 4
    };
    let alike = stock.iter().filter(|s| s.kind == kind && s.count > 0);
    let Some(near) = alike.min_by_key(off) else { return add };
    let thick = (near.thickness - first.thickness).abs() > allowances.thickness;
    let narrow = near.width < first.width - allowances.width;
    let wide = kind == Kind::Strip
        && !allowances.rip
        && near.width > first.width + allowances.width;
    let name = &near.name;
    let near = self::sizes(near.width, near.thickness);
    let piece = first.cuts.first().map_or(STRAP, |&cut| cuts[cut].piece.as_str());
    // A copy, `keeper-1`, has no table of its own name.
    let of = |key: &str| match piece {
        STRAP => format!("{STRAP}.{key}"),
        piece => format!("the {key} of `{piece}`"),
    };
    let instead = match (thick, narrow) {
        (true, _) => {
            let rip = if wide { ", with --rip" } else { "" };
            format!(
                "if it will do, say so in {} or give a larger --thickness-allowance{rip}",
                of("thickness")
            )
        }
        (false, true) => format!("if it will do, say so in {}", of("width")),
        (false, false) if kind == Kind::Strip => {
            "--rip lets it be ripped down".to_owned()
        }
        (false, false) => "if it will do, say so in blank.width".to_owned(),
    };
    format!("{add}; the nearest is `{name}`, {near}: {instead}")
}
