//! The plan: strip by strip, where each piece is cut.

use super::group::groups;
use super::solve::{Solved, solve};
use super::{Allowances, Cut, Kind, LONGEST, MOST, Stock, short};
use crate::cutting::rule;
use crate::diagnostic::{Finding, Severity};
use crate::geom::Length;
use std::collections::{BTreeMap, BTreeSet};

/// One piece on a strip.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Laid {
    /// Which of the cuts it is.
    pub cut: usize,
    /// The order that it is for.
    pub order: String,
    /// Its name in the order.
    pub piece: String,
    /// Where it begins, from the end of the strip.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// To which width the strip is ripped down for it.
    pub rip: Option<Length>,
}

/// A strip that is opened.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Opened {
    /// Its name in the stock.
    pub name: String,
    /// Strip or blank.
    pub kind: Kind,
    /// Which one of that name and size, from 1.
    pub number: u32,
    /// How many of it there were.
    pub of: u32,
    /// Its length.
    pub length: Length,
    /// Its width.
    pub width: Length,
    /// Its thickness.
    pub thickness: Length,
    /// What is cut from it, from the strip's end on.
    pub cuts: Vec<Laid>,
    /// What is left past the last piece.
    pub offcut: Length,
}

/// Strips that nothing is cut from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unopened {
    /// Their name in the stock.
    pub name: String,
    /// Strips or blanks.
    pub kind: Kind,
    /// Their length.
    pub length: Length,
    /// Their width.
    pub width: Length,
    /// Their thickness.
    pub thickness: Length,
    /// How many there are.
    pub count: u32,
}

/// Which strip each piece is cut from.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Plan {
    /// The strips that are opened, in the order of the stock.
    pub strips: Vec<Opened>,
    /// What stays whole, in the order of the stock.
    pub unopened: Vec<Unopened>,
    /// Which of the cuts have no strip.
    pub lacking: Vec<usize>,
    /// What they lack, an error for each group of them.
    pub findings: Vec<Finding>,
    /// By how much less leather another plan could open at most, in tenths of a percent of
    /// what this one opens; zero where none opens less.
    pub at_most_less: u32,
}

/// Plans which strip each piece is cut from.
///
/// Groups of up to about 14 pieces are planned in the best way; for larger ones the plan says
/// how far it may be from the best. The same pieces and stock give the same plan.
///
/// # Errors
/// Findings when there are more than [`MOST`] pieces or strips, or a length is not above
/// zero or longer than [`LONGEST`].
pub fn plan(
    cuts: &[Cut],
    stock: &[Stock],
    allowances: &Allowances,
) -> Result<Plan, Vec<Finding>> {
    let wrong = limits(cuts, stock, allowances);
    if !wrong.is_empty() {
        return Err(wrong);
    }
    let solved = solve(groups(cuts, stock, allowances));
    let mut opened: BTreeMap<(usize, u32), Opened> = BTreeMap::new();
    let mut lacking = BTreeSet::new();
    let mut findings = Vec::new();
    let (mut area, mut least) = (0, 0);
    for group in &solved {
        opened.extend(lay(group, cuts, stock));
        let left = lacking_of(group);
        if left.is_empty() {
            area += group.packing.score(&group.problem).area;
            least += group.least;
        } else {
            findings.push(short::finding(group, &left, cuts, stock));
            lacking.extend(left);
        }
    }
    let at_most_less = if area == 0 { 0 } else { (area - least) * 1_000 / area };
    let taken = |i: usize| u32::try_from(opened.range((i, 0)..(i + 1, 0)).count());
    let unopened = stock.iter().enumerate().map(|(i, s)| Unopened {
        name: s.name.clone(),
        kind: s.kind,
        length: s.length,
        width: s.width,
        thickness: s.thickness,
        count: s.count - taken(i).unwrap_or(s.count),
    });
    Ok(Plan {
        unopened: unopened.filter(|u| u.count > 0).collect(),
        strips: opened.into_values().collect(),
        lacking: lacking.into_iter().collect(),
        findings,
        at_most_less: u32::try_from(at_most_less).unwrap_or(1_000),
    })
}

fn limits(cuts: &[Cut], stock: &[Stock], allowances: &Allowances) -> Vec<Finding> {
    let mut wrong = Vec::new();
    let mut find = |what: &str, found: String, required: String, remedy: &str| {
        wrong.push(
            Finding::new(rule::CUT_LIMIT, Severity::Error, what)
                .expected(found, required)
                .remedy(remedy),
        );
    };
    if cuts.len() > MOST {
        find(
            "there are too many pieces to plan at once",
            format!("{} pieces", cuts.len()),
            format!("at most {MOST}"),
            "plan a part of the orders at a time",
        );
    }
    let strips: u64 = stock.iter().map(|s| u64::from(s.count)).sum();
    if strips > MOST as u64 {
        find(
            "there are too many strips to plan with",
            format!("{strips} strips"),
            format!("at most {MOST}"),
            "leave out the strips that will not be used",
        );
    }
    let is_length = |l: Length| l > Length::ZERO && l <= LONGEST;
    let sizes = |l: Length, w: Length, t: Length| [l, w, t].into_iter().all(is_length);
    let required = || "lengths above 0 mm and up to 1 km".to_owned();
    for cut in cuts.iter().filter(|c| !sizes(c.length, c.width, c.thickness)) {
        find(
            "a piece has no size that can be cut",
            format!("{}, {}: {}", cut.order, cut.piece, cut.length.both()),
            required(),
            "look at the measure and its unit",
        );
    }
    for strip in stock.iter().filter(|s| !sizes(s.length, s.width, s.thickness)) {
        find(
            "a strip has no size that can be cut",
            format!("`{}`: {}", strip.name, strip.length.both()),
            required(),
            "measure the strip and write its sizes with their units",
        );
    }
    let Allowances { between, ends, width, thickness, rip: _ } = *allowances;
    for (name, length) in [
        ("between pieces", between),
        ("at the ends", ends),
        ("of width", width),
        ("of thickness", thickness),
    ] {
        if length < Length::ZERO || length > LONGEST {
            find(
                &format!("the allowance {name} cannot be"),
                length.both(),
                "0 mm or more, up to 1 km".to_owned(),
                "give a length such as 1 mm",
            );
        }
    }
    wrong
}

/// The cuts that a group has no strip for.
fn lacking_of(group: &Solved<'_>) -> Vec<usize> {
    let mut counts: BTreeMap<usize, usize> = BTreeMap::new();
    for &lot in &group.packing.lacking {
        *counts.entry(lot).or_default() += 1;
    }
    // Of equal pieces the last ones go without.
    let last = |(lot, n): (usize, usize)| {
        let all = &group.problem.lots[lot].cuts;
        all[all.len() - n..].iter().copied()
    };
    let mut left: Vec<usize> = counts.into_iter().flat_map(last).collect();
    left.sort_unstable();
    left
}

/// The strips that a group opens, by stock entry and number.
fn lay(
    group: &Solved<'_>,
    cuts: &[Cut],
    stock: &[Stock],
) -> BTreeMap<(usize, u32), Opened> {
    let problem = &group.problem;
    let mut next_cut = vec![0; problem.lots.len()];
    let mut next_strip = vec![0; problem.racks.len()];
    let mut filled: Vec<(usize, Vec<usize>)> = group
        .packing
        .strips
        .iter()
        .map(|s| {
            let mut lots = s.lots.clone();
            lots.sort_unstable();
            (s.rack, lots)
        })
        .collect();
    filled.sort_unstable();
    let mut opened = BTreeMap::new();
    for (rack, lots) in filled {
        let (entry, number) = problem.racks[rack].strips[next_strip[rack]];
        next_strip[rack] += 1;
        let strip = &stock[entry];
        let is_strip = strip.kind == Kind::Strip;
        let ends = if is_strip { problem.allowances.ends } else { Length::ZERO };
        let mut from = ends;
        let mut laid = Vec::new();
        for lot in lots {
            let cut = problem.lots[lot].cuts[next_cut[lot]];
            next_cut[lot] += 1;
            let Cut { order, piece, length, width, kind, .. } = &cuts[cut];
            // A blank with both ends cut is taken as it is.
            let to = if *kind == Kind::CutBlank { strip.length } else { from + *length };
            let wide = strip.width - *width > problem.allowances.width;
            laid.push(Laid {
                cut,
                order: order.clone(),
                piece: piece.clone(),
                from,
                to,
                rip: wide.then_some(*width),
            });
            from = to + problem.allowances.between;
        }
        let end = laid.last().map_or(ends, |l| l.to);
        opened.insert(
            (entry, number),
            Opened {
                name: strip.name.clone(),
                kind: strip.kind,
                number,
                of: strip.count,
                length: strip.length,
                width: strip.width,
                thickness: strip.thickness,
                cuts: laid,
                offcut: strip.length - end,
            },
        );
    }
    opened
}
