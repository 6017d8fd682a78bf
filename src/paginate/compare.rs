//! Which sheets of two prints show the same, so that one need not be printed again.

use super::sheet::{Kept, Sheet, SheetSet};

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
