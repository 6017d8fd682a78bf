//! Which sheet a page shows.

use super::align::{Alignment, Letters, Spelled, spelled};
use crate::paginate::{Claim, Item, Sheet, SheetSet};
use crate::verify::setup::to_page;
use std::collections::BTreeSet;

/// The part of its letters by which a sheet is known at once.
const SURE: f64 = 0.98;
/// How much less of its letters or lines may be found on a sheet that is taken for the other.
const ALIKE: f64 = 0.02;

/// The sheet that a page shows, with its texts and how the page lies on it.
pub(super) fn find_sheet<'p>(
    letters: &Letters,
    index: usize,
    set: &'p SheetSet,
    taken: &BTreeSet<usize>,
) -> Option<(&'p Sheet, Vec<Spelled>, Alignment)> {
    let sheets: Vec<&Sheet> = set.pages().collect();
    let by_letters = |sheet: &'p Sheet| {
        let texts = spelled(sheet, to_page(sheet, set));
        // What all sheets have alike does not tell them apart.
        let is_own = |t: &&Spelled| sheet.number == 0 || tells(sheet, t);
        let telling: Vec<Spelled> = texts.iter().filter(is_own).cloned().collect();
        let alignment = letters.align(&telling)?;
        Some((sheet, texts, alignment))
    };
    let by_lines = |sheet: &'p Sheet| {
        let to_page = to_page(sheet, set);
        let alignment = letters.align_lines(sheet, to_page)?;
        Some((sheet, spelled(sheet, to_page), alignment))
    };
    // Nearly always the pages are in order.
    let next = sheets.get(index).and_then(|sheet| by_letters(sheet));
    if next.as_ref().is_some_and(|(.., alignment)| alignment.found >= SURE) {
        return next;
    }
    let best: Vec<_> = sheets.iter().filter_map(|sheet| by_letters(sheet)).collect();
    // Lines are asked only where the words cannot be read.
    if best.is_empty() && letters.print_name.is_some() {
        return None;
    }
    choose(best, taken)
        .or_else(|| choose(sheets.iter().filter_map(|s| by_lines(s)).collect(), taken))
}

/// The sheet that fits best; of several that fit as well, the first that no other page shows.
fn choose<'p>(
    all: Vec<(&'p Sheet, Vec<Spelled>, Alignment)>,
    taken: &BTreeSet<usize>,
) -> Option<(&'p Sheet, Vec<Spelled>, Alignment)> {
    let best = all.iter().map(|(.., a)| a.found).fold(0.0, f64::max);
    let near = all.into_iter().filter(|(.., a)| a.found >= best - ALIKE);
    near.min_by_key(|(sheet, ..)| taken.contains(&sheet.number))
}

/// Whether a text of a sheet is of that sheet alone.
fn tells(sheet: &Sheet, text: &Spelled) -> bool {
    let is_bar =
        matches!(sheet.items[text.item], Item::Text { claim: Claim::Bar { .. }, .. });
    text.item >= sheet.head && !is_bar
}
