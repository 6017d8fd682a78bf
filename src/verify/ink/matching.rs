//! Which sheet a page shows.

use super::align::{Alignment, Letters, Spelled, ToPage, spelled};
use crate::geom::Ratio;
use crate::paginate::{Claim, Item, Sheet, SheetSet};
use hayro_interpret::kurbo::Point;
use std::collections::BTreeSet;

/// The part of its letters by which a sheet is known at once.
const SURE: f64 = 0.98;
/// How much less of its letters or lines may be found on a sheet that is taken for the other.
const ALIKE: f64 = 0.02;

/// The way from a sheet to its page, with the printer's correction.
pub(super) fn to_page(sheet: &Sheet, set: &SheetSet) -> ToPage {
    let factors = set.correction_on(sheet).map_or([1.0, 1.0], |scaling| {
        [scaling.width.by, scaling.height.by].map(Ratio::as_f64)
    });
    let middle =
        Point::new(sheet.width.as_mm_f64() / 2.0, sheet.height.as_mm_f64() / 2.0);
    ToPage { middle, factors }
}

/// The sheet that a page shows, with its texts and how the page lies on it.
pub(super) fn find_sheet<'p>(
    letters: &Letters,
    index: usize,
    set: &'p SheetSet,
    taken: &BTreeSet<usize>,
) -> Option<(&'p Sheet, Vec<Spelled>, Alignment)> {
    let sheets: Vec<&Sheet> = set.pages().collect();
    let by_letters = |sheet: &'p Sheet| {
        let way = to_page(sheet, set);
        let texts = spelled(sheet, |p| way.point(p));
        // What all sheets have alike does not tell them apart.
        let is_own = |t: &&Spelled| sheet.number == 0 || tells(sheet, t);
        let telling: Vec<Spelled> = texts.iter().filter(is_own).cloned().collect();
        let alignment = letters.align(&telling)?;
        Some((sheet, texts, alignment))
    };
    let by_lines = |sheet: &'p Sheet| {
        let way = to_page(sheet, set);
        let alignment = letters.align_lines(sheet, |p| way.point(p))?;
        Some((sheet, spelled(sheet, |p| way.point(p)), alignment))
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
