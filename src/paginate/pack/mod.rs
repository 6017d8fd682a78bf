//! Packs tiles onto sheets.
//!
//! Tiles lie in rows along the page's width, from the top; short tiles share a row. The aim
//! is the fewest sheets. The search goes through all choices of tiles while that takes at
//! most [`exact::STEPS`] steps: enough for a dozen tiles that all differ, and for hundreds of
//! a few sizes. Beyond that it takes the better of two first-fit packings. Among packings
//! with the fewest sheets, each tile in turn goes on the first sheet that leaves room for
//! the later ones.

mod exact;
#[cfg(test)]
mod tests;

use crate::geom::Length;
use std::cmp::Reverse;

/// Between two tiles in one row, for the scissors.
pub(super) const GAP: Length = Length::from_mm(6);
/// Steps of the search for the first sheet of each tile.
const SHEET_STEPS: usize = 5_000;
/// Steps of the search for the rows of one sheet.
const ROW_STEPS: usize = 2_000;

/// A tile as it is packed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct TileSize {
    pub(super) length: Length,
    pub(super) height: Length,
    /// The sheet on which it should lie if that costs no sheet.
    pub(super) preferred: Option<usize>,
}

/// Tiles side by side along the page's width.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct TileRow {
    /// Indices of the tiles, from the left.
    pub(super) tiles: Vec<usize>,
    pub(super) height: Length,
    /// The length of the tiles with the gaps between them.
    pub(super) used: Length,
}

impl TileRow {
    pub(super) fn new(tiles: &[usize], sizes: &[TileSize]) -> Self {
        let mut row = Self { tiles: Vec::new(), height: Length::ZERO, used: -GAP };
        for &tile in tiles {
            row.push(tile, sizes[tile]);
        }
        row
    }

    fn push(&mut self, tile: usize, size: TileSize) {
        self.tiles.push(tile);
        self.height = self.height.max(size.height);
        self.used += GAP + size.length;
    }
}

/// The rows of one sheet, from the top.
pub(super) type SheetRows = Vec<TileRow>;

/// The area of a sheet that rows may fill.
#[derive(Clone, Copy, Debug)]
pub(super) struct UsableArea {
    pub(super) width: Length,
    pub(super) height: Length,
}

impl UsableArea {
    /// Lower bound on the sheet count: total tile area divided by sheet area.
    pub(super) fn min_sheets(self, all: impl Iterator<Item = (Length, Length)>) -> usize {
        let area = |a: Length, b: Length| i128::from(a.nm()) * i128::from(b.nm());
        let total: i128 = all.map(|(length, height)| area(length, height)).sum();
        let sheet = area(self.width, self.height).max(1);
        usize::try_from((total + sheet - 1) / sheet).unwrap_or(usize::MAX)
    }

    pub(super) fn holds(self, rows: &[TileRow]) -> bool {
        total_height(rows) <= self.height && rows.iter().all(|r| r.used <= self.width)
    }
}

fn total_height(rows: &[TileRow]) -> Length {
    rows.iter().map(|r| r.height).sum()
}

/// Packs all tiles. Each must fit on a sheet alone.
pub(super) fn pack(sizes: &[TileSize], area: UsableArea) -> Vec<SheetRows> {
    let packer = Packer { sizes, area };
    let in_order: Vec<usize> = (0..sizes.len()).collect();
    let mut best = packer.first_fit(&in_order);
    if best.len() > area.min_sheets(sizes.iter().map(|s| (s.length, s.height))) {
        let other = packer
            .exact()
            .unwrap_or_else(|| packer.first_fit(&packer.tallest_first(&in_order)));
        if other.len() < best.len() {
            best = packer.spread(other.len()).unwrap_or(other);
        }
    }
    best.sort_by_key(|rows| rows.iter().flat_map(|r| &r.tiles).min().copied());
    if sizes.iter().any(|s| s.preferred.is_some()) {
        best = packer.spread(best.len()).unwrap_or(best);
    }
    // The rows of a sheet follow from its tiles alone, so that the same tiles always lie the
    // same way.
    for rows in &mut best {
        let mut tiles: Vec<usize> = rows.iter().flat_map(|r| r.tiles.clone()).collect();
        tiles.sort_unstable();
        if let Some(same) = packer.find_rows(&tiles) {
            *rows = same;
        }
        for row in &mut *rows {
            row.tiles.sort_unstable();
        }
        rows.sort_by_key(|r| r.tiles.first().copied());
    }
    best
}

struct Packer<'a> {
    sizes: &'a [TileSize],
    area: UsableArea,
}

impl Packer<'_> {
    fn tallest_first(&self, tiles: &[usize]) -> Vec<usize> {
        let mut tiles = tiles.to_vec();
        tiles.sort_by_key(|&i| Reverse((self.sizes[i].height, self.sizes[i].length)));
        tiles
    }

    fn first_fit(&self, order: &[usize]) -> Vec<SheetRows> {
        let mut sheets: Vec<SheetRows> = Vec::new();
        for &tile in order {
            if !sheets.iter_mut().any(|rows| self.add(rows, tile)) {
                sheets.push(vec![TileRow::new(&[tile], self.sizes)]);
            }
        }
        sheets
    }

    /// Finds rows for these tiles on one sheet: in order if that fits, else the tallest
    /// first, else by a search. `None` when the search finds none in its steps.
    fn find_rows(&self, tiles: &[usize]) -> Option<SheetRows> {
        let tallest_first = self.tallest_first(tiles);
        let in_order = |order: &[usize]| {
            let mut rows = SheetRows::new();
            order.iter().all(|&tile| self.add(&mut rows, tile)).then_some(rows)
        };
        in_order(tiles).or_else(|| in_order(&tallest_first)).or_else(|| {
            let mut rows = SheetRows::new();
            self.search_rows(&mut rows, &tallest_first, &mut { ROW_STEPS })
                .then_some(rows)
        })
    }

    /// Puts all of `left` on one sheet, trying every row for each.
    fn search_rows(
        &self,
        rows: &mut SheetRows,
        left: &[usize],
        steps: &mut usize,
    ) -> bool {
        let Some((&tile, left)) = left.split_first() else { return true };
        for place in 0..=rows.len() {
            if *steps == 0 {
                return false;
            }
            *steps -= 1;
            let before = rows.clone();
            if self.add_at(rows, tile, place) && self.search_rows(rows, left, steps) {
                return true;
            }
            *rows = before;
        }
        false
    }

    /// Puts all tiles on `sheets` sheets, each on its preferred sheet or the first that
    /// works. `None` when the search finds no way in its steps.
    fn spread(&self, sheets: usize) -> Option<Vec<SheetRows>> {
        let mut all: Vec<Vec<usize>> = vec![Vec::new(); sheets];
        let mut order: Vec<usize> = (0..self.sizes.len()).collect();
        // Tiles with a preferred sheet come before another takes their room.
        order.sort_by_key(|&i| self.sizes[i].preferred.is_none());
        let found = self.search_sheets(&mut all, &order, &mut { SHEET_STEPS });
        found.then(|| all.iter().filter_map(|tiles| self.find_rows(tiles)).collect())
    }

    fn search_sheets(
        &self,
        all: &mut Vec<Vec<usize>>,
        left: &[usize],
        steps: &mut usize,
    ) -> bool {
        let Some((&tile, left)) = left.split_first() else { return true };
        let preferred = self.sizes[tile].preferred.filter(|&p| p < all.len());
        let others = (0..all.len()).filter(|&s| Some(s) != preferred);
        for sheet in preferred.into_iter().chain(others) {
            if *steps == 0 {
                return false;
            }
            *steps -= 1;
            let place = all[sheet].partition_point(|&i| i < tile);
            all[sheet].insert(place, tile);
            if self.find_rows(&all[sheet]).is_some()
                && self.search_sheets(all, left, steps)
            {
                return true;
            }
            all[sheet].remove(place);
        }
        false
    }

    /// Puts a tile into a row of its own, or else beside others.
    fn add(&self, rows: &mut SheetRows, tile: usize) -> bool {
        (0..=rows.len()).any(|place| self.add_at(rows, tile, place))
    }

    /// Puts a tile into a row of its own, which is place 0, or into a row counted from 1.
    fn add_at(&self, rows: &mut SheetRows, tile: usize, place: usize) -> bool {
        let size = self.sizes[tile];
        let free = self.area.height - total_height(rows);
        let Some(at) = place.checked_sub(1) else {
            let fits = size.height <= free;
            if fits {
                rows.push(TileRow::new(&[tile], self.sizes));
            }
            return fits;
        };
        let row = &mut rows[at];
        let fits = row.used + GAP + size.length <= self.area.width
            && size.height - row.height <= free;
        if fits {
            row.push(tile, size);
        }
        fits
    }
}
