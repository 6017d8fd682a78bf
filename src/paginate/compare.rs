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

/// The numbers of the sheets that show the same in all of `sets`.
pub fn common(sets: &[SheetSet]) -> Vec<usize> {
    let Some((first, others)) = sets.split_first() else { return Vec::new() };
    let kept: Vec<Vec<usize>> = others.iter().map(|s| swap(first, s).keep).collect();
    let numbers = first.sheets.iter().map(|s| s.number);
    numbers.filter(|n| kept.iter().all(|k| k.contains(n))).collect()
}

/// How many sizes are tried as the one that the others take their joins from.
const TRIED: usize = 8;

/// Lays several sizes of one strap on paper so that few sheets are printed in all: the
/// joins of one size are kept in the others, and of the sizes that are tried as that one
/// the best is taken. The sets come in the order of `requests`.
///
/// # Errors
/// As [`paginate`], with the index of the request that it refused.
pub fn together(
    requests: &[Request<'_>],
) -> Result<Vec<SheetSet>, (usize, PaginateError)> {
    let mut best: Option<(usize, Vec<SheetSet>)> = None;
    let step = requests.len().div_ceil(TRIED).max(1);
    for (i, pattern) in requests.iter().enumerate().step_by(step) {
        let own = paginate(pattern).map_err(|e| (i, e))?;
        let keeping = requests.iter().map(|r| r.keeping(&own));
        let sets: Vec<SheetSet> = keeping
            .enumerate()
            .map(|(i, r)| paginate(&r).map_err(|e| (i, e)))
            .collect::<Result<_, _>>()?;
        let shared = common(&sets).len();
        let all: usize = sets.iter().map(|s| s.sheets.len()).sum();
        // Common sheets are printed once.
        let printed = all - shared * (sets.len() - 1);
        if best.as_ref().is_none_or(|(fewest, _)| printed < *fewest) {
            best = Some((printed, sets));
        }
    }
    Ok(best.map(|(_, sets)| sets).unwrap_or_default())
}
