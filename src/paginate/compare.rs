//! Which sheets of two prints show the same, so that one need not be printed again.

use super::sheet::{Kept, Sheet, SheetSet};
use super::{PaginateError, Request, paginate};

/// What to do at the bench to come from one print to another.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Swap {
    /// Sheets that stay: the new print shows the same on them.
    pub keep: Vec<usize>,
    /// Sheets of the new print that must be printed.
    pub print: Vec<usize>,
    /// Sheets of the old print that are put away.
    pub away: Vec<usize>,
}

impl Swap {
    /// The sheets that stay, each with the print that it came with: `old` itself, or one
    /// before it from which `old` had kept it.
    pub fn kept(&self, old: &SheetSet, before: &[Kept]) -> Vec<Kept> {
        let from = |sheet: usize| {
            let earlier = before.iter().find(|k| k.sheet == sheet);
            earlier.map_or(&old.fingerprint, |k| &k.print).clone()
        };
        let mut kept: Vec<Kept> =
            self.keep.iter().map(|&sheet| Kept { print: from(sheet), sheet }).collect();
        kept.sort();
        kept
    }
}

/// Compares two whole prints, sheet by sheet. Two sheets show the same when paper, tiles,
/// outline, marks, crosses, rulers and labels are the same; the words and the key plan at
/// the head may differ.
pub fn swap(old: &SheetSet, new: &SheetSet) -> Swap {
    let mut swap = Swap::default();
    for sheet in &new.sheets {
        let twin = old.sheets.iter().find(|s| s.number == sheet.number);
        if twin.is_some_and(|twin| shows_the_same(twin, sheet)) {
            swap.keep.push(sheet.number);
        } else {
            swap.print.push(sheet.number);
        }
    }
    let numbers = old.sheets.iter().map(|s| s.number);
    swap.away = numbers.filter(|n| !swap.keep.contains(n)).collect();
    swap
}

fn shows_the_same(a: &Sheet, b: &Sheet) -> bool {
    (a.width, a.height) == (b.width, b.height)
        && a.tiles == b.tiles
        && a.bars == b.bars
        && a.items[a.head..] == b.items[b.head..]
}

/// Sizes that follow each other and have sheets in common.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Group {
    /// Their prints, in order.
    pub sets: Vec<SheetSet>,
    /// The numbers of the sheets that show the same in all of them; none where one size
    /// stands alone.
    pub shared: Vec<usize>,
}

impl Group {
    /// How many sheets are printed, the common ones once.
    pub fn printed(&self) -> usize {
        let all: usize = self.sets.iter().map(|s| s.sheets.len()).sum();
        all - self.shared.len() * self.sets.len().saturating_sub(1)
    }
}

/// How many sizes are tried as the one that others take their joins from.
const TRIED: usize = 8;

/// Lays several sizes of one strap on paper so that few sheets are printed in all: the
/// joins of one size are kept in its neighbours, and sizes that then have sheets in common
/// form a group. Of all ways to part the sizes, given in order, into groups, and of the
/// sizes that are tried as patterns, the best are taken.
///
/// # Errors
/// As [`paginate`], with the index of the request that it refused.
pub fn together(requests: &[Request<'_>]) -> Result<Vec<Group>, (usize, PaginateError)> {
    let step = requests.len().div_ceil(TRIED).max(1);
    let mut patterns: Vec<Vec<SheetSet>> = Vec::new();
    for (i, pattern) in requests.iter().enumerate().step_by(step) {
        let own = paginate(pattern).map_err(|e| (i, e))?;
        let keeping = requests.iter().enumerate();
        let sets = keeping.map(|(i, r)| paginate(&r.keeping(&own)).map_err(|e| (i, e)));
        patterns.push(sets.collect::<Result<_, _>>()?);
    }
    // The best parting of the first so many sizes.
    let mut best = vec![Parting::default()];
    for end in 1..=requests.len() {
        let mut found: Option<Parting> = None;
        for sets in &patterns {
            for (start, group) in groups_up_to(sets, end) {
                let (sheets, groups) = best[start].cost;
                let cost = (sheets + group.printed(), groups + 1);
                if found.as_ref().is_none_or(|f| cost < f.cost) {
                    found = Some(Parting { cost, last: Some((start, group)) });
                }
            }
        }
        best.extend(found);
    }
    let mut parting = Vec::new();
    let mut end = requests.len();
    while let Some((start, group)) = best[end].last.take() {
        parting.push(group);
        end = start;
    }
    parting.reverse();
    Ok(parting)
}

/// Sizes in groups.
#[derive(Default)]
struct Parting {
    /// Sheets that are printed, then groups.
    cost: (usize, usize),
    /// The last group, and where it starts.
    last: Option<(usize, Group)>,
}

/// The groups of `sets` that end before `end`, each with where it starts.
fn groups_up_to(sets: &[SheetSet], end: usize) -> Vec<(usize, Group)> {
    let Some(last) = sets[..end].last() else { return Vec::new() };
    let mut shared: Vec<usize> = last.sheets.iter().map(|s| s.number).collect();
    let mut groups = vec![(end - 1, Group { sets: vec![last.clone()], shared: vec![] })];
    for start in (0..end - 1).rev() {
        let keep = swap(last, &sets[start]).keep;
        shared.retain(|n| keep.contains(n));
        if shared.is_empty() {
            break;
        }
        let own = Group { sets: sets[start..end].to_vec(), shared: shared.clone() };
        groups.push((start, own));
    }
    groups
}
