//! What is lacking when the stock runs out, in words.

use super::problem::{Class, SameSize};
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
    let all: usize = problem.items.iter().map(|i| i.members.len()).sum();
    // Items lie by falling length.
    let longest = group.packing.lacking.iter().min().map_or(0, |item| *item);
    let longest = &problem.items[longest];
    let word = longest.class.kind.word();
    let sizes = sizes(longest.class.width, longest.class.thickness);
    let n = lacking.len();
    let pieces = if n == 1 && all == 1 {
        "the piece".to_owned()
    } else if n == all {
        format!("all {n} pieces")
    } else {
        format!("{n} of {all} pieces")
    };
    let message = if group.is_fewest_lacking {
        format!("no {word} of {sizes} is left for {pieces}")
    } else {
        format!("no plan was found in which a {word} of {sizes} is left for {pieces}")
    };
    let found = if problem.strips.is_empty() {
        format!("no {word} of {sizes}")
    } else if problem.is_fewest_lacking(&group.packing) {
        let longest = problem.strips.iter().map(|s| s.length).max();
        format!("{word}s up to {}", longest.unwrap_or_default().both())
    } else {
        format!("{word}s for {} of {all} pieces", all - n)
    };
    let (remedy, flag) = remedy(longest, group, cuts, stock);
    let span = lacking.iter().find_map(|&cut| cuts[cut].span.clone());
    Finding::new(rule::STOCK_RUNS_OUT, Severity::Error, message)
        .at(span)
        .expected(found, required(lacking, cuts))
        .remedy(remedy)
        .flag(flag)
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

/// What to do about pieces that lack leather, the longest of which is given; and by which flag.
fn remedy(
    longest: &SameSize<usize>,
    group: &Solved<'_>,
    cuts: &[Cut],
    stock: &[Stock],
) -> (String, String) {
    let no_flag = |remedy: String| (remedy, String::new());
    let problem = &group.problem;
    let allowances = problem.allowances;
    let Class { width, thickness, kind } = longest.class;
    let (sizes, length) = (sizes(width, thickness), longest.length);
    let add = match kind {
        Kind::Strip => {
            let ends = allowances.ends * 2;
            format!("add strips of {sizes}, at least {} long", (length + ends).both())
        }
        Kind::Blank => format!("add blanks of {sizes}, at least {} long", length.both()),
        Kind::CutBlank => format!("add cut blanks of {sizes}, {} long", length.both()),
    };
    if !problem.strips.is_empty() {
        return no_flag(format!("{add}, or leave out an order"));
    }
    let off = |s: &&Stock| (s.width - width).abs() + (s.thickness - thickness).abs() * 4;
    let alike = stock.iter().filter(|s| s.kind == kind && s.count > 0);
    let Some(near) = alike.min_by_key(off) else { return no_flag(add) };
    let thick = (near.thickness - thickness).abs() > allowances.thickness;
    let narrow = near.width < width - allowances.width;
    let wide =
        kind == Kind::Strip && !allowances.rip && near.width > width + allowances.width;
    let name = &near.name;
    let near = self::sizes(near.width, near.thickness);
    let piece = longest.members.first().map_or(STRAP, |&cut| cuts[cut].piece.as_str());
    // A copy, `keeper-1`, has no table of its own name.
    let key_of = |key: &str| match piece {
        STRAP => format!("{STRAP}.{key}"),
        piece => format!("the {key} of `{piece}`"),
    };
    let say_so = |key: String| format!("if it will do, say so in {key}");
    let (instead, flag) = match (thick, narrow) {
        (true, _) => {
            let rip = if wide { ", with --rip" } else { "" };
            let flag = format!("or give a larger --thickness-allowance{rip}");
            (say_so(key_of("thickness")), flag)
        }
        (false, true) => no_flag(say_so(key_of("width"))),
        (false, false) if kind == Kind::Strip => {
            ("allow that it is ripped down".to_owned(), "give --rip".to_owned())
        }
        (false, false) => no_flag(say_so("blank.width".to_owned())),
    };
    (format!("{add}; the nearest is `{name}`, {near}: {instead}"), flag)
}
