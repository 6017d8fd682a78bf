//! Arranges the tiles of all pieces on the fewest sheets of one size and orientation.
//!
//! Each piece takes its fewest tiles, of even length. Where that takes more sheets, one tile
//! of each piece may be shorter to lie beside others. Match lines of an earlier print are
//! reused as far as that costs no sheet.

use super::pack::{self, SheetRows, TileRow, TileSize, UsableArea};
use super::sheet::{SheetSet, Tile};
use super::tiling::{PieceTiling, TileSpan, all_spans};
use crate::geom::Length;
use crate::layout::Layout;

/// Tiles on sheets.
#[derive(Clone, Debug)]
pub(super) struct Arrangement<'a> {
    pub(super) tilings: Vec<PieceTiling<'a>>,
    pub(super) spans: Vec<TileSpan<'a>>,
    /// The rows hold indices of `spans`.
    pub(super) sheets: Vec<SheetRows>,
}

/// Arranges all pieces, with joins and sheets of `reuse` where that costs nothing. `None`
/// when tiles are too short for a join or a mark.
pub(super) fn arrange<'a>(
    layout: &'a Layout,
    area: UsableArea,
    reuse: Option<&SheetSet>,
) -> Option<Arrangement<'a>> {
    let pieces = layout.pieces.iter().enumerate();
    let tilings: Option<Vec<PieceTiling<'a>>> =
        pieces.map(|(i, piece)| PieceTiling::new(i, piece, area)).collect();
    let mut best = arrange_tilings(tilings?, area, reuse);
    let old_joins = reuse.map(|set| set.joins.as_slice()).unwrap_or_default();
    for piece in 0..best.tilings.len() {
        let mut lines: Vec<Length> =
            old_joins.iter().filter(|(p, _)| *p == piece).map(|(_, x)| *x).collect();
        while !lines.is_empty() {
            if let Some(tiling) = best.tilings[piece].with_lines(&lines) {
                let mut tilings = best.tilings.clone();
                tilings[piece] = tiling;
                let found = arrange_tilings(tilings, area, reuse);
                if found.sheets.len() <= best.sheets.len() {
                    best = found;
                    break;
                }
            }
            lines.pop();
        }
    }
    Some(best)
}

/// Packs the tiles. One tile of each piece may be shortened where that saves a sheet.
fn arrange_tilings<'a>(
    tilings: Vec<PieceTiling<'a>>,
    area: UsableArea,
    reuse: Option<&SheetSet>,
) -> Arrangement<'a> {
    let even = pack_tilings(tilings, area, reuse);
    if even.sheets.len() <= 1 {
        return even;
    }
    let shortest = |t: &PieceTiling<'a>| t.with_shortest().unwrap_or_else(|| t.clone());
    let short = pack_tilings(even.tilings.iter().map(shortest).collect(), area, reuse);
    if short.sheets.len() >= even.sheets.len() {
        return even;
    }
    // No shorter than the rows ask for.
    let tilings = lengthen(&short, area);
    let spans = all_spans(&tilings);
    let sizes = tile_sizes(&spans, None);
    let rebuild = |rows: &SheetRows| -> SheetRows {
        rows.iter().map(|row| TileRow::new(&row.tiles, &sizes)).collect()
    };
    let sheets: Vec<SheetRows> = short.sheets.iter().map(rebuild).collect();
    if sheets.iter().all(|rows| area.holds(rows)) {
        Arrangement { tilings, spans, sheets }
    } else {
        short
    }
}

fn pack_tilings<'a>(
    tilings: Vec<PieceTiling<'a>>,
    area: UsableArea,
    reuse: Option<&SheetSet>,
) -> Arrangement<'a> {
    let spans = all_spans(&tilings);
    let sheets = pack::pack(&tile_sizes(&spans, reuse), area);
    Arrangement { tilings, spans, sheets }
}

/// The sizes of the tiles; each prefers the sheet on which `reuse` has it.
fn tile_sizes(spans: &[TileSpan<'_>], reuse: Option<&SheetSet>) -> Vec<TileSize> {
    let old_sheets = reuse.map(|set| set.sheets.as_slice()).unwrap_or_default();
    let size = |span: &TileSpan<'_>| {
        let key = (span.index, span.stretch, span.across);
        let is_same = |t: &Tile| (t.piece, t.stretch, t.across) == key;
        let sheet = old_sheets.iter().find(|sheet| sheet.tiles.iter().any(is_same));
        TileSize {
            length: span.stretch.length(),
            height: span.across.length(),
            preferred: sheet.map(|s| s.number.saturating_sub(1)),
        }
    };
    spans.iter().map(size).collect()
}

/// The pieces with their short tiles as long as the rows have room for.
fn lengthen<'a>(short: &Arrangement<'a>, area: UsableArea) -> Vec<PieceTiling<'a>> {
    let mut tilings = short.tilings.clone();
    for row in short.sheets.iter().flatten() {
        let mut free = area.width - row.used;
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
