//! Which sheets of two prints are interchangeable, so that one need not be printed again.

use super::sheet::{ReusedSheet, Sheet, SheetSet};
use super::{PaginateError, Request, paginate};
use std::collections::BTreeSet;

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
    pub fn reused(&self, old: &SheetSet) -> Vec<ReusedSheet> {
        let reuse = |&sheet: &usize| {
            let known = old.reused.iter().find(|r| r.sheet == sheet).cloned();
            known.unwrap_or_else(|| ReusedSheet { print: old.fingerprint.clone(), sheet })
        };
        let mut reused: Vec<ReusedSheet> = self.keep.iter().map(reuse).collect();
        reused.sort();
        reused
    }
}

/// Compares two whole prints, sheet by sheet. Two sheets are interchangeable if number, paper,
/// tiles, outline, marks, crosses, rulers, labels and the printer's factors are equal; the
/// header may differ.
pub fn compare_sheets(old: &SheetSet, new: &SheetSet) -> SheetDiff {
    let known: BTreeSet<(usize, u64)> = old.sheets.iter().map(identity).collect();
    let is_same = |sheet: &&Sheet| known.contains(&identity(sheet));
    let (keep, print): (Vec<&Sheet>, Vec<&Sheet>) = new.sheets.iter().partition(is_same);
    let numbers = |sheets: Vec<&Sheet>| sheets.iter().map(|s| s.number).collect();
    let keep: Vec<usize> = numbers(keep);
    let old_numbers = old.sheets.iter().map(|s| s.number);
    let remove = old_numbers.filter(|n| !keep.contains(n)).collect();
    SheetDiff { keep, print: numbers(print), remove }
}

fn identity(sheet: &Sheet) -> (usize, u64) {
    (sheet.number, sheet.digest)
}

/// Neighbouring sizes that have sheets in common.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SizeGroup {
    /// Their prints, in order, bare: each is drawn again by [`Request::reusing`].
    pub sets: Vec<SheetSet>,
    /// The numbers of the sheets that all of them share; none in a group of one size.
    pub shared: Vec<usize>,
}

impl SizeGroup {
    /// How many sheets are printed, each shared one once.
    pub fn printed(&self) -> usize {
        let all = self.sets.iter().map(|s| s.sheets.len()).sum();
        printed(all, self.sets.len(), self.shared.len())
    }
}

/// How many of `all` sheets are printed, where so many sizes share so many of them.
fn printed(all: usize, sizes: usize, shared: usize) -> usize {
    all - shared * sizes.saturating_sub(1)
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
        let own = paginate(pattern).map_err(|e| (i, e))?.bare();
        let all = requests.iter().enumerate();
        let sets = all.map(|(i, r)| match paginate(&r.reusing(&own)) {
            Ok(set) => Ok(set.bare()),
            Err(error) => Err((i, error)),
        });
        patterns.push(sets.collect::<Result<_, _>>()?);
    }
    // The best grouping of the first so many sizes.
    let mut best = vec![Grouping::default()];
    for end in 1..=requests.len() {
        let groups = patterns.iter().flat_map(|sets| groups_before(sets, end));
        let cost = |group: &Group<'_>| {
            let (sheets, groups) = best[group.start].cost;
            let all = group.sets.iter().map(|s| s.sheets.len()).sum();
            let own = printed(all, group.sets.len(), group.shared.len());
            (sheets + own, groups + 1)
        };
        let groupings =
            groups.map(|group| Grouping { cost: cost(&group), last: Some(group) });
        let cheapest = groupings.min_by_key(|g| g.cost);
        best.extend(cheapest);
    }
    let mut groups = Vec::new();
    let mut end = requests.len();
    while let Some(Group { start, sets, shared }) = best[end].last.take() {
        groups.push(SizeGroup { sets: sets.to_vec(), shared });
        end = start;
    }
    groups.reverse();
    Ok(groups)
}

/// A grouping of the first sizes.
#[derive(Default)]
struct Grouping<'s> {
    /// Printed sheets, then groups.
    cost: (usize, usize),
    last: Option<Group<'s>>,
}

/// Some neighbouring sizes, from the one at `start` on.
struct Group<'s> {
    start: usize,
    sets: &'s [SheetSet],
    shared: Vec<usize>,
}

/// The groups of `sets` that end before `end`.
fn groups_before(sets: &[SheetSet], end: usize) -> Vec<Group<'_>> {
    let Some(last) = sets[..end].last() else { return Vec::new() };
    let mut shared: Vec<usize> = last.sheets.iter().map(|s| s.number).collect();
    let one = Group { start: end - 1, sets: &sets[end - 1..end], shared: Vec::new() };
    let mut groups = vec![one];
    for start in (0..end - 1).rev() {
        let keep = compare_sheets(last, &sets[start]).keep;
        shared.retain(|n| keep.contains(n));
        if shared.is_empty() {
            break;
        }
        groups.push(Group { start, sets: &sets[start..end], shared: shared.clone() });
    }
    groups
}
