//! The plan: strip by strip, where each piece is cut.

use super::group::groups;
use super::solve::{Solved, solve};
use super::{Allowances, Cut, Kind, LONGEST, MOST, Stock, shortage};
use crate::cutting::rule;
use crate::diagnostic::{Finding, Severity};
use crate::geom::Length;
use std::collections::{BTreeMap, BTreeSet};

/// One piece on a lane.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Laid {
    /// Which of the cuts it is.
    pub cut: usize,
    /// Where it begins, from the end of the strip.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// To which width its lane is ripped down for it, `None` if it is as wide.
    pub rip: Option<Length>,
}

/// A part of a strip along its whole length. The lanes lie side by side, the first along one
/// edge of the strip.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lane {
    /// Its width: that of its widest piece, or of the strip if that is not ripped.
    pub width: Length,
    /// What is cut from it, from the strip's end on.
    pub cuts: Vec<Laid>,
    /// What is left of it past the last piece.
    pub offcut: Length,
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
    pub count: u32,
    /// Its length.
    pub length: Length,
    /// Its width.
    pub width: Length,
    /// Its thickness.
    pub thickness: Length,
    /// Its lanes; one if it is not ripped.
    pub lanes: Vec<Lane>,
    /// The width of what is left beside the lanes along the whole strip, zero if they take
    /// all of it. What is within the allowance of width is not ripped off a single lane.
    pub rest: Length,
}

impl Opened {
    /// Whether it is ripped along its length.
    pub fn is_ripped(&self) -> bool {
        self.lanes.len() > 1 || self.rest > Length::ZERO
    }
}

/// Which strip each piece is cut from.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Plan {
    /// The strips that are opened, in the order of the stock.
    pub strips: Vec<Opened>,
    /// What stays whole, in the order of the stock, with how many of it.
    pub unopened: Vec<Stock>,
    /// Which of the cuts have no strip.
    pub lacking: Vec<usize>,
    /// What they lack, an error for each group of them.
    pub findings: Vec<Finding>,
    /// By how much less leather another plan could open at most, in tenths of a percent of
    /// what this one opens, rounded up; zero where none opens less. Leaves out groups that
    /// have not a strip for every piece: nothing is proven of them.
    pub at_most_less: u32,
    /// Whether that is proven only for plans that rip strips into lanes, as this one does, and
    /// not for those that rip a part of a strip otherwise than the next.
    pub in_lanes: bool,
}

/// Plans which strip each piece is cut from.
///
/// Groups of up to about 14 pieces are planned in the best way: no plan in lanes opens less
/// leather. For larger ones the plan says how far it may be from the best. The same pieces and
/// stock give the same plan.
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
    let (mut area, mut least, mut in_lanes) = (0, 0, false);
    for group in &solved {
        opened.extend(lay(group, cuts, stock));
        let left = lacking_of(group);
        if left.is_empty() {
            area += group.packing.score(&group.problem).area;
            least += group.least;
            in_lanes |= group.in_lanes;
        } else {
            findings.push(shortage::finding(group, &left, cuts, stock));
            lacking.extend(left);
        }
    }
    let less = (area - least) * 1_000;
    let at_most_less = if area == 0 { 0 } else { (less + area - 1) / area };
    let taken = |i: usize| u32::try_from(opened.range((i, 0)..(i + 1, 0)).count());
    let unopened = stock.iter().enumerate().map(|(i, s)| Stock {
        count: s.count - taken(i).unwrap_or(s.count),
        ..s.clone()
    });
    Ok(Plan {
        unopened: unopened.filter(|u| u.count > 0).collect(),
        strips: opened.into_values().collect(),
        lacking: lacking.into_iter().collect(),
        findings,
        at_most_less: u32::try_from(at_most_less).unwrap_or(1_000),
        in_lanes,
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
    for &item in &group.packing.lacking {
        *counts.entry(item).or_default() += 1;
    }
    // Of equal pieces the last ones go without.
    let last = |(item, n): (usize, usize)| {
        let all = &group.problem.items[item].members;
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
    let mut left: Vec<_> = problem.items.iter().map(|i| i.members.iter()).collect();
    let mut supply: Vec<_> = problem.strips.iter().map(|s| s.members.iter()).collect();
    let mut patterns = group.packing.patterns.clone();
    for pattern in &mut patterns {
        pattern.lanes.iter_mut().for_each(|lane| lane.sort_unstable());
        pattern.lanes.sort_unstable();
    }
    patterns.sort_unstable();
    let mut opened = BTreeMap::new();
    for pattern in patterns {
        let Some(&(entry, number)) = supply[pattern.strip].next() else { continue };
        let Stock { name, kind, length, width, thickness, count, .. } =
            stock[entry].clone();
        let widest =
            |lane: &Vec<usize>| lane.iter().map(|&item| problem.width(item)).max();
        let mut widths: Vec<Length> = pattern.lanes.iter().filter_map(widest).collect();
        let mut rest = width - widths.iter().copied().sum();
        if let [lane] = widths.as_mut_slice()
            && rest <= problem.allowances.width
        {
            (*lane, rest) = (width, Length::ZERO);
        }
        let mut lanes = Vec::new();
        for (items, width) in pattern.lanes.iter().zip(widths) {
            let pieces = items.iter().filter_map(|&item| left[item].next().copied());
            lanes.push(lane(width, pieces, cuts, &stock[entry], problem.allowances));
        }
        let strip =
            Opened { name, kind, number, count, length, width, thickness, lanes, rest };
        opened.insert((entry, number), strip);
    }
    opened
}

/// A lane of a strip with these pieces, given as indices into the cuts.
fn lane(
    width: Length,
    pieces: impl Iterator<Item = usize>,
    cuts: &[Cut],
    strip: &Stock,
    allowances: &Allowances,
) -> Lane {
    let is_strip = strip.kind == Kind::Strip;
    let ends = if is_strip { allowances.ends } else { Length::ZERO };
    let mut from = ends;
    let mut laid = Vec::new();
    for cut in pieces {
        let Cut { length, kind, width: own, .. } = cuts[cut];
        // A blank with both ends cut is taken as it is.
        let to = if kind == Kind::CutBlank { strip.length } else { from + length };
        laid.push(Laid {
            cut,
            from,
            to,
            rip: (width - own > allowances.width).then_some(own),
        });
        from = to + allowances.between;
    }
    let end = laid.last().map_or(ends, |l| l.to);
    Lane { width, cuts: laid, offcut: strip.length - end }
}
