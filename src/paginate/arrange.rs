//! Arranges the tiles of all pieces on the fewest sheets, each piece on pages of its own
//! orientation.
//!
//! Each piece takes its fewest tiles, of even length. Where that takes more sheets, one tile
//! of each piece may be shorter to lie beside others. Match lines of an earlier print are
//! reused as far as that costs no sheet.

use super::pack::{self, SheetRows, TileRow, TileSize};
use super::page::Page;
use super::sheet::{SheetSet, Tile};
use super::tiling::{PieceTiling, TileSpan, all_spans};
use crate::geom::Length;

/// Tiles on sheets.
#[derive(Clone, Debug)]
pub(super) struct Arrangement<'a> {
    pub(super) tilings: Vec<PieceTiling<'a>>,
    pub(super) spans: Vec<TileSpan<'a>>,
    /// Each with its page. The rows hold indices of `spans`.
    pub(super) sheets: Vec<(Page, SheetRows)>,
}

/// Arranges all pieces, with joins and sheets of `reuse` where that costs nothing.
pub(super) fn arrange<'a>(
    tilings: Vec<PieceTiling<'a>>,
    reuse: Option<&SheetSet>,
) -> Arrangement<'a> {
    let mut best = arrange_tilings(tilings, reuse);
    let old_joins = reuse.map(|set| set.joins.as_slice()).unwrap_or_default();
    for piece in 0..best.tilings.len() {
        let mut lines: Vec<Length> =
            old_joins.iter().filter(|(p, _)| *p == piece).map(|(_, x)| *x).collect();
        while !lines.is_empty() {
            if let Some(tiling) = best.tilings[piece].with_lines(&lines) {
                let mut tilings = best.tilings.clone();
                tilings[piece] = tiling;
                let found = arrange_tilings(tilings, reuse);
                if found.sheets.len() <= best.sheets.len() {
                    best = found;
                    break;
                }
            }
            lines.pop();
        }
    }
    best
}

/// Packs the tiles. One tile of each piece may be shortened where that saves a sheet.
fn arrange_tilings<'a>(
    tilings: Vec<PieceTiling<'a>>,
    reuse: Option<&SheetSet>,
) -> Arrangement<'a> {
    let even = pack_tilings(tilings, reuse);
    if even.sheets.len() <= 1 {
        return even;
    }
    let shortest = |t: &PieceTiling<'a>| t.with_shortest().unwrap_or_else(|| t.clone());
    let short = pack_tilings(even.tilings.iter().map(shortest).collect(), reuse);
    if short.sheets.len() >= even.sheets.len() {
        return even;
    }
    // No shorter than the rows ask for.
    let tilings = lengthen(&short);
    let spans = all_spans(&tilings);
    let sizes = tile_sizes(&spans, &tilings, None);
    let rebuild = |(page, rows): &(Page, SheetRows)| {
        (*page, rows.iter().map(|row| TileRow::new(&row.tiles, &sizes)).collect())
    };
    let sheets: Vec<(Page, SheetRows)> = short.sheets.iter().map(rebuild).collect();
    if sheets.iter().all(|(page, rows)| page.usable().holds(rows)) {
        Arrangement { tilings, spans, sheets }
    } else {
        short
    }
}

/// Packs the tiles of each page, and puts the sheets in the order of their first tiles.
fn pack_tilings<'a>(
    tilings: Vec<PieceTiling<'a>>,
    reuse: Option<&SheetSet>,
) -> Arrangement<'a> {
    let spans = all_spans(&tilings);
    let sizes = tile_sizes(&spans, &tilings, reuse);
    let mut pages: Vec<Page> = tilings.iter().map(|tiling| tiling.page).collect();
    pages.dedup();
    // A print has two kinds of pages at most.
    if let [first, second, ..] = pages[..] {
        pages = vec![first, second];
    }
    let mut sheets = Vec::new();
    for &page in &pages {
        let is_own = |i: &usize| tilings[spans[*i].index].page == page;
        let own: Vec<usize> = (0..spans.len()).filter(is_own).collect();
        let own_sizes: Vec<TileSize> = own.iter().map(|&i| sizes[i]).collect();
        for mut rows in pack::pack(&own_sizes, page.usable()) {
            for tile in rows.iter_mut().flat_map(|row| &mut row.tiles) {
                *tile = own[*tile];
            }
            sheets.push((page, rows));
        }
    }
    if pages.len() > 1 {
        let first = |rows: &SheetRows| rows.iter().flat_map(|r| &r.tiles).min().copied();
        sheets.sort_by_key(|(_, rows)| first(rows));
    }
    Arrangement { tilings, spans, sheets }
}

/// The sizes of the tiles; each prefers the sheet on which `reuse` has it, counted among the
/// sheets of its page.
fn tile_sizes(
    spans: &[TileSpan<'_>],
    tilings: &[PieceTiling<'_>],
    reuse: Option<&SheetSet>,
) -> Vec<TileSize> {
    let old_sheets = reuse.map(|set| set.sheets.as_slice()).unwrap_or_default();
    let size = |span: &TileSpan<'_>| {
        let key = (span.index, span.stretch, span.across);
        let is_same = |t: &Tile| (t.piece, t.stretch, t.across) == key;
        let page = tilings[span.index].page;
        let mut alike = old_sheets.iter().filter(|s| page.is_of(s)).enumerate();
        let sheet = alike.find(|(_, sheet)| sheet.tiles.iter().any(is_same));
        TileSize {
            length: span.stretch.length(),
            height: span.across.length(),
            preferred: sheet.map(|(nth, _)| nth),
        }
    };
    spans.iter().map(size).collect()
}

/// The pieces with their short tiles as long as the rows have room for.
fn lengthen<'a>(short: &Arrangement<'a>) -> Vec<PieceTiling<'a>> {
    let mut tilings = short.tilings.clone();
    let rows =
        short.sheets.iter().flat_map(|(page, rows)| rows.iter().map(|r| (*page, r)));
    for (page, row) in rows {
        let mut free = page.usable().width - row.used;
        for span in row.tiles.iter().map(|&i| short.spans[i]) {
            let tiling = &short.tilings[span.index];
            if tiling.short != Some(span.column) {
                continue;
            }
            let least = span.stretch.length();
            if let Some(longer) = tiling.with_short(span.column, least + free) {
                free -= longer.stretches()[span.column].length() - least;
                tilings[span.index] = longer;
            }
        }
    }
    tilings
}
