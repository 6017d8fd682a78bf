//! Which sheets of two prints are interchangeable, so that one need not be printed again.

use super::sheet::{ReusedSheet, Sheet, SheetSet};
use super::{PaginateError, Request, paginate};

/// What changes from an old print to a new one, by numbers of sheets.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SheetDiff {
    /// Sheets of the old print that the new one can use.
    pub keep: Vec<usize>,
    /// Sheets of the new print that must be printed.
    pub print: Vec<usize>,
    /// Sheets of the old print that are no longer used.
    pub remove: Vec<usize>,
}

impl SheetDiff {
    /// The sheets to keep, each with the print that it came with: `old` itself, or an earlier
    /// print of which `old` had used it again.
    pub fn reused(&self, old: &SheetSet, earlier: &[ReusedSheet]) -> Vec<ReusedSheet> {
        let reuse = |&sheet: &usize| {
            let known = earlier.iter().find(|r| r.sheet == sheet).cloned();
            known.unwrap_or_else(|| ReusedSheet { print: old.fingerprint.clone(), sheet })
        };
        let mut reused: Vec<ReusedSheet> = self.keep.iter().map(reuse).collect();
        reused.sort();
        reused
    }
}

/// Compares two whole prints, sheet by sheet. Two sheets are interchangeable if paper, tiles,
/// outline, marks, crosses, rulers and labels are equal; the header may differ.
pub fn compare_sheets(old: &SheetSet, new: &SheetSet) -> SheetDiff {
    let is_same = |sheet: &&Sheet| {
        let twin = old.sheets.iter().find(|s| s.number == sheet.number);
        twin.is_some_and(|twin| is_interchangeable(twin, sheet))
    };
    let (keep, print): (Vec<&Sheet>, Vec<&Sheet>) = new.sheets.iter().partition(is_same);
    let numbers = |sheets: Vec<&Sheet>| sheets.iter().map(|s| s.number).collect();
    let keep: Vec<usize> = numbers(keep);
    let old_numbers = old.sheets.iter().map(|s| s.number);
    let remove = old_numbers.filter(|n| !keep.contains(n)).collect();
    SheetDiff { keep, print: numbers(print), remove }
}

fn is_interchangeable(a: &Sheet, b: &Sheet) -> bool {
    (a.width, a.height) == (b.width, b.height)
        && a.tiles == b.tiles
        && a.bars == b.bars
        && a.items[a.head..] == b.items[b.head..]
}

/// Neighbouring sizes that have sheets in common.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SizeGroup {
    /// Their prints, in order.
    pub sets: Vec<SheetSet>,
    /// The numbers of the sheets that all of them share; none in a group of one size.
    pub shared: Vec<usize>,
}

impl SizeGroup {
    /// How many sheets are printed, each shared one once.
    pub fn printed(&self) -> usize {
        let all: usize = self.sets.iter().map(|s| s.sheets.len()).sum();
        all - self.shared.len() * self.sets.len().saturating_sub(1)
    }
}

/// How many sizes are tried as the pattern whose joins the others reuse.
const MAX_PATTERNS: usize = 8;

/// Groups several sizes of one strap, given in order, so that few sheets are printed in all.
/// Neighbouring sizes reuse the joins of one pattern size, and those that then share sheets
/// form a group. The result is the best grouping for the patterns that are tried.
///
/// # Errors
/// As [`paginate`], with the index of the request that it refused.
pub fn group_sizes(
    requests: &[Request<'_>],
) -> Result<Vec<SizeGroup>, (usize, PaginateError)> {
    let step = requests.len().div_ceil(MAX_PATTERNS).max(1);
    let mut patterns: Vec<Vec<SheetSet>> = Vec::new();
    for (i, pattern) in requests.iter().enumerate().step_by(step) {
        let own = paginate(pattern).map_err(|e| (i, e))?;
        let all = requests.iter().enumerate();
        let sets = all.map(|(i, r)| paginate(&r.reusing(&own)).map_err(|e| (i, e)));
        patterns.push(sets.collect::<Result<_, _>>()?);
    }
    // The best grouping of the first so many sizes.
    let mut best = vec![Grouping::default()];
    for end in 1..=requests.len() {
        let groups = patterns.iter().flat_map(|sets| groups_before(sets, end));
        let groupings = groups.map(|(start, group)| {
            let (sheets, groups) = best[start].cost;
            let cost = (sheets + group.printed(), groups + 1);
            Grouping { cost, last: Some((start, group)) }
        });
        let cheapest = groupings.min_by_key(|g| g.cost);
        best.extend(cheapest);
    }
    let mut groups = Vec::new();
    let mut end = requests.len();
    while let Some((start, group)) = best[end].last.take() {
        groups.push(group);
        end = start;
    }
    groups.reverse();
    Ok(groups)
}

/// A grouping of the first sizes.
#[derive(Default)]
struct Grouping {
    /// Printed sheets, then groups.
    cost: (usize, usize),
    /// The last group and the index of its first size.
    last: Option<(usize, SizeGroup)>,
}

/// The groups of `sets` that end before `end`, each with the index of its first size.
fn groups_before(sets: &[SheetSet], end: usize) -> Vec<(usize, SizeGroup)> {
    let Some(last) = sets[..end].last() else { return Vec::new() };
    let mut shared: Vec<usize> = last.sheets.iter().map(|s| s.number).collect();
    let one = SizeGroup { sets: vec![last.clone()], shared: Vec::new() };
    let mut groups = vec![(end - 1, one)];
    for start in (0..end - 1).rev() {
        let keep = compare_sheets(last, &sets[start]).keep;
        shared.retain(|n| keep.contains(n));
        if shared.is_empty() {
            break;
        }
        let group = SizeGroup { sets: sets[start..end].to_vec(), shared: shared.clone() };
        groups.push((start, group));
    }
    groups
}
