//! All pieces of a job on the fewest sheets of one size, one way round.
//!
//! Each piece takes its fewest tiles. Where the tiles of even length take more sheets than
//! with a short one in each piece, that one is short enough to lie beside others; where match lines are to be
//! kept, as many are as cost no sheet.

use super::cut::Cut;
use super::lanes::BESIDE;
use super::pack::{self, GAP, Item, Room, Row, Rows};
use super::sheet::{SheetSet, Tile};
use crate::geom::{Extent, Length};
use crate::layout::Layout;

/// A tile before it has its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Part {
    pub(super) piece: usize,
    /// Which from the buckle end.
    pub(super) column: usize,
    /// Which from the top.
    pub(super) band: usize,
    pub(super) stretch: Extent,
    pub(super) across: Extent,
}

impl Part {
    /// Where the edges of the piece count as being: as far in from those of the tile as what
    /// stands beside a piece takes.
    pub(super) fn edges(&self) -> Extent {
        self.across.grown(-BESIDE)
    }
}

/// Tiles on sheets.
#[derive(Clone, Debug)]
pub(super) struct Arrangement {
    pub(super) cuts: Vec<Cut>,
    pub(super) parts: Vec<Part>,
    pub(super) sheets: Vec<Rows>,
}

/// What an arrangement may be asked to keep of an older one.
#[derive(Clone, Copy, Debug)]
pub(super) struct Kept<'a> {
    /// Match lines: piece and place along x.
    pub(super) lines: &'a [(usize, Length)],
    /// Sheets to be used again.
    pub(super) sheets: Option<&'a SheetSet>,
}

/// Arranges all pieces; `None` where one of them has no room to go on from join to join.
pub(super) fn arrange(
    layout: &Layout,
    room: Room,
    kept: Kept<'_>,
) -> Option<Arrangement> {
    let cuts: Option<Vec<Cut>> =
        layout.pieces.iter().map(|piece| Cut::new(piece, room)).collect();
    let mut best = shared(layout, cuts?, room, kept);
    for piece in 0..best.cuts.len() {
        let mut lines: Vec<Length> =
            kept.lines.iter().filter(|(p, _)| *p == piece).map(|(_, x)| *x).collect();
        while !lines.is_empty() {
            if let Some(cut) = best.cuts[piece].keeping(room.width, &lines) {
                let mut cuts = best.cuts.clone();
                cuts[piece] = cut;
                let found = shared(layout, cuts, room, kept);
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

/// Packs the tiles; one tile of a piece may be shortened where that saves a sheet.
fn shared(layout: &Layout, cuts: Vec<Cut>, room: Room, kept: Kept<'_>) -> Arrangement {
    let even = packed(layout, cuts, room, kept);
    if even.sheets.len() <= 1 {
        return even;
    }
    let shorter =
        even.cuts.iter().map(|c| c.shortest(room.width).unwrap_or_else(|| c.clone()));
    let short = packed(layout, shorter.collect(), room, kept);
    if short.sheets.len() >= even.sheets.len() {
        return even;
    }
    // No shorter than their rows ask for.
    let cuts = lengthened(&short, room);
    let parts = parts(layout, &cuts);
    if short.sheets.iter().all(|rows| fits(rows, &parts, room)) {
        Arrangement { cuts, parts, ..short }
    } else {
        short
    }
}

fn packed(layout: &Layout, cuts: Vec<Cut>, room: Room, kept: Kept<'_>) -> Arrangement {
    let parts = parts(layout, &cuts);
    let sheets = pack::pack(&items(&parts, kept), room);
    Arrangement { cuts, parts, sheets }
}

fn parts(layout: &Layout, cuts: &[Cut]) -> Vec<Part> {
    let mut all = Vec::new();
    for (piece, cut) in cuts.iter().enumerate() {
        let (stretches, bands) = cut.grid();
        for (band, &whole) in bands.iter().enumerate() {
            for (column, &stretch) in stretches.iter().enumerate() {
                let across = cut.shown_of(&layout.pieces[piece], stretch, whole);
                all.push(Part { piece, column, band, stretch, across });
            }
        }
    }
    all
}

fn items(parts: &[Part], kept: Kept<'_>) -> Vec<Item> {
    let sheets = kept.sheets.map(|s| s.sheets.as_slice()).unwrap_or_default();
    let lies_on = |part: &Part| {
        let same = |t: &Tile| {
            (t.piece, t.stretch, t.across) == (part.piece, part.stretch, part.across)
        };
        let sheet = sheets.iter().find(|sheet| sheet.tiles.iter().any(same));
        sheet.map(|s| s.number.saturating_sub(1))
    };
    let item = |part: &Part| Item {
        length: part.stretch.length(),
        height: part.across.length(),
        wish: lies_on(part),
    };
    parts.iter().map(item).collect()
}

/// Whether rows have room for these tiles.
fn fits(rows: &Rows, parts: &[Part], room: Room) -> bool {
    let high = |row: &Row| row.items.iter().map(|&i| parts[i].across.length()).max();
    let used = rows.iter().filter_map(high).fold(Length::ZERO, |sum, h| sum + h);
    used <= room.height && rows.iter().all(|r| free(r, parts, room) >= Length::ZERO)
}

/// What a row has left of its room.
fn free(row: &Row, parts: &[Part], room: Room) -> Length {
    let gaps = GAP * i64::try_from(row.items.len()).unwrap_or(i64::MAX) - GAP;
    row.items.iter().fold(room.width - gaps, |free, &i| free - parts[i].stretch.length())
}

/// The pieces with their short tiles as long as their rows have room for.
fn lengthened(short: &Arrangement, room: Room) -> Vec<Cut> {
    let mut cuts = short.cuts.clone();
    for row in short.sheets.iter().flatten() {
        let mut free = free(row, &short.parts, room);
        for &index in &row.items {
            let part = &short.parts[index];
            let cut = &short.cuts[part.piece];
            if cut.short != Some(part.column) {
                continue;
            }
            let least = part.stretch.length();
            let most = least + free;
            let Some(new) = cut.with_short(room.width, part.column, most) else {
                continue;
            };
            let length = new.grid().0[part.column].length();
            free -= length - least;
            cuts[part.piece] = new;
        }
    }
    cuts
}
